import type { RunResult } from "../../studies/result.ts";
import { dataTable } from "../figures/figure.ts";
import { html, type Markup } from "../html.ts";
import { count, ORIGIN_NAMES, percent, points } from "../words.ts";

type Result = Omit<RunResult, "verdict">;

/** Assumed values and what the yield would be at both ends of their range. */
export function assumptionTable({ contributors, inputs }: Result): Markup {
  const assumed = inputs.filter(({ origin }) => origin === "assumption");
  return html`<section><h2>Assumptions</h2>
${
  contributors.assumptions.length === 0
    ? html`<p>${assumed.length === 0 ? "Nothing had to be assumed." : `${count(assumed.length)} inputs rest on assumptions; they are marked in the table of inputs.`}</p>`
    : html`<p>Values that were not given. The yield (good in every state) is shown with the value at either end of its range, on the same units otherwise.</p>
${dataTable(
  {
    head: ["assumed", "low end", "yield there", "high end", "yield there", "difference", "why"],
    rows: contributors.assumptions.map(({ label, source, lowEnd, highEnd }) => [
      label,
      lowEnd.value,
      percent(lowEnd.yieldRatio),
      highEnd.value,
      percent(highEnd.yieldRatio),
      points(Math.abs(highEnd.yieldRatio - lowEnd.yieldRatio)),
      source,
    ]),
    numeric: [1, 2, 3, 4, 5],
  },
  "Assumptions",
)}`
}
</section>
`;
}

/** Every value that was used and where it came from. */
export function inputTable({ inputs }: Result): Markup {
  return html`<section><h2>Inputs</h2>
${dataTable(
  {
    head: ["input and its place in the scenario", "value", "origin", "source or reason"],
    rows: inputs.map(({ label, value, origin, source, path }) => [
      html`${label}<br><code>${path}</code>`,
      value,
      origin === "assumption" ? html`<strong>${ORIGIN_NAMES[origin]}</strong>` : ORIGIN_NAMES[origin],
      source,
    ]),
    numeric: [],
  },
  "Inputs",
)}
</section>
`;
}

export function warningList({ warnings }: Result): Markup | null {
  if (warnings.length === 0) return null;
  return html`<section><h2>Warnings</h2>
<ul>${warnings.map(({ path, message }) => html`<li>${message}${path === "" ? null : html` <code>${path}</code>`}</li>`)}</ul>
</section>
`;
}
