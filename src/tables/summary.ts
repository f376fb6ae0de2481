import { Field, Float64, Schema, Utf8 } from "apache-arrow";
import type { RunResult } from "../studies/result.ts";
import { openArrowFile } from "./arrow-file.ts";
import { sampleMetadata } from "./samples.ts";
import { type SummaryRow, summaryRows } from "./summary-rows.ts";

const COLUMNS: readonly { readonly name: keyof SummaryRow; readonly text: boolean; readonly description: string }[] = [
  {
    name: "scope",
    text: true,
    description: "state, or every state, averaged, bench scrap, service, batch, window, nominal",
  },
  { name: "measure", text: true, description: "what was found" },
  { name: "item", text: true, description: "which one of them; empty where there is only one" },
  { name: "statistic", text: true, description: "share, mean, sd, min, max, q0.05 (quantile), gain, ..." },
  { name: "value", text: false, description: "the figure, in the unit of its row; null where there is none" },
  { name: "low", text: false, description: "lower end of its interval: 95 %, for a batch 90 %; null without" },
  { name: "high", text: false, description: "upper end of its interval: 95 %, for a batch 90 %; null without" },
  { name: "count", text: false, description: "units behind the figure; null where it does not apply" },
  { name: "unit", text: true, description: "unit of value, low and high; 1 for a ratio" },
  { name: "note", text: true, description: "method of the interval, origin of the cause, or end of the range" },
];

/** Writes `summary.arrow`: every figure of the run, one a row, to be filtered in any Arrow reader. */
export function writeSummary(result: RunResult, write: (bytes: Uint8Array) => void): void {
  writeRows(summaryRows(result), sampleMetadata(result.provenance), write);
}

/** Writes figures of any study, one a row. */
export function writeRows(
  rows: readonly SummaryRow[],
  metadata: Readonly<Record<string, string>>,
  write: (bytes: Uint8Array) => void,
): void {
  const fields = COLUMNS.map(({ name, text, description }) => {
    const metadata = new Map([["description", description]]);
    return new Field(name, text ? new Utf8() : new Float64(), !text, metadata);
  });
  const file = openArrowFile(new Schema(fields, new Map(Object.entries(metadata))), write);
  file.append(
    COLUMNS.map(({ name, text }) =>
      text
        ? { kind: "text", values: rows.map((row) => String(row[name])) }
        : { kind: "numbers", values: Float64Array.from(rows, (row) => row[name] as number) },
    ),
    rows.length,
  );
  file.close();
}
