import { Field, Float64, Schema, Uint8, Uint16 } from "apache-arrow";
import { InternalError } from "../errors.ts";
import { FLAGS, OUTCOMES } from "../model/outcome.ts";
import type { Provenance, SampleColumn, SampleTable } from "../studies/result.ts";
import { openArrowFile } from "./arrow-file.ts";

/** What is known of a column before its first value. */
export interface ColumnSpec {
  readonly name: string;
  readonly unit: SampleColumn["unit"];
  readonly description: string;
  readonly type: "float64" | "uint8" | "uint16";
}

export interface SampleFile {
  append(batch: SampleTable): void;
  close(): void;
}

/**
 * Opens `samples.arrow`: one row per unit, every drawn input and every result per state.
 *
 * Each field carries `unit` and `description`. A column of unit `class` holds the index of an outcome
 * (`outcomes` in the schema's metadata lists their names in that order); a column of unit `bits` holds flags (`flags` lists
 * their names, the first is bit 0). Where a quantity does not exist for a unit, its column holds null.
 *
 * @param metadata of the whole file, see {@link sampleMetadata}
 * @param write takes the bytes in order and is done with them when it returns
 */
export function openSampleFile(
  columns: readonly ColumnSpec[],
  metadata: Readonly<Record<string, string>>,
  write: (bytes: Uint8Array) => void,
): SampleFile {
  const schema = new Schema(columns.map(fieldOf), new Map(Object.entries(metadata)));
  const file = openArrowFile(schema, write);
  return {
    append(batch) {
      checkColumns(columns, batch);
      file.append(
        batch.columns.map((column) => ({ kind: "numbers", values: column.values })),
        batch.count,
      );
    },
    close: () => file.close(),
  };
}

/** Writes a whole table as a file of its own, such as `extended.arrow`. */
export function writeTable(
  table: SampleTable,
  metadata: Readonly<Record<string, string>>,
  write: (bytes: Uint8Array) => void,
): void {
  const file = openSampleFile(columnSpecs(table), metadata, write);
  file.append(table);
  file.close();
}

/** The columns of a table as they have to be announced. */
export function columnSpecs(table: SampleTable): ColumnSpec[] {
  return table.columns.map(({ name, unit, description, values }) => ({
    name,
    unit,
    description,
    type: typeOf(values),
  }));
}

/** Metadata of the schema: what made the file, and what its codes mean. */
export function sampleMetadata(provenance: Provenance): Record<string, string> {
  return {
    program: provenance.program,
    programVersion: provenance.version,
    streamVersion: String(provenance.streamVersion),
    catalogueVersion: provenance.catalogueVersion,
    schemaVersion: String(provenance.schemaVersion),
    resultVersion: String(provenance.resultVersion),
    scenario: provenance.scenario,
    scenarioHash: provenance.scenarioHash,
    seed: provenance.seed,
    samples: String(provenance.samples),
    platform: provenance.platform,
    outcomes: OUTCOMES.join(","),
    flags: FLAGS.join(","),
  };
}

function fieldOf(column: ColumnSpec): Field {
  const type = column.type === "float64" ? new Float64() : column.type === "uint8" ? new Uint8() : new Uint16();
  const metadata = new Map([
    ["unit", column.unit],
    ["description", column.description],
  ]);
  return new Field(column.name, type, column.type === "float64", metadata);
}

function typeOf(values: SampleColumn["values"]): ColumnSpec["type"] {
  if (values instanceof Float64Array) return "float64";
  return values instanceof Uint8Array ? "uint8" : "uint16";
}

function checkColumns(columns: readonly ColumnSpec[], batch: SampleTable): void {
  for (const [index, spec] of columns.entries()) {
    const column = batch.columns[index];
    if (column?.name !== spec.name || typeOf(column.values) !== spec.type) {
      const found = column === undefined ? "nothing" : `${column.name} (${typeOf(column.values)})`;
      throw new InternalError(`column ${index} of a batch must be ${spec.name} (${spec.type}), found ${found}`);
    }
  }
}
