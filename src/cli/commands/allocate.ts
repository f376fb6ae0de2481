import type { Command } from "commander";
import { InputError } from "../../errors.ts";
import { allocateVerdict, allocateView } from "../../report/decide/allocate.ts";
import type { AllocateResult } from "../../studies/decide/result.ts";
import { allocateRows } from "../../tables/allocate.ts";
import { parseQuantity } from "../../units/quantity.ts";
import { type DecisionOptions, decide, openStudyScenario, sizeOf, withDecisionOptions } from "../decision.ts";
import { judge } from "../judge.ts";
import { parseYield } from "./sweep.ts";

interface AllocateOptions extends DecisionOptions {
  readonly yield?: number;
  readonly step: string;
  readonly grades?: boolean;
  readonly keepNominal?: boolean;
  readonly member?: string;
  readonly resolution: string;
}

/** `seatspread allocate`: the cheapest tolerances that reach a yield. */
export function allocateCommand(program: Command): void {
  withDecisionOptions(
    program
      .command("allocate")
      .description("the widest, cheapest tolerances of the spacings that reach a yield, or what else would help")
      .argument("<scenario>", "scenario file (YAML or JSON), with toleranceCosts where prices are known")
      .option(
        "--yield <share>",
        "yield to reach in all states together (default: the scenario's requiredYield)",
        parseYield,
      )
      .option("--step <length>", "step of tolerances on the drawing (the ± value)", "1 um")
      .option("--grades", "take the tolerances from the grades of ISO 286-1 instead")
      .option("--keep-nominal", "leave the nominal spacing as drawn")
      .option("--member <name>", "member whose nominal may move (default: the shortest)")
      .option("--resolution <length>", "step of nominal dimensions on the drawing", "1 um"),
  )
    .addHelpText(
      "after",
      `
Prices stand in the scenario, per member: toleranceCosts: { chain: { <member>: { reciprocal: { a: 0.4, b: 6 } } } } is the
price 0.4 + 6/t with ±t in micrometres; reciprocalSquared, power, exponential or a table of processes will do as well.
Writes <out>/<scenario name>/allocate/. Exit code 1 where no tolerances reach the yield.

Examples:
  seatspread allocate scenarios/feed-roller-tolerances.yaml --yield 97%
  seatspread allocate scenarios/press-roller-variants.yaml --yield 90% --grades
  seatspread allocate scenarios/laminating-roller.yaml --yield 95%`,
    )
    .action(async (path: string, options: AllocateOptions) => {
      const source = openStudyScenario(path, options);
      const targetRatio = options.yield ?? source.base.requiredYieldRatio;
      if (targetRatio === null) {
        throw new InputError({
          code: "missing",
          path: "--yield",
          expected: "a yield to reach, such as --yield 95%, or requiredYield in the scenario",
          got: "neither",
        });
      }
      const length = (name: "step" | "resolution") =>
        parseQuantity(options[name], "length", `--${name}`, { low: 0, openLow: true, high: 1 });
      const stepMm = length("step");
      process.exitCode = await decide<AllocateResult>(
        "allocate",
        source.base.name,
        options,
        async () => {
          const finding = await judge("allocate", path, source.base, {
            targetRatio,
            grid: options.grades ? { kind: "grades" } : { kind: "step", stepMm },
            resolutionMm: length("resolution"),
            movesNominal: !(options.keepNominal ?? false),
            member: options.member ?? null,
            size: sizeOf(options.samples),
          });
          const result: AllocateResult = { ...finding, verdict: allocateVerdict(finding) };
          return { result, view: allocateView(result), rows: allocateRows(result) };
        },
        ({ isReachable }) => isReachable,
      );
    });
}
