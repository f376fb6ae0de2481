import type { PlotOptions } from "@observablehq/plot";
import type { Format } from "../figures/plot.ts";
import { clip } from "../words.ts";

/**
 * Layout of a picture with one bar a row and the row's name before it; keys of the rows are their places, from "0".
 *
 * @param most characters of a name that there is room for
 * @param rowPx height of a row
 */
export function namedRows(
  names: readonly string[],
  format: Format,
  most: Readonly<Record<Format, number>>,
  rowPx = 26,
) {
  const labels = names.map((name) => clip(name, most[format]));
  return {
    height: 56 + rowPx * labels.length,
    marginLeft: 20 + 7.2 * Math.max(...labels.map(({ length }) => length)),
    marginRight: 18,
    marginBottom: 40,
    y: {
      domain: labels.map((_, place) => String(place)),
      label: null,
      tickSize: 0,
      tickFormat: (key: string) => labels[Number(key)],
    },
  } satisfies PlotOptions;
}
