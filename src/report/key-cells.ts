import { type Content, html, type Markup } from "./html.ts";

export interface KeyCell {
  readonly label: string;
  readonly value: Content;
  readonly note: string;
  readonly kind?: "main" | "callout" | "";
}

/** Key figures of a study, set like the title block of a drawing. */
export function keyCells(cells: readonly KeyCell[]): Markup {
  return html`<section class="block" aria-label="Key figures">
${cells.map(
  ({ label, value, note, kind = "" }) =>
    html`<div class="cell ${kind}"><span class="label">${label}</span> <span class="value">${value}</span> ${note === "" ? null : html`<span class="note">${note}</span>`}</div>`,
)}
</section>
`;
}
