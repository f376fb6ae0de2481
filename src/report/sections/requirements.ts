import { limitWords } from "../../scenario/requirements.ts";
import type { QuantitySummary, RunResult } from "../../studies/result.ts";
import { dataTable } from "../figures/figure.ts";
import { html, type Markup } from "../html.ts";
import { quantileOf } from "../quantile.ts";
import { capital, count, micrometres, shareInterval, shareValue, stateLabel } from "../words.ts";

type Result = Omit<RunResult, "verdict">;

/** What good units must hold beside the window, and how a gap moves. Null where nothing is required. */
export function requirementTables(result: Result): Markup | null {
  const { requirements, states } = result;
  const gaps = states.filter((state) => state.gapMm !== null);
  if (requirements.length === 0 && gaps.length === 0) return null;
  const first = requirements.some(({ isExtended }) => isExtended)
    ? ` Those marked * were looked at on the first ${count(result.extended?.samples ?? 0)} units, which decide the yield; what costs yield is told for the window and the other requirements alone.`
    : "";
  return html`<section><h2>Requirements</h2>
${
  requirements.length === 0
    ? null
    : html`<p>A unit is good in a state if its preload is in the window and it meets every requirement there.${first}</p>
${dataTable(
  {
    head: ["requirement", "must be", "state", "units that meet it", "95 % interval"],
    rows: requirements.flatMap(({ quantity, low, high, unit, isExtended, states: held }) =>
      held.map(({ state, share }) => [
        `${capital(quantity)}${isExtended ? " *" : ""}`,
        limitWords(low ?? Number.NEGATIVE_INFINITY, high ?? Number.POSITIVE_INFINITY, unit),
        stateLabel(states, state),
        shareValue(share),
        shareInterval(share),
      ]),
    ),
    numeric: [3, 4],
  },
  "Requirements",
)}`
}
${gaps.length === 0 ? null : gapTable(gaps)}
</section>
`;
}

function gapTable(states: Result["states"]): Markup {
  const row = (label: string, summary: QuantitySummary | null) =>
    summary === null ? [] : [label, ...[0.01, 0.5, 0.99].map((part) => micrometres(quantileOf(summary, part)))];
  return html`${dataTable(
    {
      head: ["gap between shaft and housing", "1 %", "median", "99 %"],
      rows: states.flatMap((state) => [
        row(`${state.label}: gap`, state.gapMm),
        ...(state.isBench ? [] : [row(`${state.label}: moved from the bench`, state.movementMm)]),
      ]),
    },
    "Gap",
  )}
<p>Over the ${count(states[0]?.gapMm?.count ?? 0)} units kept for the figures. The shaft is where the bearing that locates it puts it.</p>`;
}
