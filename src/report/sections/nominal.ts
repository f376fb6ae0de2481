import type { RunResult } from "../../studies/result.ts";
import { dataTable } from "../figures/figure.ts";
import { html, type Markup } from "../html.ts";
import { decimal, isSetByDevice, micrometres, newtons, OUTCOME_NAMES, stateLabel } from "../words.ts";

type Result = Omit<RunResult, "verdict">;

/** The pair at nominal values, with both figures that are taken for the onset. */
export function nominalTable(result: Result): Markup {
  const { nominal } = result;
  const degrees = (angleRad: number) => `${decimal((angleRad * 180) / Math.PI, 1)}°`;
  return html`<section><h2>At nominal values</h2>
<p>Every quantity at its nominal or median value, nothing drawn. ${isSetByDevice(result.method) ? "The offset as set is" : "The offset as drawn is"} ${micrometres(nominal.machinedOffsetMm)}; ${isSetByDevice(result.method) ? "as the parts alone would have it, it would by worst case lie" : "by worst case it lies"} from ${micrometres(nominal.worstCaseMm.low)} to ${micrometres(nominal.worstCaseMm.high)}, by root sum of squares from ${micrometres(nominal.rootSumSquareMm.low)} to ${micrometres(nominal.rootSumSquareMm.high)}.</p>
${dataTable(
  {
    head: [
      "state",
      "offset",
      "pair starts to carry",
      "sum of plays (shop rule)",
      "window",
      "binds from",
      "preload",
      "outcome",
    ],
    rows: nominal.states.map((state) => [
      stateLabel(result.states, state.state),
      micrometres(state.offsetMm),
      micrometres(state.onsetMm),
      micrometres(state.sumOfPlaysMm),
      `${micrometres(state.lowMm)} to ${micrometres(state.highMm)}`,
      micrometres(state.bindMm),
      newtons(state.preloadN),
      OUTCOME_NAMES[state.outcome],
    ]),
    numeric: [1, 2, 3, 4, 5, 6],
  },
  "Nominal values",
)}
<p>The pair starts to carry at half the sum of the two axial plays, because play is measured from end to end and a bearing starts to carry from its middle. Shop practice often takes the whole sum. Set to the sum, a small bearing is far past its window: use the column “pair starts to carry”.</p>
${dataTable(
  {
    head: ["state", "clearance a", "clearance b", "axial play a", "axial play b", "contact angle a", "contact angle b"],
    rows: nominal.states.map((state) => [
      stateLabel(result.states, state.state),
      micrometres(state.clearanceMm.a),
      micrometres(state.clearanceMm.b),
      micrometres(state.axialPlayMm.a),
      micrometres(state.axialPlayMm.b),
      degrees(state.contactAngleRad.a),
      degrees(state.contactAngleRad.b),
    ]),
  },
  "Nominal bearings",
)}
</section>
`;
}
