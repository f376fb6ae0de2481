/** Tables and lines for a terminal. Plain text only: what comes from a scenario has lost its control characters. */

/** Text of a scenario must not steer the terminal; spaces that some terminals draw badly become plain ones. */
export function plainText(text: string): string {
  return text.replace(/\p{Cc}/gu, " ").replace(/[\u00a0\u202f]/g, " ");
}

/** Columns side by side, each as wide as its widest cell; numbers to the right where `right` names the column. */
export function alignColumns(rows: readonly (readonly string[])[], right: readonly number[] = []): string {
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
