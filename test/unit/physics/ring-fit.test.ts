import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { innerFit, outerFit, smoothingMm } from "../../../src/physics/ring-fit.ts";
import { clearanceChangeMm, growthMm, interferenceMm, lengthAtMm } from "../../../src/physics/thermal-growth.ts";

const steel = { youngsModulusMPa: 208_000, poissonRatio: 0.3 };
const inner = { seatDiameterMm: 20, racewayDiameterMm: 26, shaftBoreMm: 0, ring: steel, shaft: steel };
const outer = { seatDiameterMm: 47, racewayDiameterMm: 40, housingOutsideDiameterMm: 70, ring: steel, housing: steel };

describe("interference fits", () => {
  test("the ring never moves by more than the interference, and a stiffer mate moves it more", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 0.95, noNaN: true }),
        fc.double({ min: 0, max: 0.95, noNaN: true }),
        fc.double({ min: 5_000, max: 400_000, noNaN: true }),
        (wall, bore, youngsModulusMPa) => {
          const shaft = { youngsModulusMPa, poissonRatio: 0.3 };
          const fit = innerFit({ ...inner, racewayDiameterMm: 20 / wall, shaftBoreMm: 20 * bore, shaft });
          expect(fit.racewayRatio).toBeGreaterThan(0);
          expect(fit.racewayRatio).toBeLessThan(1);
          expect(fit.pressurePerInterferenceMPaPerMm).toBeGreaterThan(0);
          const softer = innerFit({
            ...inner,
            racewayDiameterMm: 20 / wall,
            shaftBoreMm: 20 * bore,
            shaft: { ...shaft, youngsModulusMPa: 0.5 * youngsModulusMPa },
          });
          expect(softer.racewayRatio).toBeLessThan(fit.racewayRatio);
        },
      ),
    );
  });

  test("an endless housing is the limit of a thick one", () => {
    const endless = outerFit({ ...outer, housingOutsideDiameterMm: Number.POSITIVE_INFINITY });
    const thick = outerFit({ ...outer, housingOutsideDiameterMm: 1e7 });
    expect(thick.racewayRatio).toBeCloseTo(endless.racewayRatio, 10);
  });

  test("diameters that do not nest are refused", () => {
    expect(() => innerFit({ ...inner, shaftBoreMm: 20 })).toThrow(InputError);
    expect(() => innerFit({ ...inner, shaftBoreMm: -1 })).toThrow(InputError);
    expect(() => innerFit({ ...inner, racewayDiameterMm: 20 })).toThrow(InputError);
    expect(() => outerFit({ ...outer, housingOutsideDiameterMm: 47 })).toThrow(InputError);
    expect(() => outerFit({ ...outer, racewayDiameterMm: 48 })).toThrow(InputError);
    expect(() => outerFit({ ...outer, racewayDiameterMm: Number.NaN })).toThrow(InputError);
  });

  test("smoothing is 0.8 of both roughnesses (DIN 7190-1)", () => {
    expect(smoothingMm(0.001, 0.003)).toBeCloseTo(0.0032, 15);
    expect(() => smoothingMm(-0.001, 0.003)).toThrow(InputError);
  });
});

describe("thermal growth", () => {
  test("aluminium of 60 mm from 20 to 90 °C at 23.4e-6/K grows by 98.28 µm; nothing grows at 20 °C", () => {
    expect(growthMm(60, 23.4e-6, 90)).toBeCloseTo(0.09828, 10);
    expect(lengthAtMm(60, 23.4e-6, 20)).toBe(60);
  });

  test("one material at one temperature: clearance stays and interference only grows by its own α·ΔT", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -60, max: 200, noNaN: true }),
        fc.double({ min: 1e-6, max: 3e-5, noNaN: true }),
        (temperatureC, expansionPerK) => {
          const change = clearanceChangeMm({
            innerRacewayMm: 33.5 - 7.938,
            outerRacewayMm: 33.5 + 7.938,
            ballDiameterMm: 7.938,
            ringExpansionPerK: expansionPerK,
            ballExpansionPerK: expansionPerK,
            innerRingC: temperatureC,
            outerRingC: temperatureC,
            ballsC: temperatureC,
          });
          expect(Math.abs(change)).toBeLessThan(1e-15);
          const seat = interferenceMm(
            { diameterMm: 20.012, expansionPerK, temperatureC },
            { diameterMm: 20, expansionPerK, temperatureC },
          );
          expect(seat).toBeCloseTo(0.012 * (1 + expansionPerK * (temperatureC - 20)), 13);
        },
      ),
    );
  });

  test("a warmer inner ring takes clearance: 10 K at 12.5e-6/K over a 26.67 mm groove and 41.4 cold outside is 3.3 µm", () => {
    const heat = { ringExpansionPerK: 12.5e-6, ballExpansionPerK: 12.5e-6, outerRingC: 20, ballsC: 20 };
    const change = clearanceChangeMm({
      ...heat,
      innerRacewayMm: 26.67,
      outerRacewayMm: 41.4,
      ballDiameterMm: 7.365,
      innerRingC: 30,
    });
    expect(change).toBeCloseTo(-0.00333375, 12);
  });
});
