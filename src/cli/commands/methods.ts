import { type Command, InvalidArgumentError } from "commander";
import { InputError } from "../../errors.ts";
import { methodsVerdict, methodsView } from "../../report/decide/methods.ts";
import { METHODS_SIZE } from "../../studies/decide/assess.ts";
import type { MethodsResult } from "../../studies/decide/result.ts";
import { methodsRows } from "../../tables/methods.ts";
import { type DecisionOptions, decide, openStudyScenario, sizeOf, withDecisionOptions } from "../decision.ts";
import { judge } from "../judge.ts";

interface MethodsOptions extends DecisionOptions {
  readonly groups: readonly number[];
  readonly price: Readonly<Record<string, number>>;
}

function parseGroups(text: string): number[] {
  const groups = text.split(",").map(Number);
  if (groups.some((value) => !(Number.isInteger(value) && value >= 2 && value <= 50)) || groups.length > 6) {
    throw new InvalidArgumentError("Expected up to six whole numbers from 2 to 50, such as 2,3,5.");
  }
  return groups;
}

function addPrice(text: string, prices: Readonly<Record<string, number>>): Record<string, number> {
  const match = /^(.+?)\s*=\s*([0-9.]+)$/.exec(text.trim());
  if (match === null || !Number.isFinite(Number(match[2]))) {
    throw new InvalidArgumentError('Expected a method and its price a unit, such as "spring=2.40".');
  }
  return { ...prices, [match[1]]: Number(match[2]) };
}

/** `seatspread methods`: ways of setting the preload, on the same drawn units. */
export function methodsCommand(program: Command): void {
  withDecisionOptions(
    program
      .command("methods")
      .description(
        "ways of setting the preload on the same units: as machined, sorted bearings, shims, adjuster, spring",
      )
      .argument("<scenario>", "scenario file (YAML or JSON)")
      .option("--groups <counts>", "numbers of groups that bearings are sorted into", parseGroups, [2, 3, 5])
      .option(
        "--price <method=amount>",
        "what a method costs more a unit, by its name in the table; may be given again",
        addPrice,
        {},
      ),
  )
    .addHelpText(
      "after",
      `
Prices of scrap and warranty stand under costs in the scenario. Writes <out>/<scenario name>/methods/.

Examples:
  seatspread methods scenarios/laminating-roller.yaml
  seatspread methods scenarios/press-roller-variants.yaml --groups 2,4 --price "spring=2.40" --price "adjuster=3.10"`,
    )
    .action(async (path: string, options: MethodsOptions) => {
      const source = openStudyScenario(path, options);
      process.exitCode = await decide<MethodsResult>(
        "methods",
        source.base.name,
        options,
        async () => {
          const finding = await judge("methods", path, source.base, {
            groups: options.groups,
            prices: options.price,
            size: sizeOf(options.samples, METHODS_SIZE),
          });
          const names = finding.methods.map(({ name }) => name);
          const unknown = Object.keys(options.price).find((name) => !names.includes(name));
          if (unknown !== undefined) {
            throw new InputError({
              code: "unknown-name",
              path: "--price",
              expected: `one of ${names.join("; ")}`,
              got: unknown,
            });
          }
          const result: MethodsResult = { ...finding, verdict: methodsVerdict(finding) };
          return { result, view: methodsView(result), rows: methodsRows(result) };
        },
        ({ requiredYieldRatio, methods }) =>
          requiredYieldRatio === null || methods.some(({ shares }) => shares.good.ratio >= requiredYieldRatio),
      );
    });
}
