import type { RunResult } from "../../studies/result.ts";
import { dataTable } from "../figures/figure.ts";
import { html, type Markup } from "../html.ts";
import { quantileOf } from "../quantile.ts";
import { capital, celsius, count, decimal, shareValue, significant, stateLabel } from "../words.ts";

type Result = Omit<RunResult, "verdict">;

/** Friction heat, and where the batch begins to run away. Null where temperatures were given. */
export function heatSection(result: Result): Markup | null {
  if (result.runaway.length === 0) return null;
  return html`<section><h2>Heat balance</h2>
<p>The temperatures of these states follow from a steady balance of heat in which the friction of the bearings under their preload takes part. A pair that makes more heat the warmer it gets, faster than the heat can leave, has no balance short of binding: it is counted as binding, by thermal runaway.</p>
${dataTable(
  {
    head: ["friction heat of both bearings", "5 %", "median", "95 %"],
    rows: result.states.flatMap((state) =>
      state.frictionHeatW === null
        ? []
        : [[state.label, ...[0.05, 0.5, 0.95].map((part) => watts(quantileOf(state.frictionHeatW as never, part)))]],
    ),
  },
  "Friction heat",
)}
${result.runaway.map(
  (run) => html`<h3>${capital(stateLabel(result.states, run.state))}: where units begin to run away</h3>
${dataTable(
  {
    head: ["mean speed", "units that run away"],
    rows: run.bySpeed.map(({ speedPerMin, share }) => [`${decimal(speedPerMin, 0)} 1/min`, shareValue(share)]),
  },
  `Thermal runaway by speed, ${run.state}`,
)}
${dataTable(
  {
    head: ["mean surroundings", "mean housing of units at rest", "units that run away"],
    rows: run.byAmbient.map(({ ambientC, housingC, share }) => [
      celsius(ambientC),
      celsius(housingC),
      shareValue(share),
    ]),
  },
  `Thermal runaway by surroundings, ${run.state}`,
)}
<p>On the first ${count(run.samples)} units, everything else as drawn.</p>`,
)}
</section>
`;
}

function watts(value: number): string {
  return Number.isFinite(value) ? `${significant(value, 3)}\u00a0W` : "–";
}
