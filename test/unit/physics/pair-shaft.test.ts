import { describe, expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { axialForceN, halfAxialPlayMm } from "../../../src/physics/axial-contact.ts";
import { liftOffLoadN } from "../../../src/physics/pair-lift-off.ts";
import {
  addPointForce,
  movementUnderLoadMm,
  playAtRadiusMm,
  pointMovementMm,
} from "../../../src/physics/pair-movement.ts";
import { type PairShaft, PairShaftSolver } from "../../../src/physics/pair-shaft.ts";
import { pairStiffnesses, solvePairShaft } from "../../../src/physics/pair-solution.ts";
import {
  type PreloadPath,
  pathForceN,
  pathGiveMm,
  positionPath,
  springPath,
} from "../../../src/physics/preload-path.ts";
import { nineBallRow } from "../../support/bearing-rows.ts";

const NO_LOAD = new Float64Array(5);
const SET = 9 * 265_145.67;

function pairOf(path: PreloadPath, arrangementSign: 1 | -1 = 1): PairShaft {
  return { arrangementSign, spanMm: 40, a: nineBallRow(), b: nineBallRow(), path };
}

describe("preload by position without load", () => {
  test("two equal bearings share a rigid offset: the force is that of one at half of it, in both arrangements", () => {
    for (const sign of [1, -1] as const) {
      for (const offset of [0.1281879, 0.1419915, 0.1, -0.14]) {
        const solution = solvePairShaft(pairOf(positionPath(offset, 0), sign), NO_LOAD);
        expect(solution.preloadN).toBeCloseTo(axialForceN(offset / 2, SET, 0.254, 0.0125), 8);
        expect(Math.abs(solution.axialMm)).toBeLessThan(1e-15);
      }
    }
  });

  test("an elastic path takes c·F of the offset, also between unlike bearings", () => {
    const pair = { ...pairOf(positionPath(0.15, 2e-5)), b: nineBallRow(0.006) };
    const { preloadN, a, b } = solvePairShaft(pair, NO_LOAD);
    expect(a.axialForceN).toBeCloseTo(preloadN, 8);
    expect(b.axialForceN).toBeCloseTo(-preloadN, 8);
    const solver = new PairShaftSolver();
    expect(solver.solve(pair, NO_LOAD)).toBe(true);
    const closing = solver.displacementA[0] - solver.displacementB[0];
    expect(closing + 2e-5 * preloadN).toBeCloseTo(0.15, 12);
  });

  test("swapping a and b mirrors the shaft and changes nothing else", () => {
    const path = positionPath(0.14, 1e-5);
    const one = { ...pairOf(path), b: nineBallRow(0.008) };
    const other = { ...pairOf(path), a: nineBallRow(0.008), b: nineBallRow() };
    const first = solvePairShaft(one, Float64Array.of(15, 100, 0, 0, 800));
    const second = solvePairShaft(other, Float64Array.of(-15, 100, 0, 0, -800));
    expect(second.axialMm).toBeCloseTo(-first.axialMm, 12);
    expect(second.radialYMm).toBeCloseTo(first.radialYMm, 12);
    expect(second.preloadN).toBeCloseTo(first.preloadN, 8);
    expect(second.a.radialYForceN).toBeCloseTo(first.b.radialYForceN, 8);
  });
});

describe("preload by a spring behind the outer ring of bearing b", () => {
  const spring = {
    complianceMmPerN: 1e-5,
    springComplianceMmPerN: 0.01,
    springSolidForceN: 150,
    slidingBearing: "b" as const,
  };

  test("bearing b carries the spring's force and no more, whichever way the shaft is pushed", () => {
    const pair = pairOf(springPath({ ...spring, offsetMm: 1.1 }));
    const rest = solvePairShaft(pair, NO_LOAD);
    expect(rest.preloadN).toBeGreaterThan(90);
    expect(rest.preloadN).toBeLessThan(110);
    for (const push of [-80, -40, 40, 80]) {
      const pushed = solvePairShaft(pair, Float64Array.of(push, 0, 0, 0, 0));
      expect(-pushed.b.axialForceN).toBeCloseTo(pushed.preloadN, 8);
      expect(Math.abs(pushed.preloadN - rest.preloadN)).toBeLessThan(1);
      expect(pushed.a.axialForceN + pushed.b.axialForceN).toBeCloseTo(push, 8);
    }
  });

  test("the pair is pushed through at about the spring's force, and far stiffer once the spring is solid", () => {
    const pair = pairOf(springPath({ ...spring, offsetMm: 1.1 }));
    const force = solvePairShaft(pair, NO_LOAD).preloadN;
    const lift = liftOffLoadN(pair, -1);
    expect(Math.abs(lift / force - 1)).toBeLessThan(0.02);
    const solid = solvePairShaft(pairOf(springPath({ ...spring, offsetMm: 1.65 })), NO_LOAD);
    expect(solid.preloadN).toBeGreaterThan(150);
    const soft = pairStiffnesses(solvePairShaft(pair, Float64Array.of(-lift * 1.03, 0, 0, 0, 0)).stiffness).axialNPerMm;
    expect(pairStiffnesses(solid.stiffness).axialNPerMm).toBeGreaterThan(10 * soft);
  });

  test("force and give of the path are inverse to one another; a hanging spring does not pull", () => {
    const path = springPath({ ...spring, offsetMm: 1 });
    for (const force of [1, 100, 150, 200]) expect(pathForceN(path, pathGiveMm(path, force))).toBeCloseTo(force, 9);
    expect(pathForceN(path, -0.1)).toBe(0);
  });

  test("a spring without rate, solid force or structure is refused", () => {
    expect(() => springPath({ ...spring, offsetMm: 1, springComplianceMmPerN: 0 })).toThrow(InputError);
    expect(() => springPath({ ...spring, offsetMm: 1, springSolidForceN: 0 })).toThrow(InputError);
    expect(() => springPath({ ...spring, offsetMm: 1, complianceMmPerN: 0 })).toThrow(InputError);
    expect(() => positionPath(Number.NaN, 0)).toThrow(InputError);
    expect(() => positionPath(0.1, -1)).toThrow(InputError);
  });
});

describe("stiffness of the pair", () => {
  test("is the derivative of load by displacement, coupling and give of the path included (1e-6)", () => {
    const pair = { ...pairOf(positionPath(0.15, 1e-5)), b: nineBallRow(0.008) };
    const load = [20, 60, -30, 900, 400];
    const middle = solvePairShaft(pair, Float64Array.from(load));
    const vector = (one: ReturnType<typeof solvePairShaft>) => [
      one.axialMm,
      one.radialYMm,
      one.radialZMm,
      one.tiltYRad,
      one.tiltZRad,
    ];
    const steps = [0.01, 0.01, 0.01, 0.3, 0.3];
    for (let direction = 0; direction < 5; direction++) {
      const moved = (sense: number) =>
        vector(
          solvePairShaft(
            pair,
            Float64Array.from(load, (value, i) => value + (i === direction ? sense * steps[i] : 0)),
          ),
        );
      const up = moved(1);
      const down = moved(-1);
      for (let component = 0; component < 5; component++) {
        let product = 0;
        for (let k = 0; k < 5; k++) {
          product += (middle.stiffness[component * 5 + k] * (up[k] - down[k])) / (2 * steps[direction]);
        }
        const scale = Math.sqrt(middle.stiffness[component * 6] / middle.stiffness[direction * 6]);
        expect(Math.abs(product - (component === direction ? 1 : 0))).toBeLessThan(1e-6 * Math.max(1, scale));
      }
    }
  });

  test("back-to-back resists tilting more than face-to-face at the same preload and span", () => {
    const tilt = (sign: 1 | -1) =>
      pairStiffnesses(solvePairShaft(pairOf(positionPath(0.14, 0), sign), NO_LOAD).stiffness).tiltZNmmPerRad;
    expect(tilt(1)).toBeGreaterThan(1.5 * tilt(-1));
  });

  test("a shaft with play has none", () => {
    const free = pairStiffnesses(solvePairShaft(pairOf(positionPath(0.05, 0)), NO_LOAD).stiffness);
    expect(Object.values(free)).toEqual([0, 0, 0, 0, 0]);
  });
});

describe("movement and play at a radius", () => {
  test("a force at a radius turns into a force and a moment, and the point moves with the tilt", () => {
    const load = new Float64Array(5);
    addPointForce(load, { axialN: 10, yN: 3, zN: -2 }, { alongMm: 30, yMm: 50, zMm: -20 });
    expect([...load]).toEqual([10, 3, -2, -200 + 60, 90 - 500]);
    const at = { alongMm: 30, yMm: 50, zMm: -20 };
    expect(pointMovementMm(Float64Array.of(0.1, 0.2, 0.3, 0.001, 0.002), at)[0]).toBeCloseTo(0.1 - 0.02 - 0.1, 12);
  });

  test("without preload the play at the axis is what the offset leaves of both axial plays, and grows with the radius", () => {
    const solver = new PairShaftSolver();
    const play = 2 * halfAxialPlayMm(0.254, 0.0125);
    for (const sign of [1, -1] as const) {
      for (const offset of [0, 0.03, 0.09]) {
        const pair = pairOf(positionPath(offset, 0), sign);
        expect(playAtRadiusMm(solver, pair, 0, 0)).toBeCloseTo(play - offset, 4);
        expect(playAtRadiusMm(solver, pair, 100, 0)).toBeGreaterThan(play - offset);
      }
    }
  });

  test("a preloaded rotor gives way at its rim under a side load, more so face-to-face", () => {
    const solver = new PairShaftSolver();
    const side = new Float64Array(5);
    const rim = { alongMm: 0, yMm: 60, zMm: 0 };
    addPointForce(side, { axialN: 20, yN: 0, zN: 0 }, rim);
    const give = (sign: 1 | -1) =>
      movementUnderLoadMm(solver, pairOf(positionPath(0.14, 0), sign), NO_LOAD, side, rim)[0];
    expect(give(1)).toBeGreaterThan(0);
    expect(give(-1)).toBeGreaterThan(give(1));
    expect(playAtRadiusMm(solver, pairOf(positionPath(0.14, 0)), 60, 0)).toBeLessThan(1e-6);
  });
});

test("lift-off of a pair without preload is 0, and negative clearance lifts off from the middle", () => {
  expect(liftOffLoadN(pairOf(positionPath(0.05, 0)), 1)).toBe(0);
  const tight = { ...pairOf(positionPath(0.03, 0)), a: nineBallRow(-0.004), b: nineBallRow(-0.004) };
  expect(liftOffLoadN(tight, 1)).toBeCloseTo(axialForceN(0.03, SET, 0.254, -0.004), 8);
});
