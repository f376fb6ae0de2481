import { readFileSync } from "node:fs";

/** Rows of a small comma-separated table beside a test, keyed by its header; quoted fields may hold commas. */
export function readCsv(url: URL): Record<string, string>[] {
  const lines = readFileSync(url, "utf8")
    .split(/\r?\n/)
    .filter((line) => line !== "" && !line.startsWith("#"));
  const header = fields(lines[0]);
  return lines.slice(1).map((line) => {
    const cells = fields(line);
    return Object.fromEntries(header.map((name, column) => [name, cells[column] ?? ""]));
  });
}

function fields(line: string): string[] {
  return [...line.matchAll(/(?:^|,)(?:"([^"]*)"|([^,]*))/g)].map((match) => match[1] ?? match[2]);
}
