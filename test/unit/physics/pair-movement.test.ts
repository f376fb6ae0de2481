import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { liftOffLoadN } from "../../../src/physics/pair-lift-off.ts";
import {
  addPointForce,
  movementUnderLoadMm,
  playAtRadiusMm,
  pointMovementMm,
} from "../../../src/physics/pair-movement.ts";
import { type PairShaft, PairShaftSolver } from "../../../src/physics/pair-shaft.ts";
import { solvePairShaft } from "../../../src/physics/pair-solution.ts";
import { type PreloadPath, positionPath, springPath } from "../../../src/physics/preload-path.ts";
import { nineBallRow } from "../../support/bearing-rows.ts";

function pairOf(path: PreloadPath, arrangementSign: 1 | -1 = 1): PairShaft {
  return { arrangementSign, spanMm: 40, a: nineBallRow(0.0125), b: nineBallRow(0.008), path };
}

const size = fc.double({ min: -50, max: 50, noNaN: true });

describe("a point carried by the shaft", () => {
  test("moves by d + tilt × r: each component worked out by hand", () => {
    const moved = pointMovementMm(Float64Array.of(0.1, 0.2, 0.3, 0.001, 0.002), { alongMm: 30, yMm: 50, zMm: -20 });
    expect(moved[0]).toBeCloseTo(0.1 + 0.001 * -20 - 0.002 * 50, 14);
    expect(moved[1]).toBeCloseTo(0.2 + 0.002 * 30, 14);
    expect(moved[2]).toBeCloseTo(0.3 - 0.001 * 30, 14);
  });

  test("takes as much work from a force as the shaft takes from the load that the force is to it (virtual work)", () => {
    fc.assert(
      fc.property(
        fc.tuple(size, size, size),
        fc.tuple(size, size, size),
        fc.array(size, { minLength: 5, maxLength: 5 }),
        (f, r, d) => {
          const at = { alongMm: r[0], yMm: r[1], zMm: r[2] };
          const load = new Float64Array(5);
          addPointForce(load, { axialN: f[0], yN: f[1], zN: f[2] }, at);
          const ofPoint = pointMovementMm(Float64Array.from(d), at).reduce((sum, way, i) => sum + way * f[i], 0);
          const ofShaft = load.reduce((sum, force, i) => sum + force * d[i], 0);
          expect(Math.abs(ofPoint - ofShaft)).toBeLessThan(1e-9 * 50 ** 3);
        },
      ),
    );
  });

  test("moves under a further load by the difference of the two equilibria", () => {
    const pair = pairOf(positionPath(0.14, 1e-5));
    const resting = Float64Array.of(15, 40, -25, 300, 500);
    const added = Float64Array.of(-9, 30, 60, 900, -700);
    const at = { alongMm: 70, yMm: 12, zMm: -35 };
    const positionOf = (load: Float64Array) => {
      const { axialMm, radialYMm, radialZMm, tiltYRad, tiltZRad } = solvePairShaft(pair, load);
      // Rotation vector (0, tilt_y, tilt_z) across (along, y, z).
      return [
        axialMm + tiltYRad * at.zMm - tiltZRad * at.yMm,
        radialYMm + tiltZRad * at.alongMm,
        radialZMm - tiltYRad * at.alongMm,
      ];
    };
    const before = positionOf(resting);
    const after = positionOf(resting.map((force, i) => force + added[i]));
    const moved = movementUnderLoadMm(new PairShaftSolver(), pair, resting, added, at);
    for (let i = 0; i < 3; i++) {
      expect(Math.abs(after[i] - before[i])).toBeGreaterThan(1e-4);
      expect(moved[i]).toBeCloseTo(after[i] - before[i], 11);
    }
  });

  test("has no play without a load to feel it with", () => {
    const pair = pairOf(positionPath(0, 0));
    expect(() => playAtRadiusMm(new PairShaftSolver(), pair, 0, 0, 0)).toThrow(InputError);
  });
});

describe("the load that unloads a bearing", () => {
  const spring = { offsetMm: 1.1, complianceMmPerN: 1e-5, springComplianceMmPerN: 0.01, springSolidForceN: 150 };
  const paths: readonly { name: string; path: PreloadPath; slides: "a" | "b" | null }[] = [
    { name: "rigid", path: positionPath(0.14, 0), slides: null },
    { name: "elastic", path: positionPath(0.14, 1e-4), slides: null },
    { name: "elastic, by far less than a newton of preload", path: positionPath(0.1013, 1e-4), slides: null },
    { name: "spring at a, pulled", path: springPath({ ...spring, slidingBearing: "a" }), slides: "a" },
    { name: "spring at b, pulled", path: springPath({ ...spring, slidingBearing: "b" }), slides: "b" },
  ];
  const cases = paths.flatMap((each) =>
    ([1, -1] as const).flatMap((sign) => ([1, -1] as const).map((direction) => ({ ...each, sign, direction }))),
  );

  test.each(cases)(
    "$name, arrangement $sign, direction $direction: the full solver finds it touching just below and free just above",
    ({ path, slides, sign, direction }) => {
      const pair = pairOf(path, sign);
      const loadsA = sign === direction;
      // Onto the fixed bearing: the sliding ring of the other follows for its whole travel, out of any practical reach.
      if (slides === (loadsA ? "b" : "a")) {
        expect(liftOffLoadN(pair, direction)).toBeGreaterThan(1e4);
        return;
      }
      const load = liftOffLoadN(pair, direction);
      expect(load).toBeGreaterThan(0);
      if (path.offsetMm < 0.102) expect(load).toBeLessThan(0.9);
      const unloaded = (factor: number) => {
        const solution = solvePairShaft(pair, Float64Array.of(direction * factor * load, 0, 0, 0, 0));
        return Math.abs((loadsA ? solution.b : solution.a).axialForceN) / load;
      };
      expect(unloaded(0.99)).toBeGreaterThan(1e-6);
      expect(unloaded(1.0001)).toBeLessThan(1e-7);
      expect(unloaded(0.9)).toBeLessThan(0.1);
    },
  );
});

test("without preload nothing has to be unloaded, with or without give in the path", () => {
  expect(liftOffLoadN(pairOf(positionPath(0.1, 0)), 1)).toBe(0);
  expect(liftOffLoadN(pairOf(positionPath(0.1, 1e-4)), -1)).toBe(0);
});

test("a path gives way by up to 1000 mm/N and no more", () => {
  expect(positionPath(0.1, 1000).complianceMmPerN).toBe(1000);
  expect(() => positionPath(0.1, 1000.5)).toThrow(InputError);
});
