import { describe, expect, test } from "vitest";
import {
  boreDeviationMm,
  outsideDiameterDeviationMm,
  ringWidthDeviationMm,
} from "../../../src/catalogue/ring-tolerances.ts";
import { readCsv } from "../../support/csv.ts";

const inner = readCsv(new URL("inner.csv", import.meta.url));
const outer = readCsv(new URL("outer.csv", import.meta.url));
const classes = [
  ["Normal", "N"],
  ["6", "6"],
  ["5", "5"],
] as const;

describe("inner rings and widths (ISO 492)", () => {
  test.each(inner)("bore over $d_over to $d_incl mm", (row) => {
    const overMm = Number(row.d_over);
    const includingMm = Number(row.d_incl);
    for (const [toleranceClass, column] of classes) {
      for (const boreMm of [overMm + 0.001, includingMm]) {
        const bore = boreDeviationMm(boreMm, toleranceClass);
        expect([bore.lowMm, bore.highMm]).toEqual([Number(row[`dmp_${column}`]) / 1000, 0]);
        const width = ringWidthDeviationMm(boreMm, toleranceClass);
        expect([width.lowMm, width.highMm]).toEqual([Number(row[`dBs_${column}`]) / 1000, 0]);
        const paired = row[toleranceClass === "5" ? "dB1s_paired_5" : "dB1s_paired_N6"];
        if (paired !== "" && overMm >= 2.5) {
          expect(ringWidthDeviationMm(boreMm, toleranceClass, "", true).lowMm).toBe(Number(paired) / 1000);
        }
      }
    }
  });
});

describe("outer rings (ISO 492)", () => {
  test.each(outer)("outside diameter over $D_over to $D_incl mm", (row) => {
    for (const [toleranceClass, column] of classes) {
      for (const diameterMm of [Number(row.D_over) + 0.001, Number(row.D_incl)]) {
        const found = outsideDiameterDeviationMm(diameterMm, toleranceClass);
        expect([found.lowMm, found.highMm]).toEqual([Number(row[`Dmp_${column}`]) / 1000, 0]);
      }
    }
  });
});
