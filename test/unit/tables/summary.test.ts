import { tableFromIPC } from "apache-arrow";
import polars from "nodejs-polars";
import { describe, expect, it } from "vitest";
import { writeSummary } from "../../../src/tables/summary.ts";
import { summaryRows } from "../../../src/tables/summary-rows.ts";
import { makeFixture } from "../../support/result-fixture.ts";

const { result } = makeFixture();
const full = { ...result, verdict: [] };

function bytesOf(): Buffer {
  const chunks: Uint8Array[] = [];
  writeSummary(full, (bytes) => chunks.push(Uint8Array.from(bytes)));
  return Buffer.concat(chunks);
}

describe("summary.arrow", () => {
  it("reads back as the rows it was made from", () => {
    const table = tableFromIPC(bytesOf());
    // What does not exist is NaN among the rows and null in the file.
    const rows = summaryRows(full).map((row) =>
      Object.fromEntries(Object.entries(row).map(([key, value]) => [key, Number.isNaN(value) ? null : value])),
    );
    expect(table.toArray().map((row) => ({ ...row.toJSON() }))).toEqual(rows);
  });

  it("is filtered alike by an independent reader (polars, Rust)", () => {
    const frame = polars.readIPC(bytesOf());
    const hot = frame
      .filter(polars.col("scope").eq(polars.lit("hot")))
      .filter(polars.col("item").eq(polars.lit("bind")))
      .filter(polars.col("measure").eq(polars.lit("outcome")));
    const share = result.states[2]?.outcomes.bind;
    expect(hot.toRecords()).toMatchObject([
      { statistic: "share", value: share?.shareRatio, low: share?.lowRatio, high: share?.highRatio, unit: "1" },
    ]);
  });

  it("keeps the yield in every state, the averaged one, scrap and service apart", () => {
    const rows = summaryRows(full).filter(({ statistic, item }) => statistic === "share" && item === "");
    const scopes = rows.map(({ scope, value }) => [scope, value]);
    expect(scopes).toContainEqual(["every state", result.overall.goodInEveryState.shareRatio]);
    expect(scopes).toContainEqual(["averaged", 0.83]);
    expect(scopes).toContainEqual(["bench scrap", result.overall.failsAtBench.shareRatio]);
    expect(scopes).toContainEqual(["service", result.overall.failsInService.shareRatio]);
  });

  it("has one row for each figure: no two share scope, measure, item and statistic", () => {
    const keys = summaryRows(full).map(({ scope, measure, item, statistic }) =>
      [scope, measure, item, statistic].join("|"),
    );
    expect(new Set(keys).size).toBe(keys.length);
  });

  it("names scenario hash and seed in the schema", () => {
    const { metadata } = tableFromIPC(bytesOf()).schema;
    expect([metadata.get("scenarioHash"), metadata.get("seed")]).toEqual([result.provenance.scenarioHash, "roller-1"]);
  });
});
