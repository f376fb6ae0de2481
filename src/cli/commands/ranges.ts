import type { Command } from "commander";
import { rangesVerdict, rangesView } from "../../report/decide/ranges.ts";
import { parseAxis } from "../../scenario/axis.ts";
import { parseAxisList } from "../../scenario/axis-list.ts";
import type { RangesResult } from "../../studies/decide/result.ts";
import { rangesRows } from "../../tables/decide.ts";
import { type DecisionOptions, decide, openStudyScenario, sizeOfMany, withDecisionOptions } from "../decision.ts";
import { readListText } from "../files.ts";
import { judge } from "../judge.ts";
import { createProgress } from "../progress.ts";

interface RangesOptions extends DecisionOptions {
  readonly over: readonly string[];
  readonly list?: string;
}

/** `seatspread ranges`: how far each of many parameters takes the yield, one at a time. */
export function rangesCommand(program: Command): void {
  withDecisionOptions(
    program
      .command("ranges")
      .description("how far each of many parameters takes the yield, one at a time, the others as they stand")
      .argument("<scenario>", "scenario file (YAML or JSON)")
      .option(
        "--over <sweep>",
        'a parameter, "address=low..high unit/steps" or "address=one,two,three"; may be given again',
        (text: string, list: readonly string[]) => [...list, text],
        [],
      )
      .option("--list <file>", "text file with one such parameter a line; # begins a remark"),
  )
    .addHelpText(
      "after",
      `
Values are taken as by sweep: the tolerance behind a number stays unless one is given. Up to 10 000 values in all, such as
500 parameters at 20 values; beyond 24 each rests on a quarter of the units, unless --samples says otherwise.
Writes <out>/<scenario name>/ranges/.

Examples:
  seatspread ranges scenarios/laminating-roller.yaml --list scenarios/laminating-roller-ranges.txt
  seatspread ranges scenarios/laminating-roller.yaml \\
    --over "states.hot.housing=90..130 degC/5" --over "bearings.both.clearanceGroup=CN,C3,C4"`,
    )
    .action(async (path: string, options: RangesOptions) => {
      const source = openStudyScenario(path, options);
      const { list } = options;
      const parameters = [
        ...(list === undefined ? [] : parseAxisList(readListText(list), list, source)),
        ...options.over.map((text) => parseAxis(text, "--over", source)),
      ];
      const size = sizeOfMany(
        parameters.reduce((sum, { values }) => sum + values.length, 0),
        options.samples,
      );
      const progress = createProgress(options.quiet ?? false, "cells");
      const make = async () => {
        const finding = await judge("ranges", path, source.base, { parameters, size }, progress);
        const result: RangesResult = { ...finding, verdict: rangesVerdict(finding) };
        return { result, view: rangesView(result), rows: rangesRows(result) };
      };
      process.exitCode = await decide<RangesResult>("ranges", source.base.name, options, make, () => true, progress);
    });
}
