import { InputError, type Problem } from "../errors.ts";
import { DIMENSIONS, type Dimension } from "../units/dimension.ts";
import { nearestName } from "../units/nearest.ts";
import { parseQuantity } from "../units/quantity.ts";
import { unitFactor } from "../units/unit.ts";
import { type CsvFormat, type CsvTable, parseCsv } from "./csv.ts";
import { openArrow } from "./open-arrow.ts";

/** A row that could not be used, by the line (of a text table) or row (of an Arrow file, from 1) it stands in. */
export interface BadRow {
  readonly line: number;
  readonly why: string;
}

/** One column of measured values in the internal unit of its dimension. */
export interface MeasuredColumn {
  readonly name: string;
  readonly dimension: Dimension;
  readonly values: Float64Array;
  /** Line or row of each value. */
  readonly lines: readonly number[];
  readonly bad: readonly BadRow[];
}

export interface MeasuredRequest extends CsvFormat {
  /** Name of the column, with or without its unit; the only column of numbers when left out. */
  readonly column?: string;
  /** Unit of a column that names none. */
  readonly unit?: string;
  /** Rows that cannot be read are left out and listed; otherwise they are refused. */
  readonly skipBad: boolean;
}

/** Unit in a column's name: `length [um]`, `length (um)`, `length in um`. */
const UNIT_IN_NAME = /^(.*?)\s*(?:\[([^\]]*)\]|\(([^)]*)\)|\bin\s+(\S+))\s*$/;
/** Rows that are read: more parts than anybody measures, and as many as are looked at in half a minute. */
const MOST_ROWS = 250_000;
const LINE_END = 10;
/** Bad rows that are told one by one before the rest is only counted. */
const MOST_PROBLEMS = 20;
const MEASURED_DIMENSIONS: readonly Dimension[] = [
  "length",
  "force",
  "temperature",
  "ratio",
  "torque",
  "angle",
  "stiffness",
];

export interface ColumnName {
  readonly name: string;
  readonly unit: string | null;
}

/** The name of a column and the unit that stands in it. */
export function splitColumnName(head: string): ColumnName {
  const match = UNIT_IN_NAME.exec(head);
  if (match === null) return { name: head.trim(), unit: null };
  const unit = (match[2] ?? match[3] ?? match[4] ?? "").trim();
  return unit === "" || dimensionOf(unit) === null
    ? { name: head.trim(), unit: null }
    : { name: match[1].trim(), unit };
}

/** The kind of quantity that a unit belongs to. */
function dimensionOf(unit: string): Dimension | null {
  if (/^(degC|°C)$/.test(unit)) return "temperature";
  return MEASURED_DIMENSIONS.find((dimension) => typeof unitFactor(unit, dimension) === "object") ?? null;
}

/** True for the bytes of an Arrow file (either of its formats) whatever its name. */
export function isArrow(bytes: Uint8Array): boolean {
  const magic = String.fromCharCode(...bytes.subarray(0, 6));
  return magic === "ARROW1" || (bytes[0] === 0xff && bytes[1] === 0xff && bytes[2] === 0xff && bytes[3] === 0xff);
}

/**
 * Reads one column of measured values.
 *
 * @param bytes the file: text in UTF-8, or Arrow with the unit in the field's metadata or name
 * @throws InputError with every row that cannot be read (the first twenty one by one), unless `skipBad`
 */
export function readMeasured(bytes: Uint8Array, fileName: string, request: MeasuredRequest): MeasuredColumn {
  return isArrow(bytes)
    ? readArrowColumn(bytes, fileName, request)
    : readCsvColumn(parseText(bytes, fileName, request), fileName, request);
}

/** The text table in a file, for callers that want several of its columns. */
export function parseText(bytes: Uint8Array, fileName: string, format: CsvFormat): CsvTable {
  checkRows(linesIn(bytes), fileName);
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    const hint = "Save it as UTF-8";
    throw new InputError({
      code: "file",
      path: "",
      expected: "a text in UTF-8",
      got: "bytes that are not",
      hint,
      file: fileName,
    });
  }
  return parseCsv(text, fileName, format);
}

function linesIn(bytes: Uint8Array): number {
  let lines = 0;
  for (let at = bytes.indexOf(LINE_END); at >= 0; at = bytes.indexOf(LINE_END, at + 1)) lines += 1;
  return lines;
}

function checkRows(rows: number, fileName: string): void {
  if (rows <= MOST_ROWS + 1) return;
  throw new InputError({
    code: "too-large",
    path: "",
    expected: `a table of at most ${MOST_ROWS} rows`,
    got: `${rows}`,
    hint: "Read a part of it: some thousand parts, chosen at random, say as much",
    file: fileName,
  });
}

/** One column of a text table. */
export function readCsvColumn(table: CsvTable, fileName: string, request: MeasuredRequest): MeasuredColumn {
  const place = findColumn(table.head, fileName, request.column);
  const { name, unit } = unitOf(table.head[place], fileName, request);
  const dimension = dimensionOf(unit)!;
  const values: number[] = [];
  const lines: number[] = [];
  const bad: BadRow[] = [];
  for (const { line, cells } of table.rows) {
    const why =
      cells.length !== table.head.length
        ? `${cells.length} cells where the names are ${table.head.length}`
        : readCell(cells[place], dimension, unit, request, (value) => {
            values.push(value);
            lines.push(line);
          });
    if (why !== null) bad.push({ line, why });
  }
  return finish({ name, dimension, values: Float64Array.from(values), lines, bad }, fileName, request);
}

/** Hands a cell's value over; or says why there is none. */
function readCell(
  cell: string,
  dimension: Dimension,
  unit: string,
  { decimal, separator }: CsvFormat,
  take: (value: number) => void,
): string | null {
  if (cell === "") return "an empty cell";
  let text = cell;
  if (decimal === ",") {
    if (/\d\.\d/.test(text)) return `"${cell}": a decimal point where commas were announced`;
    text = text.replace(",", ".");
  } else if (/\d,\d/.test(text)) {
    return `"${cell}": a decimal comma; say --decimal ","${separator === "," ? ' and --separator ";"' : ""}`;
  }
  try {
    take(parseQuantity(text, dimension, "", { bareUnit: unit }));
    return null;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return `"${cell}" is not ${DIMENSIONS[dimension].article}`;
  }
}

function findColumn(head: readonly string[], fileName: string, wanted: string | undefined): number {
  if (wanted === undefined) {
    if (head.length === 1) return 0;
    const names = head.map((name) => splitColumnName(name).name).join(", ");
    throw new InputError({
      code: "missing",
      path: "--column",
      expected: `one of the columns ${names}`,
      got: "none named",
      file: fileName,
    });
  }
  const exact = head.findIndex((name) => name === wanted || splitColumnName(name).name === wanted);
  if (exact >= 0) return exact;
  const names = head.map((name) => splitColumnName(name).name);
  const near = nearestName(wanted, names);
  throw new InputError({
    code: "unknown-name",
    path: "--column",
    expected: `one of the columns ${names.join(", ")}`,
    got: wanted,
    hint: near === undefined ? undefined : `Did you mean "${near}"?`,
    file: fileName,
  });
}

function unitOf(head: string, fileName: string, request: MeasuredRequest): { name: string; unit: string } {
  const { name, unit: inName } = splitColumnName(head);
  const unit = inName ?? request.unit;
  if (unit === undefined) {
    throw new InputError({
      code: "wrong-unit",
      path: name,
      expected: "a unit in the column's name",
      got: head,
      hint: `Name the column "${name} [mm]" or say --unit mm`,
      file: fileName,
    });
  }
  if (dimensionOf(unit) === null) {
    throw new InputError({
      code: "wrong-unit",
      path: name,
      expected: "a unit such as mm, um or N",
      got: unit,
      file: fileName,
    });
  }
  return { name, unit };
}

function readArrowColumn(bytes: Uint8Array, fileName: string, request: MeasuredRequest): MeasuredColumn {
  const table = openArrow(bytes);
  if (typeof table === "string") {
    throw new InputError({ code: "syntax", path: "", expected: "an Arrow file", got: table, file: fileName });
  }
  checkRows(table.numRows, fileName);
  const { fields } = table.schema;
  const field =
    fields[
      findColumn(
        fields.map(({ name }) => name),
        fileName,
        request.column,
      )
    ];
  const known = field.metadata.get("unit");
  const { name, unit } = unitOf(field.name, fileName, {
    ...request,
    unit: known ?? suffixUnit(field.name) ?? request.unit,
  });
  const dimension = dimensionOf(unit)!;
  const column = table.getChild(field.name)!;
  const values: number[] = [];
  const lines: number[] = [];
  const bad: BadRow[] = [];
  for (let row = 0; row < column.length; row += 1) {
    const cell: unknown = column.get(row);
    const value = typeof cell === "bigint" ? Number(cell) : cell;
    if (typeof value === "number" && Number.isFinite(value)) {
      values.push(parseQuantity(value, dimension, name, { bareUnit: unit }));
      lines.push(row + 1);
    } else bad.push({ line: row + 1, why: cell === null ? "an empty cell" : `${String(cell)} is not a number` });
  }
  return finish({ name, dimension, values: Float64Array.from(values), lines, bad }, fileName, request);
}

/** Our own tables carry the unit as a suffix: `chain.spacerMm`. */
function suffixUnit(name: string): string | undefined {
  return /[a-z)]Mm$/.test(name) ? "mm" : /[a-z)]Um$/.test(name) ? "um" : /[a-z)]N$/.test(name) ? "N" : undefined;
}

function finish(column: MeasuredColumn, fileName: string, { skipBad }: MeasuredRequest): MeasuredColumn {
  const { bad, values, name } = column;
  if (bad.length > 0 && !skipBad) {
    const told: Problem[] = bad.slice(0, MOST_PROBLEMS).map(({ line, why }) => ({
      code: "syntax",
      path: name,
      expected: "a number in every row",
      got: why,
      file: fileName,
      line,
    }));
    const rest = bad.length - told.length;
    const last = told[told.length - 1];
    const more = rest > 0 ? `${rest} more such rows. ` : "";
    told[told.length - 1] = { ...last, hint: `${more}Mend them, or leave them out with --skip-bad` };
    throw new InputError(told);
  }
  if (values.length === 0) {
    throw new InputError({ code: "missing", path: name, expected: "at least one value", got: "none", file: fileName });
  }
  return column;
}
