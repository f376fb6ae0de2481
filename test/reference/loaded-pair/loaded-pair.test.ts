import { describe, expect, test } from "vitest";
import { axialDisplacementMm, grooveCentreDistanceMm, halfAxialPlayMm } from "../../../src/physics/axial-contact.ts";
import { type BallRow, createBallRow } from "../../../src/physics/ball-row.ts";
import { liftOffLoadN } from "../../../src/physics/pair-lift-off.ts";
import type { PairShaft } from "../../../src/physics/pair-shaft.ts";
import { pairStiffnesses, solvePairShaft } from "../../../src/physics/pair-solution.ts";
import { positionPath } from "../../../src/physics/preload-path.ts";
import { bearingRow } from "../../support/bearing-rows.ts";
import { readCsv } from "../../support/csv.ts";

const DEGREE = Math.PI / 180;
const NO_LOAD = new Float64Array(5);

/** Two equal rows, rigidly preloaded to a force. */
function preloaded(row: BallRow, preloadN: number, arrangementSign: 1 | -1 = 1, spanMm = 20): PairShaft {
  const x = axialDisplacementMm(
    preloadN,
    row.ballCount * row.ballStiffnessNPerMm15,
    row.grooveDistanceMm,
    row.clearanceMm,
  );
  return { arrangementSign, spanMm, a: row, b: { ...row }, path: positionPath(2 * x, 0) };
}

test("axial stiffness of 304 printed angular-contact pairs (GMN catalogue 4000 0813 EN): each ±25 %, median 0.93–1.05", () => {
  const ratios = readCsv(new URL("printed-axial-stiffness.csv", import.meta.url)).map((row) => {
    const bearing = bearingRow({
      ballCount: Number(row.Z),
      ballDiameterMm: Number(row.Dw),
      pitchDiameterMm: Number(row.dm),
      freeAngleDeg: Number(row.alpha_deg),
    });
    const solution = solvePairShaft(preloaded(bearing, Number(row.preload_N), 1, Number(row.B)), NO_LOAD);
    expect(Math.abs(solution.preloadN / Number(row.preload_N) - 1)).toBeLessThan(1e-9);
    return pairStiffnesses(solution.stiffness).axialNPerMm / 1000 / Number(row.k_axial_pair_table_N_um);
  });
  expect(ratios.length).toBe(304);
  ratios.sort((left, right) => left - right);
  expect(ratios[0]).toBeGreaterThan(0.75);
  expect(ratios[303]).toBeLessThan(1.25);
  expect(0.5 * (ratios[151] + ratios[152])).toBeGreaterThan(0.93);
  expect(0.5 * (ratios[151] + ratios[152])).toBeLessThan(1.05);
});

describe("duplex 218 with the axial constant 896.7 N/mm², 4450 N (Harris, Rolling Bearing Analysis; recomputed)", () => {
  const ball = 22.23;
  const distance = 0.0464 * ball;
  const row = createBallRow({
    ballCount: 16,
    ballStiffnessNPerMm15: (896.7 * ball * ball) / (distance * Math.sqrt(distance)),
    grooveDistanceMm: distance,
    clearanceMm: 2 * distance * (1 - Math.cos(40 * DEGREE)),
    grooveRadiusMm: 63,
  });
  const pair = preloaded(row, 4450);

  test("each bearing gives way by 15.547 µm, the pair has 872.0 N/µm", () => {
    expect(0.5 * pair.path.offsetMm - halfAxialPlayMm(distance, row.clearanceMm)).toBeCloseTo(0.0155467, 6);
    const stiffness = pairStiffnesses(solvePairShaft(pair, NO_LOAD).stiffness);
    expect(stiffness.axialNPerMm / 1000).toBeCloseTo(872.01, 0);
  });

  test("it moves 2.295, 5.123, 10.389 and 14.314 µm under 2000, 4450, 8900 and 12 000 N, either way", () => {
    const printed: [number, number][] = [
      [2000, 0.0022953],
      [4450, 0.0051234],
      [8900, 0.0103894],
      [12_000, 0.0143136],
    ];
    for (const [load, movement] of printed) {
      expect(solvePairShaft(pair, Float64Array.of(load, 0, 0, 0, 0)).axialMm).toBeCloseTo(movement, 6);
      expect(solvePairShaft(pair, Float64Array.of(-load, 0, 0, 0, 0)).axialMm).toBeCloseTo(-movement, 6);
    }
  });

  test("it unloads at 12 877 N, and there one bearing carries nothing", () => {
    const lift = liftOffLoadN(pair, 1);
    expect(Math.abs(lift / 12_877 - 1)).toBeLessThan(1e-4);
    expect(solvePairShaft(pair, Float64Array.of(lift * 1.001, 0, 0, 0, 0)).b.axialForceN + 0).toBe(0);
    expect(solvePairShaft(pair, Float64Array.of(lift * 0.999, 0, 0, 0, 0)).b.axialForceN).toBeLessThan(0);
  });
});

describe("lift-off load over preload (../axial-contact/thrust.csv, independent solution)", () => {
  for (const row of readCsv(new URL("../axial-contact/thrust.csv", import.meta.url))) {
    test(`${row.case}, ${row.Fa_N} N: ${row.lift_off_ratio}`, () => {
      const angular = row.Pd_mm === "";
      const bearing = bearingRow({
        ballCount: Number(row.Z),
        ballDiameterMm: Number(row.D_mm),
        pitchDiameterMm: Number(row.dm_mm),
        conformityInnerRatio: Number(row.fi),
        conformityOuterRatio: Number(row.fo),
        ...(angular ? { freeAngleDeg: Number(row.alpha0_deg) } : { clearanceMm: Number(row.Pd_mm) }),
      });
      const pair = preloaded(bearing, Number(row.Fa_N));
      expect(liftOffLoadN(pair, 1) / Number(row.Fa_N)).toBeCloseTo(Number(row.lift_off_ratio), 4);
      const stiffness = pairStiffnesses(solvePairShaft(pair, NO_LOAD).stiffness).axialNPerMm / 1000;
      expect(stiffness).toBeCloseTo(Number(row.pair_k_N_um), 3);
    });
  }
});

test("at a constant contact angle (grooves far apart against the give) lift-off is 2^1.5 times the preload (Harris, ibid.)", () => {
  for (const angle of [15, 25, 40]) {
    const row = openRow(angle);
    expect(liftOffLoadN(preloaded(row, 1e-4), 1) / 1e-4).toBeCloseTo(2 ** 1.5, 4);
  }
});

/** Groove centres 1 mm apart: the contact angle hardly changes under the loads used here. */
function openRow(angleDeg: number): BallRow {
  return createBallRow({
    ballCount: 12,
    ballStiffnessNPerMm15: 2e5,
    grooveDistanceMm: grooveCentreDistanceMm(0.55, 0.55, 10),
    clearanceMm: 2 * (1 - Math.cos(angleDeg * DEGREE)),
    grooveRadiusMm: 16,
  });
}

describe("effective span at a constant contact angle (derivation): back-to-back L + 2ℜ·tan α, face-to-face L − 2ℜ·tan α", () => {
  for (const angle of [15, 25, 40]) {
    for (const arrangementSign of [1, -1] as const) {
      test(`${angle}°, ${arrangementSign === 1 ? "back-to-back" : "face-to-face"}: tilt and radial stiffness follow the closed forms`, () => {
        const pair = preloaded(openRow(angle), 1e-3, arrangementSign, 40);
        const stiffness = pairStiffnesses(solvePairShaft(pair, NO_LOAD).stiffness);
        const tangent = Math.tan(angle * DEGREE);
        const span = 40 + arrangementSign * 2 * 16 * tangent;
        const rule = 0.25 * span * span;
        // What is left is the angle's own change, of the order of deflection over groove distance.
        expect(Math.abs(stiffness.tiltZNmmPerRad / (stiffness.radialYNPerMm * rule) - 1)).toBeLessThan(1e-4);
        expect(Math.abs(stiffness.tiltYNmmPerRad / (stiffness.radialZNPerMm * rule) - 1)).toBeLessThan(1e-4);
        const radialOverAxial = 0.5 / (tangent * tangent);
        expect(Math.abs(stiffness.radialYNPerMm / stiffness.axialNPerMm / radialOverAxial - 1)).toBeLessThan(1e-4);
      });
    }
  }
});
