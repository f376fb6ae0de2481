import { describe, expect, test } from "vitest";
import type { PairShaft } from "../../../src/physics/pair-shaft.ts";
import { pairStiffnesses, solvePairShaft } from "../../../src/physics/pair-solution.ts";
import { positionPath, springPath } from "../../../src/physics/preload-path.ts";
import { nineBallRow } from "../../support/bearing-rows.ts";

const row = (clearanceMm: number) => nineBallRow(clearanceMm, 0.2);
const SPRING = { offsetMm: 1.1, complianceMmPerN: 1e-5, springComplianceMmPerN: 0.01, springSolidForceN: 150 };
const PAIRS: readonly (readonly [string, PairShaft])[] = [
  ["rigid", { arrangementSign: 1, spanMm: 40, a: row(0.0125), b: row(0.008), path: positionPath(0.14, 0) }],
  ["elastic", { arrangementSign: -1, spanMm: 60, a: row(0.0125), b: row(0.008), path: positionPath(0.14, 2e-5) }],
  [
    "spring",
    {
      arrangementSign: 1,
      spanMm: 40,
      a: row(0.0125),
      b: row(0.008),
      path: springPath({ ...SPRING, slidingBearing: "b" }),
    },
  ],
];
const LOAD = Float64Array.of(20, 60, -30, 900, 400);

describe.each(PAIRS)("the solution of a loaded pair: %s", (_, pair) => {
  const solution = solvePairShaft(pair, LOAD);

  test("forces and moments of both bearings about the middle are the load", () => {
    const total = [0, 0, 0, 0, 0];
    for (const [bearing, at] of [
      [solution.a, -pair.spanMm / 2],
      [solution.b, pair.spanMm / 2],
    ] as const) {
      total[0] += bearing.axialForceN;
      total[1] += bearing.radialYForceN;
      total[2] += bearing.radialZForceN;
      // r × F with r = (at, 0, 0).
      total[3] += bearing.momentYNmm - at * bearing.radialZForceN;
      total[4] += bearing.momentZNmm + at * bearing.radialYForceN;
    }
    for (const [i, force] of total.entries()) expect(force).toBeCloseTo(LOAD[i], i < 3 ? 7 : 5);
  });

  test("ball loads and angles of each bearing add up to its forces", () => {
    for (const [bearing, balls] of [
      [solution.a, pair.a],
      [solution.b, pair.b],
    ] as const) {
      let [axial, y, z] = [0, 0, 0];
      for (let ball = 0; ball < balls.ballCount; ball++) {
        const [load, angle] = [bearing.ballLoadsN[ball], bearing.contactAnglesRad[ball]];
        axial += load * Math.sin(angle);
        y += load * Math.cos(angle) * balls.cosines[ball];
        z += load * Math.cos(angle) * balls.sines[ball];
      }
      expect(axial).toBeCloseTo(bearing.axialForceN, 8);
      expect(y).toBeCloseTo(bearing.radialYForceN, 8);
      expect(z).toBeCloseTo(bearing.radialZForceN, 8);
    }
  });

  test("each stiffness is load over movement in its own direction, all else free: by small loads to and fro (1e-4)", () => {
    const found = pairStiffnesses(solution.stiffness);
    const names = ["axialNPerMm", "radialYNPerMm", "radialZNPerMm", "tiltYNmmPerRad", "tiltZNmmPerRad"] as const;
    const parts = ["axialMm", "radialYMm", "radialZMm", "tiltYRad", "tiltZRad"] as const;
    for (const [i, name] of names.entries()) {
      const step = i < 3 ? 0.02 : 0.6;
      const moved = (sense: number) =>
        solvePairShaft(
          pair,
          LOAD.map((force, k) => force + (k === i ? sense * step : 0)),
        )[parts[i]];
      expect(Math.abs((found[name] * (moved(1) - moved(-1))) / (2 * step) - 1), name).toBeLessThan(1e-4);
    }
  });
});

test("a preload by a spring is the force of the spring, not the mean of the bearings", () => {
  const { preloadN, b, a } = solvePairShaft(PAIRS[2][1], Float64Array.of(-40, 0, 0, 0, 0));
  expect(preloadN).toBeCloseTo(-b.axialForceN, 7);
  expect(Math.abs(preloadN - a.axialForceN)).toBeGreaterThan(30);
});

test("stiffness with all else free, of the chain 2, −1: 1/(K⁻¹)ᵢᵢ = 6/(i·(6 − i)), in closed form", () => {
  const chain = new Float64Array(25);
  for (let i = 0; i < 5; i++) {
    chain[i * 6] = 2;
    if (i < 4) chain[i * 6 + 1] = chain[i * 6 + 5] = -1;
  }
  const found = Object.values(pairStiffnesses(chain));
  for (const [i, value] of found.entries()) expect(value).toBeCloseTo(6 / ((i + 1) * (5 - i)), 12);
  // Any movement of the first against the rest is free.
  chain[0] = 1;
  chain[6] = 1;
  chain[7] = chain[11] = 0;
  expect(Object.values(pairStiffnesses(chain))).toEqual([0, 0, 0, 0, 0]);
});
