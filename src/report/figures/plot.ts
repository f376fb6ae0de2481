import * as Plot from "@observablehq/plot";
import { parseHTML } from "linkedom";
import { escapeText, type Markup, raw, withoutControls } from "../html.ts";

/** Width of a picture in px: one drawn for a page or paper, one for a telephone. */
export type Format = "wide" | "narrow";

const WIDTHS: Readonly<Record<Format, number>> = { wide: 820, narrow: 350 };

/** Draws a picture as markup. Text between tags comes out escaped by the serialiser; scenario text reaches no attribute but the name. */
export function drawPlot(options: Plot.PlotOptions, format: Format, name: string): Markup {
  const { document } = parseHTML("<!doctype html><html><body></body></html>");
  const picture = Plot.plot({
    document: document as unknown as Document,
    className: "plot",
    width: WIDTHS[format],
    style: { fontSize: "13px", background: "transparent", color: "var(--ink)" },
    ...options,
  });
  const svg = picture.tagName.toLowerCase() === "svg" ? picture : picture.querySelector("svg");
  if (svg === null) return raw("");
  for (const style of [...svg.querySelectorAll("style")]) style.remove();
  // Groups inside a picture would be read out one by one beside its name.
  for (const part of [...svg.querySelectorAll("[aria-label]")]) part.removeAttribute("aria-label");
  for (const part of [...svg.querySelectorAll("[aria-description]")]) part.removeAttribute("aria-description");
  // The serialiser leaves an ampersand in an attribute as it is; the name is put in by our own escape.
  const start = `<svg role="img" aria-label="${escapeText(name)}" `;
  return raw(withoutControls(svg.outerHTML).replace("<svg ", () => start));
}
