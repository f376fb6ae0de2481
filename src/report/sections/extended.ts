import type { RunResult } from "../../studies/result.ts";
import { dataTable } from "../figures/figure.ts";
import { rangeFigures } from "../figures/ranges.ts";
import { html, type Markup } from "../html.ts";
import { quantileOf } from "../quantile.ts";
import { capital, count, quantity, shareInterval, shareText, shareValue, stateLabel } from "../words.ts";

type Result = Omit<RunResult, "verdict">;

/** Stiffness, life, torque and the like. Null where they were not asked for. */
export function extendedSection(result: Result): Markup | null {
  const { extended } = result;
  if (extended === null) return null;
  const truncated = extended.states.filter((state) => state.truncated.count > 0);
  return html`<section class="figures"><h2>Stiffness, movement, torque and life</h2>
<p>The first ${count(extended.samples)} units as rigid shafts on two rows of balls in five degrees of freedom, under the external loads of each state: quasi-static, without centrifugal and gyroscopic loads of the balls. Of these units ${shareValue(extended.goodInEveryState)} are good in every state, all requirements counted (95 %: ${shareInterval(extended.goodInEveryState)}). Lives are those of both bearings together, 90 % surviving; beyond 10⁹ h they are cut.</p>
${rangeFigures(result)}
${
  truncated.length === 0
    ? html`<p>No contact ellipse reaches the edge of its groove.</p>`
    : html`<p>A contact ellipse is cut off by the edge of its groove, where pressure rises above the Hertz value: ${truncated.map((state, index) => `${index === 0 ? "" : "; "}${stateLabel(result.states, state.state)} in ${shareText(state.truncated)} of the units`)}.</p>`
}
${extended.states.map(
  ({ state, quantities }) => html`<h3>${capital(stateLabel(result.states, state))}</h3>
${dataTable(
  {
    head: ["quantity", "1 %", "5 %", "median", "95 %", "99 %"],
    rows: quantities.map(({ label, summary }) => [
      capital(label),
      ...[0.01, 0.05, 0.5, 0.95, 0.99].map((part) => quantity(quantileOf(summary, part), summary.unit)),
    ]),
  },
  `Stiffness, movement, torque and life, ${stateLabel(result.states, state)}`,
)}`,
)}
</section>
`;
}
