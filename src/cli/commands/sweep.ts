import { type Command, InvalidArgumentError } from "commander";
import { sweepVerdict, sweepView } from "../../report/decide/sweep.ts";
import { parseAxis } from "../../scenario/axis.ts";
import type { SweepResult } from "../../studies/decide/result.ts";
import { sweepRows } from "../../tables/decide.ts";
import { type DecisionOptions, decide, openStudyScenario, sizeOfMany, withDecisionOptions } from "../decision.ts";
import { judge } from "../judge.ts";
import { createProgress } from "../progress.ts";

interface SweepOptions extends DecisionOptions {
  readonly over: string;
  readonly and?: string;
  readonly target?: number;
}

/** A yield such as `95%` or `0.95`. */
export function parseYield(text: string): number {
  const match = /^\s*([0-9.]+)\s*(%?)\s*$/.exec(text);
  const value = match === null ? Number.NaN : Number(match[1]) / (match[2] === "%" ? 100 : 1);
  if (!(value > 0 && value < 1)) throw new InvalidArgumentError("Expected a yield such as 95% or 0.95.");
  return value;
}

/** `seatspread sweep`: the yield over one or two parameters. */
export function sweepCommand(program: Command): void {
  withDecisionOptions(
    program
      .command("sweep")
      .description("yield over one or two parameters: curves, a map, and where it passes a target")
      .argument("<scenario>", "scenario file (YAML or JSON)")
      .requiredOption("--over <sweep>", 'first parameter, "address=low..high unit/steps" or "address=one,two,three"')
      .option("--and <sweep>", "second parameter, one curve for each of its values")
      .option(
        "--target <yield>",
        "yield whose crossing is looked for (default: the scenario's requiredYield)",
        parseYield,
      ),
  )
    .addHelpText(
      "after",
      `
A swept number takes the place of the nominal; a tolerance that stands behind it in the scenario stays, unless the sweep
gives one of its own ("60..140 ±2 degC/9"; ±0 for none). Beyond 24 cells each rests on a quarter of the units, unless
--samples says otherwise. Writes <out>/<scenario name>/sweep/.

Examples:
  seatspread sweep scenarios/laminating-roller.yaml --over "states.hot.housing=60..140 degC/9" --target 50%
  seatspread sweep scenarios/laminating-roller.yaml --over "states.hot.housing=60..140 degC/20" \\
    --and "seats.housing.material=aluminium-6061,grey-iron,ductile-iron"`,
    )
    .action(async (path: string, options: SweepOptions) => {
      const source = openStudyScenario(path, options);
      const over = parseAxis(options.over, "--over", source);
      const and = options.and === undefined ? null : parseAxis(options.and, "--and", source);
      const size = sizeOfMany(over.values.length * (and?.values.length ?? 1), options.samples);
      const progress = createProgress(options.quiet ?? false, "cells");
      const targetRatio = options.target ?? source.base.requiredYieldRatio;
      const make = async () => {
        const finding = await judge("sweep", path, source.base, { over, and, targetRatio, size }, progress);
        const result: SweepResult = { ...finding, verdict: sweepVerdict(finding) };
        return { result, view: sweepView(result), rows: sweepRows(result) };
      };
      process.exitCode = await decide<SweepResult>("sweep", source.base.name, options, make, () => true, progress);
    });
}
