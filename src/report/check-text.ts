import type { ResolvedScenario } from "../scenario/types.ts";
import type { NominalResult } from "../studies/result.ts";
import { fitRows, fitTable, hung, wrapText } from "./plain-table.ts";
import { isSetByDevice, micrometres, newtons, ORIGIN_NAMES, OUTCOME_NAMES } from "./words.ts";

/** What `check` prints: every value with its origin, the offset's limits, onset and window at nominal. */
export function checkText(
  scenario: ResolvedScenario,
  nominal: NominalResult,
  options: { readonly width: number },
): string {
  const wrapped = (text: string) => wrapText(text, options.width);
  const inputs = scenario.inputs.flatMap((input) => {
    const head = hung(`${input.path} = ${input.value} [${ORIGIN_NAMES[input.origin]}]`, options.width, "  ");
    return [head, wrapText(input.source, options.width, "      ")];
  });
  const drawn = scenario.variables.filter((variable) => variable.distribution.kind !== "constant").length;
  const states = fitTable(
    [
      ["state", "offset", "onset", "sum of plays", "window from", "to", "bind at", "preload", "outcome"],
      ...nominal.states.map((state) => [
        state.state,
        micrometres(state.offsetMm),
        micrometres(state.onsetMm),
        micrometres(state.sumOfPlaysMm),
        micrometres(state.lowMm),
        micrometres(state.highMm),
        micrometres(state.bindMm),
        newtons(state.preloadN),
        OUTCOME_NAMES[state.outcome],
      ]),
    ],
    [1, 2, 3, 4, 5, 6, 7],
    options.width,
  );
  const { low: worstLow, high: worstHigh } = nominal.worstCaseMm;
  const { low: rootLow, high: rootHigh } = nominal.rootSumSquareMm;
  const bearings = nominal.states
    .filter((_, index) => index === 0)
    .map((state) =>
      wrapped(
        `Axial play mounted, ${state.state}: bearing a ${micrometres(state.axialPlayMm.a)}, bearing b ${micrometres(state.axialPlayMm.b)}, end to end.`,
      ),
    );
  return `${wrapped(scenario.title)}
${wrapped(`Every value that will be used (${drawn} are drawn):`)}
${inputs.join("\n")}

${wrapped(`${isSetByDevice(scenario.method.kind) ? "Offset as set on the bench, at 20 °C" : "Offset from the drawn dimensions at 20 °C"}: ${micrometres(nominal.machinedOffsetMm)}`)}${isSetByDevice(scenario.method.kind) ? "\nand as the parts alone would have it:" : ""}
${fitRows(
  [
    ["  worst case", `${micrometres(worstLow)} to ${micrometres(worstHigh)}`],
    ["  root sum square", `${micrometres(rootLow)} to ${micrometres(rootHigh)}`],
  ],
  [],
  options.width,
)}

With every quantity at its mean:
${states}
${bearings.join("\n")}
${wrapped("A pair starts to carry at the onset, half the sum of the two end-to-end plays. Shop practice often takes the whole sum, which stands beside it; a bearing set to that is loaded well past its onset.")}
`;
}
