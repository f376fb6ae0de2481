import { describe, expect, test } from "vitest";
import {
  equivalentInnerDiameterMm,
  equivalentOuterDiameterMm,
  innerFit,
  outerFit,
  retentionForceN,
} from "../../../src/physics/ring-fit.ts";

const steel = { youngsModulusMPa: 208_000, poissonRatio: 0.3 };
// The reference solution took these constants for the alloy.
const titanium = { youngsModulusMPa: 113_800, poissonRatio: 0.342 };
const aluminium = { youngsModulusMPa: 68_900, poissonRatio: 0.33 };
const interferenceMm = 0.01;

const shaftCases = [
  { name: "solid", bore: 0, shaft: steel, pressure: 22.757311, growthUm: 7.499063 },
  { name: "bore 8", bore: 8, shaft: steel, pressure: 21.006229, growthUm: 6.922041 },
  { name: "bore 10", bore: 10, shaft: steel, pressure: 19.860114, growthUm: 6.544369 },
  { name: "bore 14", bore: 14, shaft: steel, pressure: 16.02088, growthUm: 5.279252 },
  { name: "solid Ti-6Al-4V", bore: 0, shaft: titanium, pressure: 20.5022, growthUm: 6.75594 },
  { name: "solid aluminium 6061", bore: 0, shaft: aluminium, pressure: 17.6493, growthUm: 5.81584 },
];

describe("inner ring 20/26.67 at 10 µm (independent Lamé solution, six to eight digits)", () => {
  for (const one of shaftCases) {
    test(one.name, () => {
      const fit = innerFit({
        seatDiameterMm: 20,
        racewayDiameterMm: 26.67,
        shaftBoreMm: one.bore,
        ring: steel,
        shaft: one.shaft,
      });
      expect(fit.pressurePerInterferenceMPaPerMm * interferenceMm).toBeCloseTo(one.pressure, 4);
      expect(fit.racewayRatio * interferenceMm * 1000).toBeCloseTo(one.growthUm, 5);
    });
  }
});

const housingCases = [
  { name: "endless", outside: Number.POSITIVE_INFINITY, housing: steel, pressure: 6.482729, shrinkUm: 8.408511 },
  { name: "outside 100", outside: 100, housing: steel, pressure: 5.985533, shrinkUm: 7.763616 },
  { name: "outside 70", outside: 70, housing: steel, pressure: 5.225925, shrinkUm: 6.778356 },
  { name: "outside 60", outside: 60, housing: steel, pressure: 4.424301, shrinkUm: 5.738599 },
  { name: "aluminium 6061, outside 70", outside: 70, housing: aluminium, pressure: 3.0525, shrinkUm: 3.95929 },
];

describe("outer ring 47/39.52 at 10 µm (independent Lamé solution, six to eight digits)", () => {
  for (const one of housingCases) {
    test(one.name, () => {
      const fit = outerFit({
        seatDiameterMm: 47,
        racewayDiameterMm: 39.52,
        housingOutsideDiameterMm: one.outside,
        ring: steel,
        housing: one.housing,
      });
      expect(fit.pressurePerInterferenceMPaPerMm * interferenceMm).toBeCloseTo(one.pressure, 4);
      expect(fit.racewayRatio * interferenceMm * 1000).toBeCloseTo(one.shrinkUm, 5);
    });
  }
});

test("one material: growth and shrinkage are the closed forms of NTN CAT. No. 2202/E, Table 17.4.1", () => {
  const square = (value: number) => value * value;
  for (const bore of [0, 6, 12, 18]) {
    const fit = innerFit({ seatDiameterMm: 20, racewayDiameterMm: 27, shaftBoreMm: bore, ring: steel, shaft: steel });
    const closed = ((20 / 27) * (1 - square(bore / 20))) / (1 - square(bore / 27));
    expect(Math.abs(fit.racewayRatio / closed - 1)).toBeLessThan(1e-14);
  }
  for (const outside of [50, 60, 90, Number.POSITIVE_INFINITY]) {
    const fit = outerFit({
      seatDiameterMm: 47,
      racewayDiameterMm: 40,
      housingOutsideDiameterMm: outside,
      ring: steel,
      housing: steel,
    });
    const closed = ((40 / 47) * (1 - square(47 / outside))) / (1 - square(40 / outside));
    expect(Math.abs(fit.racewayRatio / closed - 1)).toBeLessThan(1e-14);
  }
});

test("shrink fit 4/6/8 in, 0.005 in on the radius, 30e6 psi: 4050 psi (Timoshenko, Strength of Materials II; from memory)", () => {
  // Both members are tubes of one material; the inner one stands for the shaft. The units cancel but for the pressure's.
  const material = { youngsModulusMPa: 30e6, poissonRatio: 0.3 };
  const fit = innerFit({
    seatDiameterMm: 12,
    racewayDiameterMm: 16,
    shaftBoreMm: 8,
    ring: material,
    shaft: material,
  });
  const pressurePsi = fit.pressurePerInterferenceMPaPerMm * 0.01;
  expect(Math.round(pressurePsi / 10) * 10).toBe(4050);
});

test("mean groove diameters of a 20 × 47 bearing: 26.67 and 39.52 mm (NTN CAT. No. 2202/E, Table 17.4.2)", () => {
  expect(equivalentInnerDiameterMm(20, 47)).toBeCloseTo(26.67, 10);
  expect(equivalentOuterDiameterMm(20, 47)).toBeCloseTo(39.52, 10);
});

test("axial retention of the 20 mm seat at 10 µm, width 14, friction 0.12: 2402 N (formula of NTN CAT. No. 2202/E, 17.5)", () => {
  expect(retentionForceN(0.12, 22.757311, 20, 14)).toBeCloseTo(2402, 0);
  expect(retentionForceN(0.12, -1, 20, 14)).toBe(0);
});
