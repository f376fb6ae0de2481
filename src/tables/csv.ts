import { parse } from "csv-parse/sync";
import { InputError } from "../errors.ts";

/** How a text table is written. Nothing of it is guessed: a table that does not fit is refused with the option that would fit. */
export interface CsvFormat {
  readonly separator: "," | ";" | "\t";
  readonly decimal: "." | ",";
}

export interface CsvRow {
  /** 1-based line in the file where the row ends. */
  readonly line: number;
  readonly cells: readonly string[];
}

export interface CsvTable {
  readonly head: readonly string[];
  readonly rows: readonly CsvRow[];
}

/**
 * Takes a text table with one row of names apart. A byte-order mark, either kind of line end and empty lines are taken as they come;
 * numbers stay text.
 *
 * @throws InputError for a text that is no such table
 */
export function parseCsv(text: string, fileName: string, format: CsvFormat): CsvTable {
  const fail = (expected: string, got: string, hint?: string, line?: number): never => {
    throw new InputError({ code: "syntax", path: "", expected, got, hint, file: fileName, line });
  };
  const rows: CsvRow[] = [];
  try {
    parse(text, {
      bom: true,
      delimiter: format.separator,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
      max_record_size: 1_000_000,
      // Taken row by row: with all that the library tells of each, a million rows would need a gigabyte.
      on_record: (cells: string[], { lines }) => {
        rows.push({ line: lines, cells });
        return null;
      },
    });
  } catch (error) {
    const line = error instanceof Error && "lines" in error ? Number(error.lines) : undefined;
    return fail("a table of text", error instanceof Error ? error.message : String(error), undefined, line);
  }
  const first = rows.shift();
  if (first === undefined) return fail("a table with a row of names", "an empty file");
  const head = first.cells;
  if (head.length === 1 && format.separator === "," && /[;\t]/.test(head[0])) {
    const other = head[0].includes(";") ? ";" : "tab";
    return fail("columns set apart by commas", head[0], `Say --separator "${other}"`, first.line);
  }
  const twice = head.find((name, index) => name !== "" && head.indexOf(name) !== index);
  if (twice !== undefined) return fail("a name of its own for each column", twice, undefined, first.line);
  if (head.every((name) => name !== "" && Number.isFinite(Number(name.replace(",", "."))))) {
    return fail("a first row with the names of the columns", head.join(format.separator), undefined, first.line);
  }
  return { head, rows };
}
