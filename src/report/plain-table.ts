import { clip } from "./words.ts";

/** Tables and lines for a terminal. Plain text only: what comes from a scenario has lost its control characters. */

/** Text of a scenario must not steer the terminal; spaces that some terminals draw badly become plain ones. */
export function plainText(text: string): string {
  return text.replace(/\p{Cc}/gu, " ").replace(/[\u00a0\u202f]/g, " ");
}

/** Columns side by side, each as wide as its widest cell; numbers to the right where `right` names the column. */
function alignColumns(rows: readonly (readonly string[])[], right: readonly number[] = []): string {
  const widths: number[] = [];
  for (const row of rows) {
    for (const [index, cell] of row.entries()) widths[index] = Math.max(widths[index] ?? 0, cell.length);
  }
  return rows
    .map((row) =>
      row
        .map((cell, index) => (right.includes(index) ? cell.padStart(widths[index]) : cell.padEnd(widths[index])))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}

/** A text column is not cut shorter than this to make a table fit. */
const LEAST_TEXT = 16;

/**
 * A table with a head in lines of a width: where it does not fit, its longest text is cut; where that is not enough, every row
 * becomes a list of its own.
 *
 * @param paintHead for the line of the heads
 */
export function fitTable(
  [head, ...rows]: readonly (readonly string[])[],
  right: readonly number[],
  width: number,
  paintHead: (line: string) => string = String,
): string {
  const widthOf = (column: number) => Math.max(...[head, ...rows].map((row) => (row[column] ?? "").length));
  const total = head.reduce((sum, _, column) => sum + widthOf(column) + 2, -2);
  const texts = head.map((_, column) => column).filter((column) => !right.includes(column));
  const longest = texts.sort((a, b) => widthOf(b) - widthOf(a))[0] ?? 0;
  const room = widthOf(longest) - Math.max(0, total - width);
  if (room >= Math.min(LEAST_TEXT, widthOf(longest))) {
    const cut = [head, ...rows].map((row) => row.map((cell, column) => (column === longest ? clip(cell, room) : cell)));
    const [first = "", ...others] = alignColumns(cut, right).split("\n");
    return [paintHead(first), ...others].join("\n");
  }
  return rows
    .map(([name = "", ...cells]) => {
      const facts = cells.map((cell, place) => `${head[place + 1]} ${cell}`.trim()).filter((fact) => fact !== "");
      return [...wrapLines(name, width), ...wrapLines(facts.join(", "), width - 2).map((line) => `  ${line}`)].join(
        "\n",
      );
    })
    .join("\n");
}

/** Rows without a head: side by side where they fit, else one below the other, each as a sentence. */
export function fitRows(rows: readonly (readonly string[])[], right: readonly number[], width: number): string {
  const aligned = alignColumns(rows, right);
  if (aligned.split("\n").every((line) => line.length <= width)) return aligned;
  return rows.map((row) => hung(row.map((cell) => cell.trim()).join("  "), width, "  ")).join("\n");
}

/** A text in lines of a width; those below the first stand further in. */
export function hung(text: string, width: number, indent: string): string {
  const [first = "", ...others] = wrapLines(text, width - 2 * indent.length);
  return [`${indent}${first}`, ...others.map((line) => `${indent}${indent}${line}`)].join("\n");
}

/** Breaks at plain spaces only, so that a figure stays with its unit. Words longer than a line are cut. */
export function wrapLines(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text
    .replace(/\p{Cc}/gu, " ")
    .split(/ +/)
    .filter((part) => part !== "")) {
    let rest = word;
    while (rest.length > width) {
      if (line !== "") lines.push(line);
      lines.push(rest.slice(0, width));
      rest = rest.slice(width);
      line = "";
    }
    if (line === "") line = rest;
    else if (line.length + 1 + rest.length <= width) line += ` ${rest}`;
    else {
      lines.push(line);
      line = rest;
    }
  }
  if (line !== "") lines.push(line);
  return lines.map(plainText);
}

/** A text in lines of a width, each with an indent. */
export function wrapText(text: string, width: number, indent = ""): string {
  return wrapLines(text, width - indent.length)
    .map((line) => indent + line)
    .join("\n");
}
