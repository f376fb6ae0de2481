/** Tables and lines for a terminal. Plain text only: what comes from a scenario has lost its control characters. */

/** Replaces control characters, so that a title cannot move the cursor or change colours. */
export function plainText(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  return text.replace(/[\u0000-\u001f\u007f-\u009f]/g, " ");
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

/** Breaks a text into lines of a width, with an indent. */
export function wrapText(text: string, width: number, indent = ""): string {
  const lines: string[] = [];
  let line = indent;
  for (const word of text.split(/ +/)) {
    if (line.length > indent.length && line.length + 1 + word.length > width) {
      lines.push(line);
      line = indent + word;
    } else {
      line = line.length > indent.length ? `${line} ${word}` : indent + word;
    }
  }
  lines.push(line);
  return lines.join("\n");
}
