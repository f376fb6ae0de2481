import { tableFromIPC } from "apache-arrow";
import polars from "nodejs-polars";
import { beforeAll, describe, expect, test } from "vitest";
import { renderReport } from "../../src/report/render.ts";
import { summaryText } from "../../src/report/summary-text.ts";
import { verdict } from "../../src/report/verdict.ts";
import type { RunResult, SampleTable } from "../../src/studies/result.ts";
import { columnSpecs, openSampleFile } from "../../src/tables/samples.ts";
import { writeSummary } from "../../src/tables/summary.ts";
import { summaryRows } from "../../src/tables/summary-rows.ts";
import { makeFixture } from "../support/result-fixture.ts";
import { shipped } from "../support/shipped.ts";
import { runStudy } from "../support/yield.ts";

const bytesOf = (write: (take: (bytes: Uint8Array) => void) => void): Buffer => {
  const parts: Uint8Array[] = [];
  write((bytes) => parts.push(bytes.slice()));
  return Buffer.concat(parts);
};
const words = (html: string) =>
  html.replace(/<style[\s\S]*?<\/style>|<svg[\s\S]*?<\/svg>|<[^>]*>/g, " ").replace(/\s+/g, " ");

/** A run of one unit that has no play: no spread of anything, and no axial play to average. */
describe("a figure that does not exist", () => {
  let result: RunResult;
  let samples: SampleTable;
  beforeAll(async () => {
    const ran = await runStudy(shipped("laminating-roller.yaml", { samples: 1 }), { rare: false });
    result = { ...ran.finding, verdict: verdict(ran.finding) };
    samples = ran.samples;
  }, 60_000);

  test("is null in the data, and no figure is anything but a number, null, text or a truth value", () => {
    const json = JSON.parse(JSON.stringify(result)) as RunResult;
    expect(json.states[0].preloadN.sd).toBeNull();
    expect(json.states[0].playMm).toMatchObject({ count: 0, mean: null, sd: null, min: null, max: null });
    expect(json.states[0].playMm.quantiles.every(({ value }) => value === null)).toBe(true);
    expect(JSON.stringify(result)).not.toMatch(/NaN|Infinity|undefined/);
  });

  test("is null in the table wherever it is none in the data, and only there, in another reader too (polars, Rust)", () => {
    const bytes = bytesOf((take) => writeSummary(result, take));
    const rows = summaryRows(result);
    const read = tableFromIPC(bytes)
      .toArray()
      .map((row) => row.toJSON());
    const frame = polars.readIPC(bytes);
    for (const column of ["value", "low", "high", "count"] as const) {
      const expected = rows.map((row) => (Number.isFinite(row[column]) ? row[column] : null));
      expect(expected.filter((value) => value === null).length, column).toBeGreaterThan(0);
      expect(expected.filter((value) => value !== null).length, column).toBeGreaterThan(0);
      expect(read.map((row) => row[column])).toEqual(expected);
      expect(frame.getColumn(column).toArray()).toEqual(expected);
    }
  });

  test("is a dash on the page, beside how many units there were of it, and never NaN on page or terminal", () => {
    const page = words(renderReport(result, samples));
    expect(page).toMatch(/axial play left units 1 % 5 % median 95 % 99 % on the bench 0 – – – – –/i);
    const terminal = summaryText(result, { color: false, width: 100 });
    for (const text of [page, terminal]) expect(text).not.toMatch(/NaN|undefined|Infinity|∞|\bnull\b/);
  });

  test("is a dash on the terminal too, where a share has neither value nor bound", () => {
    const none = {
      count: 0,
      shareRatio: Number.NaN,
      lowRatio: Number.NaN,
      highRatio: Number.NaN,
      method: "wilson",
    } as const;
    const [bench, ...others] = result.states;
    const states = [{ ...bench, outcomes: { ...bench.outcomes, heavy: none } }, ...others];
    const text = summaryText({ ...result, states }, { color: false, width: 100 });
    expect(text).toMatch(/^on the bench.* –( |$)/m);
  });
});

test("a quantity that a unit does not have is null in its row of the samples, to the bit of the mask over eight rows", () => {
  const { samples, result } = makeFixture();
  const [first, ...rest] = samples.columns;
  const holes = new Set([0, 3, 7, 8, 9, 16]);
  const values = Float64Array.from({ length: 17 }, (_, row) => (holes.has(row) ? Number.NaN : row + 0.5));
  const table: SampleTable = {
    count: 17,
    columns: [{ ...first, values }, ...rest.map((column) => ({ ...column, values: column.values.slice(0, 17) }))],
  };
  const bytes = bytesOf((take) => {
    const file = openSampleFile(columnSpecs(table), { seed: result.provenance.seed }, take);
    file.append(table);
    file.close();
  });
  const expected = Array.from(values, (value, row) => (holes.has(row) ? null : value));
  const column = tableFromIPC(bytes).getChild(first.name)!;
  expect(column.nullCount).toBe(holes.size);
  expect([...column]).toEqual(expected);
  expect(polars.readIPC(bytes).getColumn(first.name).toArray()).toEqual(expected);
});
