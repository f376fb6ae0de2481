import { readFileSync, statSync } from "node:fs";
import { basename, dirname, isAbsolute, join } from "node:path";
import { InputError } from "../errors.ts";
import type { MeasuredFileReader } from "../scenario/measured-files.ts";
import type { CsvFormat } from "../tables/csv.ts";
import { type MeasuredColumn, parseText, readCsvColumn, readMeasured } from "../tables/measured.ts";
import { DIMENSIONS } from "../units/dimension.ts";
import { errorCode } from "./disk.ts";

/** Largest table of measured values that is read, bytes. */
const TABLE_BYTES = 200_000_000;

/** Reads the bytes of a table of measured values. Throws `InputError` for anything that is not a readable file of sane size. */
export function readTableBytes(path: string): Uint8Array {
  const fail = (expected: string, got: string): never => {
    throw new InputError({ code: "file", path: "", expected, got, file: path });
  };
  const stat = statSync(path, { throwIfNoEntry: false });
  if (stat === undefined) return fail("a CSV or Arrow file", "no such file");
  if (!stat.isFile()) return fail("a CSV or Arrow file", stat.isDirectory() ? "a folder" : "something that is no file");
  if (stat.size > TABLE_BYTES)
    return fail(`a table of at most ${TABLE_BYTES / 1e6} MB`, `${Math.round(stat.size / 1e6)} MB`);
  try {
    return readFileSync(path);
  } catch (error) {
    return fail("a readable file", errorCode(error));
  }
}

/** The separator and the decimal sign as a user names them. */
export function csvFormat(separator = ",", decimal = "."): CsvFormat {
  const known: Record<string, CsvFormat["separator"]> = { ",": ",", ";": ";", tab: "\t", "\t": "\t" };
  const sign = Object.hasOwn(known, separator) ? known[separator] : undefined;
  if (sign === undefined) {
    throw new InputError({ code: "usage", path: "--separator", expected: '",", ";" or "tab"', got: separator });
  }
  if (decimal !== "." && decimal !== ",") {
    throw new InputError({ code: "usage", path: "--decimal", expected: '"." or ","', got: decimal });
  }
  if (sign === "," && decimal === ",") {
    throw new InputError({
      code: "conflict",
      path: "--separator",
      expected: "another separator beside decimal commas",
      got: ",",
      hint: 'Say --separator ";"',
    });
  }
  return { separator: sign, decimal };
}

/** Reads the tables that a scenario names, relative to the scenario's own place. */
export function measuredFileReader(scenarioPath: string): MeasuredFileReader {
  const pathOf = (file: string) => (isAbsolute(file) ? file : join(dirname(scenarioPath), file));
  return {
    column({ file, column, separator, decimal, unit }) {
      const path = pathOf(file);
      const format = csvFormat(separator, decimal);
      const found = readMeasured(readTableBytes(path), path, { ...format, column, unit, skipBad: false });
      return { values: written(found), from: `${basename(file)}, column ${found.name}` };
    },
    table({ file, separator, decimal }) {
      const path = pathOf(file);
      const format = csvFormat(separator, decimal);
      const table = parseText(readTableBytes(path), path, format);
      const columns = table.head.map((head, place) => {
        // Fewer readings of one dimension than of another leave cells empty at the end.
        const rows = table.rows.filter(({ cells }) => (cells[place] ?? "") !== "");
        const padded = rows.map(({ line, cells }) => ({ line, cells: table.head.map((_, at) => cells[at] ?? "") }));
        const one = readCsvColumn({ head: table.head, rows: padded }, path, {
          ...format,
          column: head,
          skipBad: false,
        });
        return { name: one.name, values: written(one) };
      });
      return { columns, from: basename(file) };
    },
  };
}

/** Values as a scenario would write them. */
function written({ dimension, values }: MeasuredColumn): string[] {
  const { internalUnit } = DIMENSIONS[dimension];
  const name = internalUnit === "1" ? "" : ` ${internalUnit}`;
  return Array.from(values, (value) => `${value}${name}`);
}
