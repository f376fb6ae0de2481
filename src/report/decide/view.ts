import pc from "picocolors";
import type { DecisionResult } from "../../studies/decide/result.ts";
import { dataTable, type Table } from "../figures/figure.ts";
import { footOf } from "../foot.ts";
import { html, type Markup } from "../html.ts";
import { type KeyCell, keyCells } from "../key-cells.ts";
import { page } from "../page.ts";
import { fitTable, plainText, wrapText } from "../plain-table.ts";
import { provenanceTable } from "../sections/provenance.ts";
import type { SummaryOptions } from "../summary-text.ts";
import { clip, count } from "../words.ts";

/** A table with its heading and a remark. */
export interface ViewTable {
  readonly title: string;
  readonly table: Omit<Table, "rows"> & { readonly rows: readonly (readonly string[])[] };
  readonly remark?: string;
  /** Also printed on the terminal. */
  readonly isMain?: boolean;
}

/** Rows and columns of a table that a terminal shows. */
const MOST_LINES = 40;
const MOST_COLUMNS = 9;

/** How a decision is shown, on a page and on a terminal. */
export interface DecisionView {
  readonly heading: string;
  readonly cells: readonly KeyCell[];
  readonly figures: readonly Markup[];
  readonly tables: readonly ViewTable[];
  /** How it was found, a sentence each. */
  readonly method: readonly string[];
}

/** The page of a decision: recommendation, key figures, pictures, tables, method. */
export function decisionPage(result: DecisionResult, view: DecisionView): string {
  const { provenance, basis } = result;
  return page({
    title: result.title,
    description: view.heading,
    maker: `${provenance.program} ${provenance.version} · ${result.study}`,
    verdict: result.verdict,
    body: [
      view.cells.length === 0 ? null : keyCells(view.cells),
      view.figures.length === 0
        ? null
        : html`<section class="figures"><h2>In pictures</h2>
${view.figures}</section>
`,
      view.tables.map(
        ({ title, table, remark }) => html`<section><h2>${title}</h2>
${dataTable(table, title)}${remark === undefined ? null : html`<p>${remark}</p>`}</section>
`,
      ),
      html`<section><h2>Method</h2>
${[...view.method, basisWords(result)].map((sentence) => html`<p>${sentence}</p>`)}
${
  result.warnings.length === 0
    ? null
    : html`<ul>${result.warnings.map(({ path, message }) => html`<li>${path === "" ? message : `${path}: ${message}`}</li>`)}</ul>`
}
${provenanceTable(provenance, [
  ["points", count(basis.replicates * basis.pointsPerReplicate)],
  ["units drawn plainly", count(basis.samples)],
])}
<p>A result is a probability computed from the inputs given, no better than they are. It does not replace standards, local codes, the bearing supplier's advice or licensed engineering practice.</p>
</section>
`,
    ],
    foot: footOf(
      provenance,
      `${count(basis.replicates * basis.pointsPerReplicate)} points or ${count(basis.samples)} units`,
    ),
  }).text;
}

/** What the numbers rest on. */
function basisWords({ basis }: DecisionResult): string {
  const { replicates, pointsPerReplicate, samples } = basis;
  return `Where the acceptance windows decide: ${count(replicates)} independent scrambles of ${count(pointsPerReplicate)} Sobol' points each, the offset's own spread integrated in closed form, intervals by Student's t over the scrambles. Elsewhere: ${count(samples)} units drawn plainly. The same seed draws every quantity that two variants share alike, so that differences are taken unit by unit and are surer than the yields themselves. All intervals are 95 % and tell the error of the simulation alone, not that of the inputs.`;
}

/** The decision for a terminal: recommendation, then the main tables. */
export function decisionText(result: DecisionResult, view: DecisionView, { color, width }: SummaryOptions): string {
  const colors = pc.createColors(color);
  const room = Math.max(24, Math.min(width, 100));
  const blocks = [
    colors.bold(wrapText(`${result.title}: ${view.heading}`, room)),
    ...result.verdict.map((paragraph) => wrapText(paragraph, room)),
    ...view.tables
      .filter(({ isMain }) => isMain === true)
      .map(({ table }) => {
        const left = [
          [table.rows.length - MOST_LINES, "rows"],
          [table.head.length - MOST_COLUMNS, "columns"],
        ] as const;
        const fitted = fitTable(
          [table.head, ...table.rows.slice(0, MOST_LINES)].map((row) =>
            row
              .slice(0, MOST_COLUMNS)
              .map((cell, place) => (place === 0 ? clip(plainText(cell), 46) : plainText(cell))),
          ),
          table.numeric ?? table.head.map((_, place) => place).slice(1),
          width,
          colors.dim,
        );
        const more = left.filter(([number]) => number > 0).map(([number, what]) => `${count(number)} more ${what}`);
        return more.length > 0 ? `${fitted}\n${colors.dim(`${more.join(" and ")} stand in the report`)}` : fitted;
      }),
  ];
  return `${blocks.join("\n\n")}\n`;
}
