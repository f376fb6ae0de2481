import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import {
  axialDisplacementMm,
  axialForceN,
  axialPlayMm,
  axialStiffnessNPerMm,
  ballLoadN,
  clearanceForFreeAngleMm,
  contactAngleRad,
  contactDeflectionMm,
  freeContactAngleRad,
  halfAxialPlayMm,
  requirePossibleClearance,
} from "../../../src/physics/axial-contact.ts";

const distance = fc.double({ min: 0.05, max: 1, noNaN: true });
const clearanceShare = fc.double({ min: -0.1, max: 0.5, noNaN: true });
const stiffness = fc.double({ min: 1e4, max: 1e7, noNaN: true });
const displacement = fc.double({ min: -0.5, max: 0.5, noNaN: true });

describe("axial force", () => {
  test("is odd, monotone to rounding and zero exactly within the play, for clearances on both sides of zero", () => {
    fc.assert(
      fc.property(distance, clearanceShare, stiffness, displacement, displacement, (a, share, c, x, y) => {
        const clearance = share * a;
        const force = axialForceN(x, c, a, clearance);
        expect(axialForceN(-x, c, a, clearance) + 0).toBe(-force + 0);
        expect(Number.isFinite(force)).toBe(true);
        const [low, high] = x < y ? [x, y] : [y, x];
        // To the rounding of the formula: of two neighbouring numbers the force may fall by its last bits.
        const rounding = 2e-15 * Math.abs(force);
        expect(axialForceN(high, c, a, clearance) + rounding).toBeGreaterThanOrEqual(axialForceN(low, c, a, clearance));
        const half = halfAxialPlayMm(a, clearance);
        if (Math.abs(x) < half * (1 - 1e-12)) expect(force).toBe(0);
        if (Math.abs(x) > half * (1 + 1e-12) && Math.abs(x) > 1e-9) expect(Math.abs(force)).toBeGreaterThan(0);
      }),
    );
  });

  test("stiffness is its derivative (central difference, 1e-6)", () => {
    fc.assert(
      fc.property(distance, clearanceShare, fc.double({ min: 0.02, max: 0.3, noNaN: true }), (a, share, beyond) => {
        const clearance = share * a;
        const x = halfAxialPlayMm(a, clearance) + beyond * a;
        const step = 1e-5 * x;
        const difference =
          (axialForceN(x + step, 1e5, a, clearance) - axialForceN(x - step, 1e5, a, clearance)) / (2 * step);
        expect(Math.abs(axialStiffnessNPerMm(x, 1e5, a, clearance) / difference - 1)).toBeLessThan(1e-6);
      }),
    );
  });

  test("the displacement at a force gives that force back, with its sign", () => {
    fc.assert(
      fc.property(
        distance,
        clearanceShare,
        stiffness,
        fc.double({ min: 1e-6, max: 1e5, noNaN: true }),
        fc.boolean(),
        (a, share, c, size, negative) => {
          const force = negative ? -size : size;
          const x = axialDisplacementMm(force, c, a, share * a);
          // Near the onset the force follows the 1.5th power of a small difference, which magnifies the rounding of x.
          const rounding = 3e-16 * Math.abs(x) * axialStiffnessNPerMm(x, c, a, share * a);
          expect(Math.abs(axialForceN(x, c, a, share * a) - force)).toBeLessThan(1e-13 * size + 8 * rounding);
        },
      ),
      { numRuns: 1000 },
    );
  });

  test("a force too small for the digits of a displacement gives the onset, to rounding (F ~ (x − x₀)^1.5 there)", () => {
    fc.assert(
      fc.property(
        distance,
        fc.double({ min: 1e-3, max: 0.5, noNaN: true }),
        fc.double({ min: -300, max: -22, noNaN: true }),
        fc.constantFrom(1, -1),
        (a, share, exponent, sign) => {
          const onset = halfAxialPlayMm(a, share * a);
          const x = axialDisplacementMm(sign * 10 ** exponent, 1e6, a, share * a);
          expect(Math.sign(x)).toBe(sign);
          expect(Math.abs(Math.abs(x) / onset - 1)).toBeLessThan(2e-12);
        },
      ),
      { numRuns: 300 },
    );
  });

  test("balls that do not touch carry nothing", () => {
    expect(ballLoadN(0.05, 1e5, 0.25, 0.02)).toBe(0);
    expect(contactDeflectionMm(0.05, 0.25, 0.02)).toBeLessThan(0);
  });

  test("force is ball count times ball load times the sine of the contact angle", () => {
    const [a, g, k] = [0.254, 0.0125, 265_145.67];
    const x = 0.07;
    const sine = Math.sin(contactAngleRad(x, a, g));
    expect(axialForceN(x, 9 * k, a, g)).toBeCloseTo(9 * ballLoadN(x, k, a, g) * sine, 9);
  });

  test("radial interference loads the balls in the middle position without an axial force", () => {
    expect(axialForceN(0, 1e6, 0.25, -0.004)).toBe(0);
    expect(contactDeflectionMm(0, 0.25, -0.004)).toBeCloseTo(0.002, 15);
    expect(ballLoadN(0, 1e5, 0.25, -0.004)).toBeCloseTo(1e5 * 0.002 ** 1.5, 10);
    expect(axialStiffnessNPerMm(0, 1e6, 0.25, -0.004)).toBeGreaterThan(0);
  });
});

describe("free contact angle and play", () => {
  test("play is twice the centre distance times the sine of the free angle; cosine rule holds", () => {
    fc.assert(
      fc.property(distance, fc.double({ min: 1e-6, max: 0.9, noNaN: true }), (a, share) => {
        const g = share * a;
        const angle = freeContactAngleRad(a, g);
        expect(axialPlayMm(a, g)).toBeCloseTo(2 * a * Math.sin(angle), 13);
        expect(Math.cos(angle)).toBeCloseTo(1 - g / (2 * a), 13);
        expect(clearanceForFreeAngleMm(a, angle)).toBeCloseTo(g, 13);
      }),
    );
  });

  test("is none at zero clearance and under interference", () => {
    for (const g of [0, -0.001, -0.02]) {
      expect(axialPlayMm(0.3, g)).toBe(0);
      expect(freeContactAngleRad(0.3, g)).toBe(0);
    }
  });

  test("a clearance that lets the balls fall through is refused with its path", () => {
    expect(() => requirePossibleClearance(0.2, 0.4, "bearings.a.clearance")).toThrow(InputError);
    expect(() => requirePossibleClearance(0.2, 0.01, "bearings.a.clearance")).not.toThrow();
  });
});

test("two equal bearings pinched by half the offset each (independent solution of the same equations)", () => {
  const half = (offsetUm: number) => axialForceN(offsetUm / 2000, 9 * 265_145.67, 0.254, 0.0125);
  expect(half(128.1879)).toBeCloseTo(49.75, 2);
  expect(half(141.9915)).toBeCloseTo(149.25, 2);
  expect(half(100)).toBe(0);
});
