import { basename } from "node:path";
import type { Command } from "commander";
import { fitPage } from "../../report/fit/page.ts";
import { fitText } from "../../report/fit/text.ts";
import type { FitResult } from "../../studies/fit/result.ts";
import { fitMetadata, fitRows } from "../../tables/fit.ts";
import type { MeasuredColumn } from "../../tables/measured.ts";
import { openSampleFile } from "../../tables/samples.ts";
import { type FitAsked, fitTable } from "../fit-table.ts";
import { writeStudy } from "../study-output.ts";
import { terminal } from "../terminal.ts";

interface FitOptions extends Omit<FitAsked, "table"> {
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
    .action(async (table: string, options: FitOptions) => {
      const { out, json: isJson, ...asked } = options;
      const { result, column, parts } = fitTable({ table, ...asked });
      const name = `${fileSafe(basename(table).replace(/\.[^.]*$/, ""))}-${fileSafe(column.name)}`;
      const { json, reportPath } = await writeStudy(out, name, () => ({
        result,
        rows: fitRows(result),
        metadata: fitMetadata(result),
        html: fitPage(result, column.values, parts),
        more: { "values.arrow": (write) => writeValues(result, column, parts, write) },
      }));
      process.stdout.write(isJson ? json : `${fitText(result, terminal())}\nReport: ${reportPath}\n`);
    });
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
  const file = openSampleFile(specs, fitMetadata(result), write);
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
