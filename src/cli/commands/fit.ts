import { basename } from "node:path";
import type { Command } from "commander";
import { InputError } from "../../errors.ts";
import { fitPage } from "../../report/fit/page.ts";
import { fitText } from "../../report/fit/text.ts";
import { fitVerdict } from "../../report/fit/verdict.ts";
import type { InternalUnit } from "../../scenario/types.ts";
import type { GaugeStudy } from "../../stats/gauge-study.ts";
import { fitMeasured } from "../../studies/fit/fit.ts";
import { gaugeStudyOf } from "../../studies/fit/gauge.ts";
import type { FitResult } from "../../studies/fit/result.ts";
import type { CsvFormat } from "../../tables/csv.ts";
import { fitRows } from "../../tables/fit.ts";
import { isArrow, type MeasuredColumn, parseText, readCsvColumn, readMeasured } from "../../tables/measured.ts";
import { openSampleFile } from "../../tables/samples.ts";
import { DIMENSIONS, type Dimension } from "../../units/dimension.ts";
import { parseQuantity } from "../../units/quantity.ts";
import { parseToleranced } from "../../units/tolerance.ts";
import { csvFormat, readTableBytes } from "../measured.ts";
import { writeStudy } from "../study-output.ts";
import { terminal } from "../terminal.ts";
import { MAKER } from "../texts.ts";

interface FitOptions {
  readonly column?: string;
  readonly unit?: string;
  readonly limits?: string;
  readonly gaugeSd?: string;
  readonly gaugeStudy?: string;
  readonly lots?: string;
  readonly separator?: string;
  readonly decimal?: string;
  readonly skipBad?: boolean;
  readonly out: string;
  readonly json?: boolean;
}

/** `seatspread fit`: what measured parts say of the process that made them, and what to draw in a scenario. */
export function fitCommand(program: Command): void {
  program
    .command("fit")
    .description("measured parts: fitted distribution, capability, steadiness, and the lines to paste into a scenario")
    .argument("<table>", "CSV or Arrow file, one row a part in the order they were made")
    .option("--column <name>", "column of the measured values, with or without its unit")
    .option("--unit <unit>", 'unit of a column whose name has none ("length [um]" has one)')
    .option("--limits <tolerance>", 'limits of the drawing, such as "32.000 ±0.006": for capability and bounded shapes')
    .option("--gauge-sd <quantity>", "standard deviation of one reading of the gauge, to be taken out")
    .option("--gauge-study <table>", "CSV with columns part, operator and reading: the gauge's spread is found from it")
    .option("--lots <column>", "column with the lot of each part: spread between and within lots")
    .option("--separator <sign>", 'what sets columns apart: ",", ";" or "tab"')
    .option("--decimal <sign>", 'decimal sign: "." or ","')
    .option("--skip-bad", "leave out rows that cannot be read, and list them; otherwise they are refused")
    .option("--out <folder>", "folder of all results", "out")
    .option("--json", "print result.json on stdout instead of the findings")
    .addHelpText(
      "after",
      `
Writes <out>/<table>-<column>/: report.html, result.json, summary.arrow, values.arrow, whole or not at all.
A table may have up to 250 000 rows; of more parts, some thousand chosen at random say as much.

Examples:
  seatspread fit scenarios/measured/spacers.csv --column length --limits "31.766 ±0.004"
  seatspread fit spacers.csv --column length --gauge-sd "0.4 um" --lots lot
  seatspread fit export.csv --separator ";" --decimal "," --unit mm --skip-bad`,
    )
    .action(async (path: string, options: FitOptions) => {
      const { finding, column, parts } = study(path, options);
      const result: FitResult = { ...finding, verdict: fitVerdict(finding) };
      const name = `${fileSafe(basename(path).replace(/\.[^.]*$/, ""))}-${fileSafe(column.name)}`;
      const { json, reportPath } = await writeStudy(options.out, name, () => ({
        result,
        rows: fitRows(result),
        metadata: { ...result.provenance },
        html: fitPage(result, column.values, parts),
        more: { "values.arrow": (write) => writeValues(result, column, parts, write) },
      }));
      process.stdout.write(options.json ? json : `${fitText(result, terminal())}\nReport: ${reportPath}\n`);
    });
}

function study(path: string, options: FitOptions) {
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
    maker: MAKER,
  });
  return { finding, column, parts };
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
  options: FitOptions,
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

function writeValues(
  result: FitResult,
  column: MeasuredColumn,
  parts: Float64Array,
  write: (bytes: Uint8Array) => void,
): void {
  const { unit } = result.values;
  const suffix = unit === "mm" ? "Mm" : unit === "N" ? "N" : unit === "degC" ? "C" : unit === "1" ? "Ratio" : "";
  const specs = [
    {
      name: "row",
      unit: "index" as const,
      description: "line of a text table or row of an Arrow file",
      type: "float64" as const,
    },
    { name: `reading${suffix}`, unit, description: "as read", type: "float64" as const },
    {
      name: `part${suffix}`,
      unit,
      description: "with the gauge's spread taken out, where one is given",
      type: "float64" as const,
    },
  ];
  const file = openSampleFile(specs, { ...result.provenance }, write);
  const data = [Float64Array.from(column.lines), column.values, parts];
  file.append({
    count: parts.length,
    columns: specs.map(({ name, unit: inUnit, description }, place) => ({
      name,
      unit: inUnit,
      description,
      values: data[place],
    })),
  });
  file.close();
}

function fileSafe(text: string): string {
  const tidy = text
    .replace(/[^A-Za-z0-9_-]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 80);
  return tidy === "" ? "table" : tidy;
}
