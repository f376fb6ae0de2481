import { type Content, html, type Markup } from "../html.ts";
import { capital } from "../words.ts";
import type { Format } from "./plot.ts";

export interface FigureParts {
  readonly title: string;
  /** Draws the picture; the name is read out in its place. */
  readonly draw: (format: Format, name: string) => Markup;
  /** What the picture shows, in a sentence with its figures. */
  readonly sentence: string;
  /** How many units are drawn and how many lie outside the axis. */
  readonly caption: Content;
  readonly legend?: readonly { readonly sample: Markup; readonly words: string }[];
  readonly table?: Table;
}

export interface Table {
  readonly head: readonly string[];
  /** The first cell heads its row. */
  readonly rows: readonly (readonly Content[])[];
  /** Columns of figures, to be set to the right. */
  readonly numeric?: readonly number[];
}

/** A picture in two formats (only one is shown), its legend, caption and the same as a table. */
export function figure(parts: FigureParts): Markup {
  const name = `${parts.title}. ${parts.sentence}`;
  const legend =
    parts.legend === undefined
      ? null
      : html`<ul class="legend">${parts.legend.map(({ sample, words }) => html`<li>${sample} ${words}</li>`)}</ul>`;
  return html`<figure>
<h3>${parts.title}</h3>
${legend}
<div class="wide">${parts.draw("wide", name)}</div>
<div class="narrow">${parts.draw("narrow", name)}</div>
<figcaption><p>${parts.sentence}</p><p class="drawn">${parts.caption}</p></figcaption>
${parts.table === undefined ? null : html`<details><summary>The same as a table</summary>${dataTable(parts.table, parts.title)}</details>`}
</figure>
`;
}

/** Tables longer than this scroll under their head. */
const TALL_ROWS = 40;

/** A table in a box of its own that scrolls where the page is narrow, or the table long. */
export function dataTable(table: Table, label: string): Markup {
  const isNumeric = (index: number) => table.numeric?.includes(index) ?? index > 0;
  const kind = (index: number) => (isNumeric(index) ? "number" : "text");
  const box = table.rows.length > TALL_ROWS ? "scroll tall" : "scroll";
  return html`<div class="${box}" role="region" tabindex="0" aria-label="${capital(label)}"><table>
<thead><tr>${table.head.map((cell, index) => html`<th scope="col" class="${kind(index)}">${cell}</th>`)}</tr></thead>
<tbody>${table.rows.map(
    (row) => html`<tr>${row.map((cell, index) =>
      index === 0
        ? html`<th scope="row" class="${kind(index)}">${cell}</th>`
        : html`<td class="${kind(index)}">${cell}</td>`,
    )}</tr>
`,
  )}</tbody></table></div>`;
}
