import { describe, expect, test } from "vitest";
import { axialDisplacementMm, ballLoadN } from "../../../src/physics/axial-contact.ts";
import { dynamicEquivalentLoadN, staticEquivalentLoadN } from "../../../src/physics/equivalent-load.ts";
import {
  frictionFactors,
  frictionLoadN,
  loadTorqueNmm,
  viscousTorqueNmm,
} from "../../../src/physics/friction-torque.ts";
import { ballLoadLifeMrev, ballRatings, reliabilityFactor } from "../../../src/physics/life.ts";
import { bearingRow } from "../../support/bearing-rows.ts";

describe("ball-load-based life under a pure axial load (ISO/TS 16281:2008, from memory; independent program, 6 digits)", () => {
  const row = bearingRow({ ballCount: 8, ballDiameterMm: 7.938, pitchDiameterMm: 33.5, clearanceMm: 0.0125 });
  const ratings = ballRatings({
    dynamicRatingN: 12_800,
    ballCount: 8,
    ballDiameterMm: 7.938,
    pitchDiameterMm: 33.5,
    conformityInnerRatio: 0.52,
    conformityOuterRatio: 0.53,
    contactAngleRad: 0,
  });
  const cases: [number, number][] = [
    [50, 2_204_738],
    [100, 333_504],
    [200, 53_022],
    [500, 5018.4],
    [1000, 884.5],
  ];
  for (const [axialN, lifeMrev] of cases) {
    test(`${axialN} N: ${lifeMrev} million revolutions`, () => {
      const x = axialDisplacementMm(axialN, 8 * row.ballStiffnessNPerMm15, row.grooveDistanceMm, row.clearanceMm);
      const load = ballLoadN(x, row.ballStiffnessNPerMm15, row.grooveDistanceMm, row.clearanceMm);
      const life = ballLoadLifeMrev(ratings, new Float64Array(8).fill(load));
      expect(Math.abs(life / lifeMrev - 1)).toBeLessThan(6e-5);
    });
  }
});

test("the ball-load-based life of a radially loaded bearing at ε = 0.5 is the basic rating life (ISO/TS 16281's own basis; 5 %)", () => {
  // Half the balls carry: Q = Q_max·cos^1.5 ψ with Q_max = F_r/(Z·J_r). The constants 0.407 and 0.389 are rounded for this.
  const ballCount = 400;
  const radialN = 1280;
  const largest = radialN / (ballCount * 0.228828);
  const loads = Float64Array.from({ length: ballCount }, (_, ball) => {
    const cosine = Math.cos((2 * Math.PI * ball) / ballCount);
    return cosine > 0 ? largest * cosine ** 1.5 : 0;
  });
  const ratings = ballRatings({
    dynamicRatingN: 12_800,
    ballCount,
    ballDiameterMm: 7.938,
    pitchDiameterMm: 33.5,
    conformityInnerRatio: 0.52,
    conformityOuterRatio: 0.53,
    contactAngleRad: 0,
  });
  expect(Math.abs(ballLoadLifeMrev(ratings, loads) / 1000 - 1)).toBeLessThan(0.05);
});

test("a₁ = 1, 0.64, 0.55, 0.47, 0.37, 0.25 at 90, 95 … 99 % (ISO 281:2007, Table 12)", () => {
  expect([0.9, 0.95, 0.96, 0.97, 0.98, 0.99].map(reliabilityFactor)).toEqual([1, 0.64, 0.55, 0.47, 0.37, 0.25]);
});

test("equivalent loads at rows of ISO 281:2007 Table 3 and ISO 76:2006 Table 2 (from memory)", () => {
  // f₀·F_a/C₀ = 0.689: e 0.26, Y 1.71, X 0.56.
  const deepGroove = { radialN: 500, axialN: 689, contactAngleRad: 0 };
  expect(dynamicEquivalentLoadN(deepGroove, 10, 10_000)).toBeCloseTo(0.56 * 500 + 1.71 * 689, 9);
  expect(dynamicEquivalentLoadN({ ...deepGroove, axialN: 90 }, 10, 10_000)).toBe(500);
  const angular = { radialN: 1000, axialN: 2000, contactAngleRad: (40 * Math.PI) / 180 };
  expect(dynamicEquivalentLoadN(angular, 16, 50_000)).toBeCloseTo(0.35 * 1000 + 0.57 * 2000, 9);
  expect(staticEquivalentLoadN(angular)).toBeCloseTo(0.5 * 1000 + 0.26 * 2000, 9);
  expect(staticEquivalentLoadN({ radialN: 100, axialN: 100, contactAngleRad: 0 })).toBeCloseTo(110, 9);
});

test.each([
  ["618", 1.1, 1.7, 0.0005, 0.5],
  ["160", 1.1, 1.7, 0.0007, 0.5],
  ["60", 1.1, 1.7, 0.0007, 0.5],
  ["619", 1.1, 1.7, 0.0007, 0.5],
  ["62", 1.3, 2, 0.0009, 0.5],
  ["63", 1.5, 2.3, 0.0009, 0.5],
  ["70", 1.3, 2, 0.001, 0.33],
  ["72", 1.3, 2, 0.001, 0.33],
  ["73", 2, 3, 0.001, 0.33],
])(
  "series %s: f₀ = %d with grease and %d in an oil bath, f₁ = %d·(P₀/C₀)^%d (Schaeffler HR 1, table of friction factors)",
  (series, greaseFactor, oilBathFactor, loadScale, loadExponent) => {
    expect(frictionFactors(series)).toEqual({ greaseFactor, oilBathFactor, loadScale, loadExponent });
  },
);

test("friction of a 6204 size, grease, 30 mm²/s, 3000 1/min, 100 N axial: 9.81536 + 0.865993 N·mm (Schaeffler HR 1 formulas)", () => {
  const factors = frictionFactors("62");
  const viscous = viscousTorqueNmm(factors.greaseFactor, 30, 3000, 33.5);
  const staticLoad = staticEquivalentLoadN({ radialN: 0, axialN: 100, contactAngleRad: 0 });
  const load = loadTorqueNmm(factors, staticLoad, 6600, frictionLoadN(0, 100, "deep-groove"), 33.5);
  expect(viscous).toBeCloseTo(9.81536, 5);
  expect(load).toBeCloseTo(0.865993, 6);
  expect(viscous + load).toBeCloseTo(10.68135, 5);
});
