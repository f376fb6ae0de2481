/**
 * What dieharder said of the streams of this version (R. G. Brown, D. Eddelbuettel, D. Bauer, "Dieharder: a random number test suite", 3.31.1).
 *
 * Its own words: WEAK for p below 0.005 or above 0.995 (1 in 100 for perfect numbers), FAILED for p below 1e-6 or above 1 - 1e-6.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { STREAM_VERSION } from "../../src/random/streams.ts";
import { kolmogorovSmirnov } from "../support/kolmogorov-smirnov.ts";
import { ORDERS } from "./orders.ts";
import type { BatteryRecord } from "./record.ts";

const record: BatteryRecord = JSON.parse(readFileSync(new URL("./record.json", import.meta.url), "utf8"));

describe("the record of the battery", () => {
  it("is of the present streams, read in every order: a new stream version needs `npm run battery -- --record test/battery/record.json`", () => {
    expect(record.streamVersion).toBe(STREAM_VERSION);
    expect(Object.keys(record.orders).sort()).toEqual(Object.keys(ORDERS).sort());
    for (const order of Object.keys(ORDERS)) {
      expect(record.results.filter((result) => result.order === order).length).toBeGreaterThan(4);
    }
  });
  it("has no failure, and no more weak ones than chance has (1 in 100, four standard errors)", () => {
    expect(record.results.filter((result) => result.assessment === "FAILED")).toEqual([]);
    const weak = record.results.filter((result) => result.assessment === "WEAK").length;
    const expected = record.results.length / 100;
    expect(weak).toBeLessThanOrEqual(expected + 4 * Math.sqrt(expected));
  });
  it("has p-values that are uniform themselves (Kolmogorov-Smirnov, false alarm 1e-3; one of each test whose patterns nest)", () => {
    const independent = record.results.filter(({ test, tuple }) => test !== "sts_serial" || tuple === 16);
    expect(
      kolmogorovSmirnov(
        Float64Array.from(independent, ({ p }) => p),
        (p) => p,
      ).p,
    ).toBeGreaterThan(1e-3);
  });
});
