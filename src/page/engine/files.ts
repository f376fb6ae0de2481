import { InternalError } from "../../errors.ts";
import { renderReport } from "../../report/render.ts";
import type { RunResult, SampleTable } from "../../studies/result.ts";
import { sampleMetadata, writeTable } from "../../tables/samples.ts";
import { writeSummary } from "../../tables/summary.ts";
import type { ExportKind } from "../protocol.ts";
import type { WholeRun } from "./whole.ts";

export interface MadeFile {
  readonly name: string;
  readonly type: string;
  readonly bytes: Uint8Array;
}

/** A file of a whole run, the same as the command line writes it (it has no CSV). */
export function makeFile(what: ExportKind, { scenario, result, samples, extended }: WholeRun): MadeFile {
  const text = (name: string, type: string, content: string): MadeFile => ({
    name: `${scenario.name}-${name}`,
    type,
    bytes: new TextEncoder().encode(content),
  });
  switch (what) {
    case "report":
      return text("report.html", "text/html", renderReport(result, samples));
    case "json":
      return text("result.json", "application/json", `${JSON.stringify(result, null, 2)}\n`);
    case "csv":
      return text("samples.csv", "text/csv", csvOf(samples));
    case "summary":
      return arrow(`${scenario.name}-summary.arrow`, (write) => writeSummary(result, write));
    case "samples":
      return tableFile(`${scenario.name}-samples.arrow`, samples, result);
    case "extended":
      if (extended === null) throw new InternalError("the scenario asks for no extended outputs");
      return tableFile(`${scenario.name}-extended.arrow`, extended, result);
  }
}

function tableFile(name: string, table: SampleTable, { provenance }: RunResult): MadeFile {
  return arrow(name, (write) => writeTable(table, sampleMetadata(provenance), write));
}

function arrow(name: string, make: (write: (bytes: Uint8Array) => void) => void): MadeFile {
  const parts: Uint8Array[] = [];
  // The writer uses its buffers again.
  make((bytes) => parts.push(bytes.slice()));
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return { name, type: "application/vnd.apache.arrow.file", bytes };
}

/** One row a unit, the names of the columns first (RFC 4180); a value that does not exist is left empty. */
function csvOf({ count, columns }: SampleTable): string {
  const quoted = (name: string) => (/[",\r\n]/.test(name) ? `"${name.replaceAll('"', '""')}"` : name);
  const lines = [columns.map(({ name }) => quoted(name)).join(",")];
  for (let row = 0; row < count; row += 1) {
    lines.push(columns.map(({ values }) => (Number.isNaN(values[row]) ? "" : String(values[row]))).join(","));
  }
  return `${lines.join("\r\n")}\r\n`;
}
