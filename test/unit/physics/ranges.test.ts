import { describe, expect, test } from "vitest";
import { InputError, InternalError } from "../../../src/errors.ts";
import {
  axialDisplacementMm,
  axialForceN,
  halfAxialPlayMm,
  requirePossibleClearance,
} from "../../../src/physics/axial-contact.ts";
import { createBallRow, innerGrooveRadiusMm } from "../../../src/physics/ball-row.ts";
import { requireElasticMaterial } from "../../../src/physics/elastic.ts";
import {
  axisRatioFromCurvatureDifferenceComplement,
  completeEllipticIntegrals,
} from "../../../src/physics/elliptic.ts";
import { staticEquivalentLoadN } from "../../../src/physics/equivalent-load.ts";
import {
  frictionFactors,
  frictionLoadN,
  loadTorqueNmm,
  viscousTorqueNmm,
} from "../../../src/physics/friction-torque.ts";
import { groovedContact } from "../../../src/physics/hertz.ts";
import { ballLoadLifeMrev, ballRatings, reliabilityFactor } from "../../../src/physics/life.ts";
import { movementUnderLoadMm } from "../../../src/physics/pair-movement.ts";
import { PairShaftSolver } from "../../../src/physics/pair-shaft.ts";
import { solvePairShaft } from "../../../src/physics/pair-solution.ts";
import { positionPath } from "../../../src/physics/preload-path.ts";

const ROW = {
  ballCount: 9,
  ballStiffnessNPerMm15: 265_145.67,
  grooveDistanceMm: 0.254,
  clearanceMm: 0.0125,
  grooveRadiusMm: 16.2,
};

describe("what is refused, and what is just admitted", () => {
  test("a radial clearance from −2A to 2A, both ends out", () => {
    for (const clearance of [-0.39999, 0, 0.39999]) requirePossibleClearance(0.2, clearance, "x");
    for (const clearance of [-0.5, -0.4002, -0.4, 0.4, 0.4002, Number.NaN]) {
      expect(() => requirePossibleClearance(0.2, clearance, "x"), String(clearance)).toThrow(InputError);
    }
    expect(() => requirePossibleClearance(0, 0, "x")).toThrow(InputError);
  });

  test("a row of balls without stiffness, distance or radius", () => {
    for (const change of [
      { ballCount: 2 },
      { ballStiffnessNPerMm15: 0 },
      { grooveDistanceMm: 0 },
      { grooveRadiusMm: 0 },
      { azimuthRad: Number.NaN },
    ]) {
      expect(() => createBallRow({ ...ROW, ...change }), JSON.stringify(change)).toThrow(InputError);
    }
  });

  test("elastic constants: a modulus above 0, Poisson's ratio from 0 to 0.5", () => {
    for (const poissonRatio of [0, 0.5]) requireElasticMaterial({ youngsModulusMPa: 1, poissonRatio }, "x");
    for (const material of [
      { youngsModulusMPa: 0, poissonRatio: 0.3 },
      { youngsModulusMPa: 1, poissonRatio: -0.01 },
      { youngsModulusMPa: 1, poissonRatio: 0.5002 },
    ]) {
      expect(() => requireElasticMaterial(material, "x")).toThrow(InputError);
    }
  });

  test("a groove: a conformity above 0.5 and up to 1, a contact angle below a right one", () => {
    const groove = {
      ballDiameterMm: 8,
      pitchDiameterMm: 33.5,
      conformityRatio: 0.52,
      contactAngleRad: 0.3,
      race: "inner" as const,
      ball: { youngsModulusMPa: 208_000, poissonRatio: 0.3 },
      ring: { youngsModulusMPa: 208_000, poissonRatio: 0.3 },
    };
    for (const change of [{ conformityRatio: 0.5002 }, { conformityRatio: 1 }, { contactAngleRad: 1.57 }]) {
      expect(groovedContact({ ...groove, ...change }).stiffnessNPerMm15).toBeGreaterThan(0);
    }
    for (const change of [{ conformityRatio: 0.5 }, { conformityRatio: 1.0005 }, { contactAngleRad: 1.5705 }]) {
      expect(() => groovedContact({ ...groove, ...change }), JSON.stringify(change)).toThrow(InputError);
    }
  });

  test("a reliability that the standard does not list, however near; a light axial load is one", () => {
    expect(() => reliabilityFactor(0.9500003)).toThrow(InputError);
    expect(staticEquivalentLoadN({ radialN: 0.5, axialN: 0.5, contactAngleRad: 0 })).toBeCloseTo(0.55, 12);
  });

  test("an elliptic modulus or a curvature difference that is none", () => {
    for (const value of [0, -0.1, 1.001, Number.NaN]) {
      expect(() => completeEllipticIntegrals(value), String(value)).toThrow(InputError);
      expect(() => axisRatioFromCurvatureDifferenceComplement(value), String(value)).toThrow(InputError);
    }
  });

  test("a pair under a load that is none finds no equilibrium: a fault of the program, not a number", () => {
    const row = createBallRow(ROW);
    const pair = { arrangementSign: 1 as const, spanMm: 40, a: row, b: row, path: positionPath(0.14, 1e-5) };
    const none = Float64Array.of(Number.NaN, 0, 0, 0, 0);
    expect(() => solvePairShaft(pair, none)).toThrow(InternalError);
    const at = { alongMm: 0, yMm: 0, zMm: 0 };
    expect(() => movementUnderLoadMm(new PairShaftSolver(), pair, new Float64Array(5), none, at)).toThrow(
      InternalError,
    );
  });
});

test("radius of the inner groove's centres: 33.5/2 + 0.02·8·cos 60° = 16.83 mm, worked out by hand", () => {
  expect(innerGrooveRadiusMm(33.5, 8, 0.52, Math.PI / 3)).toBeCloseTo(16.83, 12);
  expect(innerGrooveRadiusMm(33.5, 8, 0.5, 0)).toBeCloseTo(16.75, 12);
  expect(innerGrooveRadiusMm(33.5, 8, 0.5002, 0)).toBeCloseTo(16.7516, 12);
  expect(() => innerGrooveRadiusMm(33.5, 8, 0.49, 0)).toThrow(InputError);
});

test("balls follow one another round from the azimuth of the first", () => {
  const { cosines, sines } = createBallRow({ ...ROW, ballCount: 4, azimuthRad: 0.3 });
  const turns = [0, 1, 2, 3].map((quarter) => 0.3 + (quarter * Math.PI) / 2);
  turns.forEach((angle, ball) => {
    expect(cosines[ball]).toBeCloseTo(Math.cos(angle), 14);
    expect(sines[ball]).toBeCloseTo(Math.sin(angle), 14);
  });
});

test("no force leaves a bearing at its onset, to the bit, and 1 N is a force like any other", () => {
  expect(axialDisplacementMm(0, 1e6, 0.25, 0.01)).toBe(halfAxialPlayMm(0.25, 0.01));
  expect(axialDisplacementMm(0, 1e6, 0.25, -0.01)).toBe(0);
  for (const force of [1, -1]) {
    expect(axialForceN(axialDisplacementMm(force, 1e6, 0.25, 0.01), 1e6, 0.25, 0.01)).toBeCloseTo(force, 9);
  }
});

test("near a circle κ = 1 + 4F/3 (1 − F follows κ^(−3/4), from the limit 3/8 of the slope in 1/κ²)", () => {
  for (const difference of [1e-3, 1e-5, 1e-7]) {
    const ratio = axisRatioFromCurvatureDifferenceComplement(1 - difference);
    expect(Math.abs((ratio - 1) / ((4 / 3) * difference) - 1)).toBeLessThan(
      2 * difference + 1e-6 / (difference / 1e-7),
    );
  }
  expect(axisRatioFromCurvatureDifferenceComplement(1 - 2e-11)).toBeGreaterThan(1);
  expect(axisRatioFromCurvatureDifferenceComplement(1)).toBe(1);
});

test("friction: P₁ = 3.3·F_a − 0.1·F_r and F_a − 0.1·F_r, not below F_r (Schaeffler HR 1, from memory); no load, no load torque", () => {
  expect(frictionLoadN(100, -500, "deep-groove")).toBeCloseTo(1640, 9);
  expect(frictionLoadN(100, -500, "angular-contact")).toBeCloseTo(490, 9);
  expect(frictionLoadN(100, 20, "angular-contact")).toBe(100);
  expect(loadTorqueNmm(frictionFactors("62"), 0, 6600, 0, 33.5)).toBe(0);
  expect(() => loadTorqueNmm(frictionFactors("62"), -1, 6600, 0, 33.5)).toThrow(InputError);
  expect(() => loadTorqueNmm(frictionFactors("62"), 1, 0, 0, 33.5)).toThrow(InputError);
});

test("one loaded ball of eight: Q_e = Q/8^(1/3) on the ring that turns, Q/8^0.3 on the one that stands (ISO/TS 16281, 4.3)", () => {
  const ratings = { innerN: 3000, outerN: 4000 };
  const alone = (ball: number) => new Float64Array(8).fill(700, ball, ball + 1);
  const loads = alone(5);
  const [turning, standing] = [700 / 8 ** (1 / 3), 700 / 8 ** 0.3];
  const life = (inner: number, outer: number) => ((3000 / inner) ** (-10 / 3) + (4000 / outer) ** (-10 / 3)) ** -0.9;
  expect(ballLoadLifeMrev(ratings, loads) / life(turning, standing)).toBeCloseTo(1, 12);
  expect(ballLoadLifeMrev(ratings, loads, "outer") / life(standing, turning)).toBeCloseTo(1, 12);
  // Whichever ball it is.
  for (const ball of [0, 7]) expect(ballLoadLifeMrev(ratings, alone(ball))).toBe(ballLoadLifeMrev(ratings, loads));
});

test("ratings of one ball in an angular-contact row of 25° (formulas of ISO/TS 16281:2008, 4.3; independent program)", () => {
  const { innerN, outerN } = ballRatings({
    dynamicRatingN: 12_800,
    ballCount: 11,
    ballDiameterMm: 7.938,
    pitchDiameterMm: 33.5,
    conformityInnerRatio: 0.515,
    conformityOuterRatio: 0.53,
    contactAngleRad: (25 * Math.PI) / 180,
  });
  expect(innerN / 3262.7820403234455).toBeCloseTo(1, 12);
  expect(outerN / 5273.911871724845).toBeCloseTo(1, 12);
});

test("a row without rating, or whose grooves pinch the ball, has no ball ratings", () => {
  const bearing = {
    dynamicRatingN: 12_800,
    ballCount: 11,
    ballDiameterMm: 8,
    pitchDiameterMm: 33.5,
    conformityInnerRatio: 0.515,
    conformityOuterRatio: 0.53,
    contactAngleRad: 0,
  };
  for (const change of [{ dynamicRatingN: 0 }, { conformityInnerRatio: 0.5 }, { conformityOuterRatio: 0.5 }]) {
    expect(() => ballRatings({ ...bearing, ...change }), JSON.stringify(change)).toThrow(InputError);
  }
  expect(
    ballRatings({ ...bearing, conformityInnerRatio: 0.5002, conformityOuterRatio: 0.5002 }).innerN,
  ).toBeGreaterThan(0);
});

test("speeds, viscosities and factors that cannot be are refused; the branch at ν·n = 2000 is the upper one", () => {
  for (const [factor, viscosity, speed, diameter] of [
    [-0.1, 30, 3000, 33.5],
    [100.05, 30, 3000, 33.5],
    [1.3, -1, 3000, 33.5],
    [1.3, 1.0005e6, 1, 33.5],
    [1.3, 1, 1.0005e7, 33.5],
    [1.3, 30, 3000, 0],
  ]) {
    expect(() => viscousTorqueNmm(factor, viscosity, speed, diameter), String([factor, viscosity])).toThrow(InputError);
  }
  expect(viscousTorqueNmm(0.5, 0.5, 1, 10)).toBeCloseTo(0.5 * 160 * 1000 * 1e-7, 15);
  // 2000^(2/3) = 158.740.
  expect(viscousTorqueNmm(1, 20, 100, 10)).toBeCloseTo(0.01587401051968, 12);
  expect(viscousTorqueNmm(1, 20.01, 100, 10)).toBeCloseTo(2001 ** (2 / 3) * 1e-4, 12);
});

test("a warm start from the solution needs no step, and from another state ends at the same one", () => {
  const row = createBallRow(ROW);
  const pair = { arrangementSign: 1 as const, spanMm: 40, a: row, b: row, path: positionPath(0.14, 1e-5) };
  const load = Float64Array.of(20, 60, -30, 900, 400);
  const solver = new PairShaftSolver();
  expect(solver.solve(pair, load)).toBe(true);
  const cold = solver.state.slice();
  expect(solver.solve(pair, load, true)).toBe(true);
  expect(solver.steps).toBe(0);
  solver.solve(pair, new Float64Array(5));
  expect(solver.solve(pair, load, true)).toBe(true);
  for (const [i, value] of cold.entries()) expect(Math.abs(solver.state[i] - value)).toBeLessThan(1e-11);
});
