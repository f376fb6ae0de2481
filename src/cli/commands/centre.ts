import { type Command, InvalidArgumentError } from "commander";
import { centreVerdict, centreView } from "../../report/decide/centre.ts";
import { failurePrices } from "../../studies/decide/centre.ts";
import type { CentreResult } from "../../studies/decide/result.ts";
import { centreRows } from "../../tables/decide.ts";
import { parseQuantity } from "../../units/quantity.ts";
import { type DecisionOptions, decide, openStudyScenario, sizeOf, withDecisionOptions } from "../decision.ts";
import { judge } from "../judge.ts";

interface CentreOptions extends DecisionOptions {
  readonly resolution: string;
  readonly member?: string;
  readonly scrap?: number;
  readonly warranty?: number;
}

/** An amount of money, without its currency: `12`, `12.50`. */
function parseAmount(text: string): number {
  const value = Number(text);
  if (!(value >= 0 && Number.isFinite(value))) throw new InvalidArgumentError("Expected an amount such as 12.50.");
  return value;
}

/** `seatspread centre`: the nominal spacing that gives the most good units. */
export function centreCommand(program: Command): void {
  withDecisionOptions(
    program
      .command("centre")
      .description(
        "the nominal spacing that gives the most good units (or the cheapest failures), on the drawing's grid",
      )
      .argument("<scenario>", "scenario file (YAML or JSON)")
      .option("--resolution <length>", "step that the drawing's dimensions go by", "5 um")
      .option("--member <name>", "member of the chain to change (default: the shortest)")
      .option(
        "--scrap <amount>",
        "price of a unit that fails at the bench; with --warranty the cost decides",
        parseAmount,
      )
      .option("--warranty <amount>", "price of a unit that fails in service", parseAmount),
  )
    .addHelpText(
      "after",
      `
Where the scenario has costs, or with --scrap and --warranty, the nominal with the cheapest failures for a good unit is
looked for. Writes <out>/<scenario name>/centre/.

Examples:
  seatspread centre scenarios/laminating-roller.yaml
  seatspread centre scenarios/laminating-roller.yaml --member "shaft spacer" --resolution "2 um"
  seatspread centre scenarios/laminating-roller.yaml --scrap 12 --warranty 180`,
    )
    .action(async (path: string, options: CentreOptions) => {
      const { base } = openStudyScenario(path, options);
      const resolutionMm = parseQuantity(options.resolution, "length", "--resolution", {
        low: 0,
        openLow: true,
        high: 1,
      });
      const given = options.scrap !== undefined || options.warranty !== undefined;
      const known = failurePrices(base.batchPlans.costs);
      const prices = given
        ? {
            scrap: options.scrap ?? known?.scrap ?? 0,
            warranty: options.warranty ?? known?.warranty ?? 0,
            currency: known?.currency ?? "",
          }
        : known;
      process.exitCode = await decide<CentreResult>(
        "centre",
        base.name,
        options,
        async () => {
          const finding = await judge("centre", path, base, {
            resolutionMm,
            member: options.member ?? null,
            prices,
            size: sizeOf(options.samples),
          });
          const result: CentreResult = { ...finding, verdict: centreVerdict(finding) };
          return { result, view: centreView(result), rows: centreRows(result) };
        },
        ({ requiredYieldRatio, rounded }) => requiredYieldRatio === null || rounded.good.ratio >= requiredYieldRatio,
      );
    });
}
