// What the notebooks share: figures for wide and narrow pages, tables, numbers that can be read back, and how lengths are written.
import * as Plot from "@observablehq/plot";

/** Widths that a figure is drawn at; the page shows the one that fits. */
const WIDTHS = { wide: 780, narrow: 358 };

/** `12.3` with a true minus; a thin space between thousands. */
export function fixed(value, decimals = 0) {
  const text = Math.abs(value)
    .toFixed(decimals)
    .replace(/\B(?=(\d{3})+(?!\d))/g, Math.abs(value) < 10_000 ? "" : "\u202f");
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** A length in mm as micrometres. */
export const micrometres = (mm, decimals = 1) => `${fixed(1000 * mm, decimals)} µm`;

/** A share as per cent. */
export const percent = (ratio, decimals = 1) => `${fixed(100 * ratio, decimals)} %`;

/** A number as the text shows it, with its full value and a name beside. */
export function shown(name, value, text) {
  const data = document.createElement("data");
  data.dataset.name = name;
  data.value = String(value);
  data.textContent = text;
  return data;
}

/**
 * One figure with its caption, drawn for a wide and for a narrow page.
 *
 * @param title one line: what the figure is of
 * @param caption how to read it, with units
 * @param options from the width to the options of a plot
 */
export function figure(title, caption, options) {
  const element = document.createElement("figure");
  const heading = element.appendChild(document.createElement("h3"));
  heading.textContent = title;
  for (const [name, width] of Object.entries(WIDTHS)) {
    const isNarrow = name === "narrow";
    const plot = Plot.plot({
      width,
      height: isNarrow ? 300 : 340,
      marginLeft: 52,
      marginTop: 30,
      marginBottom: 44,
      style: { fontSize: "12px", background: "transparent", color: "var(--ink)" },
      ...options(isNarrow),
    });
    // A legend beside the picture would come wrapped in a figure of its own.
    if (plot.tagName.toLowerCase() !== "svg") throw new Error("name the series inside the picture or in the caption");
    plot.classList.add(name);
    plot.setAttribute("role", "img");
    plot.setAttribute("aria-label", `${title}. ${caption}`);
    element.append(plot);
  }
  element.appendChild(document.createElement("figcaption")).textContent = caption;
  return element;
}

/**
 * A table; cells that are numbers in words stand to the right.
 *
 * @param head names of the columns
 * @param rows texts or elements
 */
export function table(head, rows) {
  const box = document.createElement("div");
  box.className = "scroll";
  box.tabIndex = 0;
  const element = box.appendChild(document.createElement("table"));
  const isNumber = head.map((_, column) => rows.every((row) => /^[−+±<]?[\d.\u202f –-]+/.test(textOf(row[column]))));
  const line = (parent, kind, cells) => {
    const row = parent.appendChild(document.createElement("tr"));
    cells.forEach((cell, column) => {
      const place = row.appendChild(document.createElement(kind));
      place.append(cell);
      if (isNumber[column]) place.className = "number";
      else if (textOf(cell).length > 30) place.className = "text";
    });
  };
  line(element.createTHead(), "th", head);
  const body = element.createTBody();
  for (const row of rows) line(body, "td", row);
  return box;
}

const textOf = (cell) => (typeof cell === "string" ? cell : cell.textContent);

/** A paragraph or list of sentences that the program words itself. */
export function sentences(texts) {
  const box = document.createElement("div");
  box.className = "verdict";
  texts.forEach((text, place) => {
    const line = box.appendChild(document.createElement("p"));
    line.textContent = text;
    if (place === 0) line.className = "lead";
  });
  return box;
}
