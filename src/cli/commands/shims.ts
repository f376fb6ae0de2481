import { type Command, Option } from "commander";
import { shimsVerdict, shimsView } from "../../report/decide/shims.ts";
import type { ShimsResult } from "../../studies/decide/result.ts";
import { USUAL_STEPS_MM } from "../../studies/decide/shims.ts";
import { shimsRows } from "../../tables/shims.ts";
import { parseQuantity } from "../../units/quantity.ts";
import { type DecisionOptions, decide, openStudyScenario, sizeOf, withDecisionOptions } from "../decision.ts";
import { judge } from "../judge.ts";
import { parseSamples } from "../options.ts";
import { parseYield } from "./sweep.ts";

interface ShimsOptions extends DecisionOptions {
  readonly measure?: "dimensions" | "play";
  readonly step?: string;
  readonly error?: string;
  readonly batch?: number;
  readonly service: number;
  readonly member?: string;
}

/** `seatspread shims`: which shims to stock for a batch. */
export function shimsCommand(program: Command): void {
  withDecisionOptions(
    program
      .command("shims")
      .description("shim plan: what to measure, step and range of the stock, how many of each thickness for a batch")
      .argument("<scenario>", "scenario file (YAML or JSON)")
      .addOption(
        new Option("--measure <what>", "what the shim of a unit is chosen by (default: both are tried)").choices([
          "dimensions",
          "play",
        ]),
      )
      .option("--step <length>", 'step of the stock, such as "10 um" (default: the usual ones are tried)')
      .option("--error <quantity>", 'error of the measurement, such as "0 ±3 um" (default: the scenario\'s, or that)')
      .option("--batch <units>", "units to be served (default: the scenario's batch)", parseSamples)
      .option("--service <share>", "chance with which no thickness runs out", parseYield, 0.95)
      .option("--member <name>", "the member of the chain that the shim is (default: the shortest)"),
  )
    .addHelpText(
      "after",
      `
Writes <out>/<scenario name>/shims/.

Examples:
  seatspread shims scenarios/laminating-roller.yaml --batch 400
  seatspread shims scenarios/press-roller-variants.yaml --measure play --step "10 um" --error "0 ±2 um"
  seatspread shims scenarios/feed-roller-tolerances.yaml --service 99%`,
    )
    .action(async (path: string, options: ShimsOptions) => {
      const source = openStudyScenario(path, options);
      const stepsMm =
        options.step === undefined
          ? USUAL_STEPS_MM
          : [parseQuantity(options.step, "length", "--step", { low: 0, openLow: true, high: 5 })];
      process.exitCode = await decide<ShimsResult>(
        "shims",
        source.base.name,
        options,
        async () => {
          const finding = await judge("shims", path, source.base, {
            measure: options.measure ?? null,
            stepsMm,
            error: options.error ?? null,
            batchSize: options.batch ?? source.base.batchSize,
            serviceRatio: options.service,
            member: options.member ?? null,
            size: sizeOf(options.samples),
          });
          const result: ShimsResult = { ...finding, verdict: shimsVerdict(finding) };
          return { result, view: shimsView(result), rows: shimsRows(result) };
        },
        ({ requiredYieldRatio, chosen }) => requiredYieldRatio === null || chosen.good.ratio >= requiredYieldRatio,
      );
    });
}
