import { describe, expect, it } from "vitest";
import {
  inverseRegularisedBeta,
  normalCdf,
  normalQuantile,
  normalSurvival,
  poissonDensity,
  regularisedBeta,
  regularisedGammaP,
  regularisedGammaQ,
  studentTCdf,
  studentTQuantile,
} from "../../../src/numeric/special.ts";

describe("the ends of the range", () => {
  it("normal: both tails close, quantiles of 0 and 1 are infinite, outside is NaN", () => {
    expect(normalCdf(-40)).toBe(0);
    expect(normalCdf(40)).toBe(1);
    expect(normalCdf(Number.NaN)).toBeNaN();
    expect(normalSurvival(Number.POSITIVE_INFINITY)).toBe(0);
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(normalQuantile(-0.1)).toBeNaN();
    expect(normalQuantile(1.1)).toBeNaN();
    expect(normalQuantile(0.5)).toBe(0);
  });
  it("beta, gamma and t", () => {
    expect(regularisedBeta(0, 2, 3)).toBe(0);
    expect(regularisedBeta(1, 2, 3)).toBe(1);
    expect(regularisedBeta(0.5, -1, 3)).toBeNaN();
    expect(inverseRegularisedBeta(0, 2, 3)).toBe(0);
    expect(inverseRegularisedBeta(1, 2, 3)).toBe(1);
    expect(inverseRegularisedBeta(1.5, 2, 3)).toBeNaN();
    expect(regularisedGammaP(2, 0)).toBe(0);
    expect(regularisedGammaQ(2, Number.POSITIVE_INFINITY)).toBe(0);
    expect(studentTCdf(Number.NEGATIVE_INFINITY, 3)).toBe(0);
    expect(studentTQuantile(0.5, 3)).toBe(0);
    expect(studentTQuantile(1, 3)).toBe(Number.POSITIVE_INFINITY);
    expect(studentTQuantile(0.3, 0)).toBeNaN();
  });
});

describe("identities", () => {
  const probabilities = [1e-12, 1e-5, 0.003, 0.1, 0.4, 0.6, 0.93, 0.9999];
  it("a quantile's CDF is the probability", () => {
    for (const p of probabilities) {
      expect(normalCdf(normalQuantile(p)) / p).toBeCloseTo(1, 13);
      for (const nu of [0.7, 1, 2, 5, 30, 1e5]) {
        expect(studentTCdf(studentTQuantile(p, nu), nu) / p, `t ${nu} at ${p}`).toBeCloseTo(1, 12);
      }
      for (const [a, b] of [
        [0.4, 0.6],
        [1, 1],
        [3, 80],
        [200, 2],
        [5e4, 3e4],
      ]) {
        expect(regularisedBeta(inverseRegularisedBeta(p, a, b), a, b) / p, `beta ${a}, ${b} at ${p}`).toBeCloseTo(
          1,
          10,
        );
      }
    }
  });
  it("I_x(a, b) + I_{1-x}(b, a) = 1 and P + Q = 1", () => {
    for (const x of [0.05, 0.25, 0.5, 0.875]) {
      expect(regularisedBeta(x, 2.5, 7) + regularisedBeta(1 - x, 7, 2.5)).toBeCloseTo(1, 14);
      expect(regularisedGammaP(3.2, 10 * x) + regularisedGammaQ(3.2, 10 * x)).toBeCloseTo(1, 14);
    }
  });
  it("the Poisson probability of 3 at mean 2 is 8e^-2/6", () => {
    expect(poissonDensity(3, 2)).toBeCloseTo((8 * Math.exp(-2)) / 6, 15);
    expect(poissonDensity(0, 2)).toBeCloseTo(Math.exp(-2), 15);
  });
  it("the normal quantile rises from every double to the next", () => {
    for (const start of [1e-300, 1e-9, 0.07499999, 0.0749999999999, 0.4, 0.925, 0.99]) {
      let p = start;
      let previous = normalQuantile(p);
      for (let step = 0; step < 200; step += 1) {
        p += p * 3e-16;
        const next = normalQuantile(p);
        expect(next - previous).toBeGreaterThanOrEqual(-4e-16 * Math.abs(next));
        previous = next;
      }
    }
  });
});
