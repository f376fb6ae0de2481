import { tableFromIPC } from "apache-arrow";
import polars from "nodejs-polars";
import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { FLAGS, OUTCOMES } from "../../../src/model/outcome.ts";
import type { SampleColumn, SampleTable } from "../../../src/studies/result.ts";
import { columnSpecs, openSampleFile, sampleMetadata } from "../../../src/tables/samples.ts";
import { makeFixture } from "../../support/result-fixture.ts";

const fixture = makeFixture();

function slice(table: SampleTable, from: number, to: number): SampleTable {
  const columns = table.columns.map(
    (column): SampleColumn => ({ ...column, values: column.values.subarray(from, to) }),
  );
  return { count: to - from, columns };
}

function writeBatches(table: SampleTable, ends: readonly number[]): Buffer {
  const chunks: Uint8Array[] = [];
  const file = openSampleFile(columnSpecs(table), sampleMetadata(fixture.result.provenance), (bytes) =>
    chunks.push(Uint8Array.from(bytes)),
  );
  let from = 0;
  for (const to of ends) {
    file.append(slice(table, from, to));
    from = to;
  }
  file.close();
  return Buffer.concat(chunks);
}

describe("samples.arrow", () => {
  it("gives every value back to the bit, whatever the batches", () => {
    const table = tableFromIPC(writeBatches(fixture.samples, [1, 1000, 1003, 4000]));
    expect(table.numRows).toBe(4000);
    expect(table.batches.map((batch) => batch.numRows)).toEqual([1, 999, 3, 2997]);
    for (const column of fixture.samples.columns) {
      expect(Array.from(table.getChild(column.name)?.toArray() ?? []), column.name).toEqual(Array.from(column.values));
    }
  });

  it("is read alike by an independent reader (polars, Rust)", () => {
    const frame = polars.readIPC(writeBatches(fixture.samples, [1500, 4000]));
    expect(frame.shape).toEqual({ height: 4000, width: fixture.samples.columns.length });
    for (const column of fixture.samples.columns) {
      const read = frame.getColumn(column.name);
      // What does not exist for a unit, such as the play of a preloaded one, is null.
      const expected = Array.from(column.values, (value) => (Number.isFinite(value) ? value : null));
      expect(read.toArray(), column.name).toEqual(expected);
    }
    expect(String(frame.getColumn("hot.outcome").dtype)).toBe(String(polars.UInt8));
    expect(String(frame.getColumn("hot.flags").dtype)).toBe(String(polars.UInt16));
    expect(String(frame.getColumn("hot.preloadN").dtype)).toBe(String(polars.Float64));
  });

  it("carries unit and description of each column, and the meaning of its codes", () => {
    const { schema } = tableFromIPC(writeBatches(fixture.samples, [4000]));
    for (const [index, column] of fixture.samples.columns.entries()) {
      const field = schema.fields[index];
      expect(field?.nullable, column.name).toBe(column.values instanceof Float64Array);
      expect(field?.metadata.get("unit"), column.name).toBe(column.unit);
      expect(field?.metadata.get("description"), column.name).toBe(column.description);
    }
    expect(schema.metadata.get("scenarioHash")).toBe(fixture.result.provenance.scenarioHash);
    expect(schema.metadata.get("seed")).toBe("roller-1");
    expect(schema.metadata.get("outcomes")?.split(",")).toEqual([...OUTCOMES]);
    expect(schema.metadata.get("flags")?.split(",")).toEqual([...FLAGS]);
  });

  it("keeps letters beyond ASCII in descriptions", () => {
    const { schema } = tableFromIPC(writeBatches(fixture.samples, [4000]));
    const field = schema.fields.find(({ name }) => name === "machinedOffsetMm");
    expect(field?.metadata.get("description")).toBe("offset as machined, at 20 °C (δ = H − S)");
  });

  it("writes an empty table that both readers open, with all its columns", () => {
    const bytes = writeBatches(fixture.samples, []);
    expect(tableFromIPC(bytes).numRows).toBe(0);
    expect(tableFromIPC(bytes).schema.fields.map(({ name }) => name)).toEqual(
      fixture.samples.columns.map(({ name }) => name),
    );
    expect(polars.readIPC(bytes).shape).toEqual({ height: 0, width: fixture.samples.columns.length });
  });

  it("hands each batch on before append returns, holding nothing back", () => {
    let written = 0;
    const file = openSampleFile(columnSpecs(fixture.samples), {}, (bytes) => {
      written += bytes.byteLength;
    });
    const rowBytes = fixture.samples.columns.reduce((sum, { values }) => sum + values.BYTES_PER_ELEMENT, 0);
    for (let batch = 1; batch <= 5; batch += 1) {
      file.append(slice(fixture.samples, 0, 1000));
      expect(written).toBeGreaterThanOrEqual(batch * 1000 * rowBytes);
    }
    file.close();
  });

  it("refuses a column that is shorter than its batch, which the library would pad", () => {
    const file = openSampleFile(columnSpecs(fixture.samples), {}, () => {});
    const [first, ...rest] = fixture.samples.columns as [SampleColumn, ...SampleColumn[]];
    const short = { count: 4000, columns: [{ ...first, values: first.values.subarray(0, 3999) }, ...rest] };
    expect(() => file.append(short)).toThrow(InternalError);
    expect(() => file.append(short)).toThrow("column unit has 3999 values in a batch of 4000 rows");
  });

  it("refuses columns in another order, of another type, or after closing", () => {
    const file = openSampleFile(columnSpecs(fixture.samples), {}, () => {});
    expect(() => file.append({ count: 4000, columns: [...fixture.samples.columns].reverse() })).toThrow(InternalError);
    const codes = fixture.samples.columns.map((column) =>
      column.name === "hot.outcome" ? { ...column, values: Uint16Array.from(column.values) } : column,
    );
    expect(() => file.append({ count: 4000, columns: codes })).toThrow("must be hot.outcome (uint8)");
    file.close();
    expect(() => file.append(fixture.samples)).toThrow("closed");
  });
});
