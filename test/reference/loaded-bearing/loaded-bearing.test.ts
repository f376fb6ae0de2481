import { describe, expect, test } from "vitest";
import { createBallRow, evaluateBallRow, fillBallLoads } from "../../../src/physics/ball-row.ts";
import { bearingRow } from "../../support/bearing-rows.ts";

/** Radial push of a row with very many balls, so that sums are the published integrals. */
function radialPush(loadZoneRatio: number) {
  const ballCount = 3600;
  const pushMm = 1e-3;
  const row = createBallRow({
    ballCount,
    ballStiffnessNPerMm15: 1e5,
    grooveDistanceMm: 0.3,
    // ε = ½(1 − G/(2δᵣ))
    clearanceMm: 2 * pushMm * (1 - 2 * loadZoneRatio),
    grooveRadiusMm: 16,
  });
  const displacement = Float64Array.of(0, pushMm, 0, 0, 0);
  const force = new Float64Array(5);
  const loads = new Float64Array(ballCount);
  evaluateBallRow(row, displacement, force, new Float64Array(25));
  fillBallLoads(row, displacement, loads, null);
  return { force, loads, ballCount };
}

const integrals: [number, number][] = [
  [0.1, 0.1156],
  [0.2, 0.159],
  [0.3, 0.1892],
  [0.4, 0.2117],
  [0.5, 0.2288],
  [0.6, 0.2416],
  [0.7, 0.2505],
  [0.8, 0.2559],
  [0.9, 0.2576],
];

describe("radial load integral J_r(ε) of point contact (Palmgren; Harris, Rolling Bearing Analysis; from memory)", () => {
  for (const [loadZoneRatio, published] of integrals) {
    test(`ε = ${loadZoneRatio}: ${published}`, () => {
      const { force, loads, ballCount } = radialPush(loadZoneRatio);
      expect(force[1] / ballCount / loads[0]).toBeCloseTo(published, 4);
      expect(Math.abs(force[2])).toBeLessThan(1e-9 * force[1]);
    });
  }

  test("ε = 0.5 to six digits: 0.228828, so that Q_max = 4.3701·F_r/Z without clearance", () => {
    const { force, loads, ballCount } = radialPush(0.5);
    expect(force[1] / ballCount / loads[0]).toBeCloseTo(0.228828, 6);
    expect((loads[0] * ballCount) / force[1]).toBeCloseTo(4.3701, 4);
  });
});

test("mean loads at ε = 0.5: J_1 = 0.5625 and J_2 = 0.5874 of the largest (quadrature; Harris, ibid.)", () => {
  const { loads, ballCount } = radialPush(0.5);
  const mean = (power: number) =>
    (loads.reduce((sum, load) => sum + (load / loads[0]) ** power, 0) / ballCount) ** (1 / power);
  expect(mean(3)).toBeCloseTo(0.562499, 5);
  expect(mean(10 / 3)).toBeCloseTo(0.587428, 5);
});

describe("8 balls under a radial load towards a ball", () => {
  /** Z·Q_max/F_r by bisection for the push. */
  function ratio(clearanceMm: number, radialN: number): number {
    const row = bearingRow({ ballCount: 8, ballDiameterMm: 7.938, pitchDiameterMm: 33.5, clearanceMm });
    const force = new Float64Array(5);
    const loads = new Float64Array(8);
    const displacement = new Float64Array(5);
    let [low, high] = [0, 0.2];
    for (let step = 0; step < 60; step++) {
      displacement[1] = 0.5 * (low + high);
      evaluateBallRow(row, displacement, force, new Float64Array(25));
      if (force[1] < radialN) low = displacement[1];
      else high = displacement[1];
    }
    fillBallLoads(row, displacement, loads, null);
    return (8 * loads[0]) / radialN;
  }

  test("without clearance Q_max is 4.37·F_r/Z but for the coarseness of eight balls (1 %)", () => {
    expect(Math.abs(ratio(0, 1000) / 4.37 - 1)).toBeLessThan(0.01);
  });

  test("with usual clearance Q_max is about 5·F_r/Z at a tenth of the dynamic rating (Stribeck's rule; 10 %)", () => {
    expect(Math.abs(ratio(0.0125, 1280) / 5 - 1)).toBeLessThan(0.1);
    expect(Math.abs(ratio(0.02, 1280) / 5 - 1)).toBeLessThan(0.1);
    expect(ratio(0.02, 1280)).toBeGreaterThan(ratio(0.0125, 1280));
  });
});
