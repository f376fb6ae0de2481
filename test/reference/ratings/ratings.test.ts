import { describe, expect, test } from "vitest";
import { dynamicFactor, staticFactor } from "../../../src/physics/rating-factors.ts";
import { basicDynamicRatingN, basicStaticRatingN } from "../../../src/physics/ratings.ts";
import { readCsv } from "../../support/csv.ts";

describe("deep-groove ball sets (ball-sets.csv, printed to 0.1 N)", () => {
  for (const row of readCsv(new URL("ball-sets.csv", import.meta.url))) {
    test(row.designation, () => {
      const set = {
        ballCount: Number(row.Z),
        ballDiameterMm: Number(row.Dw_mm),
        pitchDiameterMm: 0.5 * (Number(row.d_mm) + Number(row.D_mm)),
        contactAngleRad: 0,
        rows: 1,
      };
      expect(Math.abs(basicDynamicRatingN(set) - Number(row.C_ISO281_N))).toBeLessThanOrEqual(0.0501);
      expect(Math.abs(basicStaticRatingN(set) - Number(row.C0_ISO76_N))).toBeLessThanOrEqual(0.0501);
    });
  }
});

test("factors are those of ISO 76:2006 Table 1 and ISO 281:2007 Table 2 at every row, linear between", () => {
  for (const row of readCsv(new URL("factors.csv", import.meta.url))) {
    const gamma = Number(row.gamma);
    expect(staticFactor(gamma)).toBeCloseTo(Number(row.f0_iso76), 9);
    if (row.fc_iso281 !== "") expect(dynamicFactor(gamma)).toBeCloseTo(Number(row.fc_iso281), 9);
  }
  expect(staticFactor(0.305)).toBeCloseTo(11.5, 9);
  expect(dynamicFactor(0.015)).toBeCloseTo(32.45, 9);
});

// The standards' example prints its ball set and factors but not the pitch diameter: one that gives γ = 0.07.
const example = {
  ballCount: 27,
  ballDiameterMm: 7.5,
  pitchDiameterMm: (7.5 * Math.cos((40 * Math.PI) / 180)) / 0.07,
  contactAngleRad: (40 * Math.PI) / 180,
  rows: 1,
};

test("angular contact, 27 balls of 7.5 mm at 40°: C_r = 18 651 N (ISO 281:2007, annex example)", () => {
  // The annex works with rounded powers; 0.05 % covers that.
  expect(Math.abs(basicDynamicRatingN(example) / 18_651 - 1)).toBeLessThan(5e-4);
});

test("the same bearing: C_0r = 18 731 N (ISO 76:2006, A.5.2)", () => {
  expect(Math.abs(basicStaticRatingN(example) / 18_731 - 1)).toBeLessThan(1e-4);
});

test("balls above 25.4 mm follow 3.647·Dw^1.4, which meets Dw^1.8 at that size within 0.1 % (ISO 281:2007, 5.1)", () => {
  const at = (ballDiameterMm: number) =>
    basicDynamicRatingN({
      ballCount: 10,
      ballDiameterMm,
      pitchDiameterMm: 5 * ballDiameterMm,
      contactAngleRad: 0,
      rows: 1,
    });
  expect(Math.abs(at(25.4001) / at(25.4) - 1)).toBeLessThan(1e-3);
  expect(at(50.8) / at(25.4001)).toBeCloseTo(2 ** 1.4, 3);
});
