import type { ResolvedInput } from "../../scenario/types.ts";
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

/** An input, or the same input of both bearings. */
interface Line {
  readonly label: string;
  readonly input: ResolvedInput;
  readonly paths: readonly string[];
}

/** Says what is alike for both bearings once. */
export function alikeLines(inputs: readonly ResolvedInput[]): Line[] {
  const taken = new Set<ResolvedInput>();
  return inputs.flatMap((input) => {
    if (taken.has(input)) return [];
    const twin = inputs.find((other) => other !== input && !taken.has(other) && isTwin(input, other));
    if (twin === undefined) return [{ label: input.label, input, paths: [input.path] }];
    taken.add(twin);
    return [{ label: input.label.replace(/bearing a\b/, "bearings a and b"), input, paths: [input.path, twin.path] }];
  });
}

function isTwin(a: ResolvedInput, b: ResolvedInput): boolean {
  return (
    /bearing a\b/.test(a.label) &&
    a.label.replace(/bearing a\b/, "bearing b") === b.label &&
    a.value === b.value &&
    a.origin === b.origin &&
    a.source === b.source
  );
}

/** Every value that was used and where it came from. */
export function inputTable({ inputs }: Result): Markup {
  return html`<section><h2>Inputs</h2>
${dataTable(
  {
    head: ["input and its place in the scenario", "value", "origin", "source or reason"],
    rows: alikeLines(inputs).map(({ label, input, paths }) => [
      html`${label}${paths.map((path) => html`<br><code>${path}</code>`)}`,
      input.value,
      input.origin === "assumption" ? html`<strong>${ORIGIN_NAMES[input.origin]}</strong>` : ORIGIN_NAMES[input.origin],
      input.source,
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
