import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import {
  axisRatioFromCurvatureDifferenceComplement,
  completeEllipticIntegrals,
} from "../../../src/physics/elliptic.ts";
import {
  type GroovedContactGeometry,
  groovedContact,
  peakPressureMPa,
  seriesStiffness,
} from "../../../src/physics/hertz.ts";

const steel = { youngsModulusMPa: 208_000, poissonRatio: 0.3 };
const ceramic = { youngsModulusMPa: 310_000, poissonRatio: 0.27 };
const base: GroovedContactGeometry = {
  ballDiameterMm: 6.35,
  pitchDiameterMm: 31,
  conformityRatio: 0.515,
  contactAngleRad: 0.2,
  race: "inner",
  ball: steel,
  ring: steel,
};

test("the axis ratio solves the curvature equation to 1e-14 from a circle to a needle", () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-6, max: 1, noNaN: true }), (complement) => {
      const kappa = axisRatioFromCurvatureDifferenceComplement(complement);
      const n = 1 / (kappa * kappa);
      expect(kappa).toBeGreaterThanOrEqual(1);
      if (n > 0.999) return;
      const { first, second, deficitRatio } = completeEllipticIntegrals(n);
      const value = (2 * n * first * deficitRatio) / ((1 - n) * second);
      // dκ/κ = ½·dn/n and the equation's slope is at most 1 in n.
      expect(Math.abs(value / complement - 1)).toBeLessThan(2e-14 / (1 - n));
    }),
    { numRuns: 2000 },
  );
});

test("equal curvatures give a circle, and a curvature difference of 1 is refused", () => {
  expect(axisRatioFromCurvatureDifferenceComplement(1)).toBe(1);
  expect(axisRatioFromCurvatureDifferenceComplement(1 - 1e-9)).toBeCloseTo(1, 8);
  expect(() => axisRatioFromCurvatureDifferenceComplement(0)).toThrow(InputError);
});

describe("contact of ball and groove", () => {
  test("peak pressure is 1.5 times the load over the ellipse's area", () => {
    const contact = groovedContact(base);
    const root = Math.cbrt(50);
    const area = Math.PI * contact.semiMajorCoefficientMm * contact.semiMinorCoefficientMm * root * root;
    expect(peakPressureMPa(contact.pressureCoefficientMPa, 50)).toBeCloseTo((1.5 * 50) / area, 9);
  });

  test("lengths scale with size: at double the ball and pitch the stiffness grows by √2", () => {
    const doubled = groovedContact({ ...base, ballDiameterMm: 12.7, pitchDiameterMm: 62 });
    expect(doubled.stiffnessNPerMm15 / groovedContact(base).stiffnessNPerMm15).toBeCloseTo(Math.SQRT2, 12);
  });

  test("ceramic balls are stiffer and press harder; a closer groove is stiffer and presses less", () => {
    const hybrid = groovedContact({ ...base, ball: ceramic });
    const open = groovedContact({ ...base, conformityRatio: 0.53 });
    const closed = groovedContact(base);
    expect(hybrid.stiffnessNPerMm15).toBeGreaterThan(closed.stiffnessNPerMm15);
    expect(hybrid.pressureCoefficientMPa).toBeGreaterThan(closed.pressureCoefficientMPa);
    expect(open.stiffnessNPerMm15).toBeLessThan(closed.stiffnessNPerMm15);
    expect(open.pressureCoefficientMPa).toBeGreaterThan(closed.pressureCoefficientMPa);
  });

  test("two equal contacts in series have 2^-1.5 of the stiffness of one, whichever comes first", () => {
    expect(seriesStiffness(1e6, 1e6)).toBeCloseTo(1e6 / 2 ** 1.5, 6);
    expect(seriesStiffness(1e6, 8e5)).toBe(seriesStiffness(8e5, 1e6));
  });

  const impossible: [string, Partial<GroovedContactGeometry>, string][] = [
    ["a groove of the ball's own radius", { conformityRatio: 0.5 }, "conformityRatio"],
    ["a groove tighter than the ball", { conformityRatio: 0.49 }, "conformityRatio"],
    ["no number for the conformity", { conformityRatio: Number.NaN }, "conformityRatio"],
    ["a ball as large as its pitch circle", { pitchDiameterMm: 6.35 }, "pitchDiameterMm"],
    ["a ball of no size", { ballDiameterMm: 0 }, "ballDiameterMm"],
    ["a right angle of contact", { contactAngleRad: 1.6 }, "contactAngleRad"],
    ["a Poisson ratio above one half", { ball: { youngsModulusMPa: 2e5, poissonRatio: 0.6 } }, "ball.poissonRatio"],
    ["a modulus of zero", { ring: { youngsModulusMPa: 0, poissonRatio: 0.3 } }, "ring.youngsModulusMPa"],
  ];
  for (const [name, change, path] of impossible) {
    test(`refuses ${name}`, () => {
      try {
        groovedContact({ ...base, ...change });
        expect.unreachable("nothing was thrown");
      } catch (error) {
        expect(error).toBeInstanceOf(InputError);
        expect((error as InputError).problems[0].path).toBe(path);
      }
    });
  }
});
