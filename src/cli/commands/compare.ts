import type { Command } from "commander";
import { compareVerdict, compareView } from "../../report/decide/compare.ts";
import { parseVariant } from "../../scenario/variants.ts";
import type { CompareResult } from "../../studies/decide/result.ts";
import { compareRows } from "../../tables/decide.ts";
import { type DecisionOptions, decide, openStudyScenario, sizeOfMany, withDecisionOptions } from "../decision.ts";
import { judge } from "../judge.ts";
import { createProgress } from "../progress.ts";

interface CompareOptions extends DecisionOptions {
  readonly with: readonly string[];
}

/** `seatspread compare`: what each of a list of changes does to the yield, on the same drawn units. */
export function compareCommand(program: Command): void {
  withDecisionOptions(
    program
      .command("compare")
      .description("changes to a scenario (materials, fits, clearance groups, methods, …) on the same drawn units")
      .argument("<scenario>", "scenario file (YAML or JSON)")
      .option(
        "--with <change>",
        'a change, "name: address=value; address=value"; may be given again',
        (text: string, list: readonly string[]) => [...list, text],
        [],
      ),
  )
    .addHelpText(
      "after",
      `
Without --with the scenario's own list \`variants\` is compared. Beyond 24 changes each rests on a quarter of the units,
unless --samples says otherwise. Writes <out>/<scenario name>/compare/.

Examples:
  seatspread compare scenarios/laminating-roller.yaml --with "clearance C4: bearings.both.clearanceGroup=C4"
  seatspread compare scenarios/laminating-roller.yaml \\
    --with "grey iron hub: seats.housing.material=grey-iron" --with "wider shim: chain.shim.length=0.100 ±0.005"
  seatspread compare scenarios/press-roller-variants.yaml --json`,
    )
    .action(async (path: string, options: CompareOptions) => {
      const source = openStudyScenario(path, options);
      const variants = options.with.length > 0 ? options.with.map(parseVariant) : source.base.variants;
      const size = sizeOfMany(variants.length, options.samples);
      const progress = createProgress(options.quiet ?? false, "variants");
      process.exitCode = await decide<CompareResult>(
        "compare",
        source.base.name,
        options,
        async () => {
          const finding = await judge("compare", path, source.base, { variants, size }, progress);
          const result: CompareResult = { ...finding, verdict: compareVerdict(finding) };
          return { result, view: compareView(result), rows: compareRows(result) };
        },
        ({ requiredYieldRatio, variants: rows }) =>
          requiredYieldRatio === null || rows.some(({ shares }) => shares.good.ratio >= requiredYieldRatio),
        progress,
      );
    });
}
