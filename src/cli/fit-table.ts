import { basename } from "node:path";
import { InputError } from "../errors.ts";
import { fitVerdict } from "../report/fit/verdict.ts";
import type { InternalUnit } from "../scenario/types.ts";
import type { GaugeStudy } from "../stats/gauge-study.ts";
import { fitMeasured } from "../studies/fit/fit.ts";
import { gaugeStudyOf } from "../studies/fit/gauge.ts";
import type { FitResult } from "../studies/fit/result.ts";
import type { CsvFormat } from "../tables/csv.ts";
import { isArrow, type MeasuredColumn, parseText, readCsvColumn, readMeasured } from "../tables/measured.ts";
import { DIMENSIONS, type Dimension } from "../units/dimension.ts";
import { parseQuantity } from "../units/quantity.ts";
import { parseToleranced } from "../units/tolerance.ts";
import { csvFormat, readTableBytes } from "./measured.ts";
import { MAKER } from "./texts.ts";

/** What a fit is asked for, as the command line says it. Files are named as the user named them. */
export interface FitAsked {
  readonly table: string;
  readonly column?: string;
  readonly unit?: string;
  readonly limits?: string;
  readonly gaugeSd?: string;
  readonly gaugeStudy?: string;
  readonly lots?: string;
  readonly separator?: string;
  readonly decimal?: string;
  readonly skipBad?: boolean;
}

/** A fit with its verdict, the column that it read, and the values of the parts. */
export interface FittedTable {
  readonly result: FitResult;
  readonly column: MeasuredColumn;
  readonly parts: Float64Array;
}

/**
 * Reads the table and says what its parts tell of their process.
 *
 * @throws InputError for a table or an option that cannot be read
 */
export function fitTable(options: FitAsked): FittedTable {
  const path = options.table;
  const format = csvFormat(options.separator, options.decimal);
  const request = { ...format, column: options.column, unit: options.unit, skipBad: options.skipBad ?? false };
  const bytes = readTableBytes(path);
  const column = readMeasured(bytes, path, request);
  const { dimension } = column;
  const unit = DIMENSIONS[dimension].internalUnit as InternalUnit;
  const gauge = gaugeOf(options, format, dimension);
  const { finding, parts } = fitMeasured({
    file: basename(path),
    column: column.name,
    unit,
    values: column.values,
    skipped: column.bad,
    limits: options.limits === undefined ? null : limitsOf(options.limits, dimension),
    lots: options.lots === undefined ? null : lotsOf(bytes, path, format, column, options.lots),
    gauge: gauge.gauge,
    gaugeStudy: gauge.study,
    table: bytes,
    asked: options,
    maker: MAKER,
  });
  return { result: { ...finding, verdict: fitVerdict(finding) }, column, parts };
}

function limitsOf(text: string, dimension: Dimension): { low: number; high: number } {
  const read = parseToleranced(text, dimension, "--limits", { bareUnit: DIMENSIONS[dimension].internalUnit });
  if (read.kind === "plain" || read.kind === "code" || !(read.low < read.high)) {
    throw new InputError({
      code: "wrong-type",
      path: "--limits",
      expected: 'two limits such as "32 ±0.006"',
      got: text,
    });
  }
  return { low: read.low, high: read.high };
}

function gaugeOf(
  options: FitAsked,
  format: CsvFormat,
  dimension: Dimension,
): { gauge: { sd: number; source: string } | null; study: GaugeStudy | null } {
  if (options.gaugeSd !== undefined && options.gaugeStudy !== undefined) {
    throw new InputError({ code: "conflict", path: "--gauge-sd", expected: "either a figure or a study", got: "both" });
  }
  if (options.gaugeSd !== undefined) {
    const spread = dimension === "temperature" ? "temperature difference" : dimension;
    const sd = parseQuantity(options.gaugeSd, spread, "--gauge-sd", { low: 0, openLow: true });
    return { gauge: { sd, source: "as given" }, study: null };
  }
  if (options.gaugeStudy === undefined) return { gauge: null, study: null };
  const path = options.gaugeStudy;
  const table = parseText(readTableBytes(path), path, format);
  const reading = table.head.find((name) => /^reading\b/i.test(name));
  const readings = readCsvColumn(table, path, {
    ...format,
    column: reading ?? "reading",
    unit: options.unit,
    skipBad: false,
  });
  if (readings.dimension !== dimension) {
    throw new InputError({
      code: "wrong-unit",
      path: "--gauge-study",
      expected: DIMENSIONS[dimension].article,
      got: readings.name,
      file: path,
    });
  }
  const cells = (name: string) => {
    const place = table.head.findIndex((head) => head.toLowerCase() === name);
    return place < 0 ? null : table.rows.map((row) => row.cells[place]);
  };
  const study = gaugeStudyOf(readings.values, cells("part"), cells("operator"), path);
  const source = `gauge study, ${basename(path)}`;
  return { gauge: { sd: Math.sqrt(study.gaugeVariance), source }, study };
}

function lotsOf(bytes: Uint8Array, path: string, format: CsvFormat, column: MeasuredColumn, name: string): string[] {
  if (isArrow(bytes)) {
    throw new InputError({
      code: "not-supported",
      path: "--lots",
      expected: "a CSV table with a column of lots",
      got: "Arrow",
      file: path,
    });
  }
  const table = parseText(bytes, path, format);
  const place = table.head.indexOf(name);
  if (place < 0) {
    throw new InputError({
      code: "unknown-name",
      path: "--lots",
      expected: `one of ${table.head.join(", ")}`,
      got: name,
      file: path,
    });
  }
  const lots = new Map(table.rows.map(({ line, cells }) => [line, cells[place] ?? ""]));
  return column.lines.map((line) => lots.get(line) ?? "");
}
