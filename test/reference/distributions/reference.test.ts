import { readFileSync } from "node:fs";
import jstat from "jstat";
import * as R from "lib-r-math.js";
import { describe, expect, it } from "vitest";
import {
  fromLimits,
  fromReadings,
  mean,
  prepare,
  quantile,
  standardDeviation,
} from "../../../src/distributions/index.ts";
import { scoreOfUniform } from "../../../src/distributions/normal-score.ts";
import { compareWithSecondOpinion, jstatQuantile } from "../../../src/distributions/second-opinion.ts";
import type { Distribution } from "../../../src/distributions/types.ts";
import { SAMPLE_DISTRIBUTIONS } from "../../support/distributions.ts";

const { jStat } = jstat;

const TAILS = [1e-300, 1e-200, 1e-100, 1e-50, 1e-20, 1e-16, 1e-12, 1e-8, 1e-5, 0.001, 0.02, 0.0749, 0.0751];
const BODY = [0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9, 0.975, 0.999];

describe("normal against lib-r-math.js (port of R's nmath) and printed values", () => {
  const standard = prepare({ kind: "normal", mean: 0, sd: 1 });

  it("quantiles from 1e-300 to 1 − 1e-3, relative 1e-15", () => {
    for (const p of [...TAILS, ...BODY]) {
      const r = R.qnorm(p, 0, 1, true, false);
      expect(Math.abs(standard.quantile(p) - r)).toBeLessThanOrEqual(1e-15 * Math.abs(r));
      expect(standard.upperQuantile(p)).toBe(-standard.quantile(p) + 0);
    }
  });

  it("quantiles near 1, where p itself has lost its digits: the same double in, the same value out", () => {
    for (const q of [1e-16, 1e-15, 1e-12, 1e-8]) {
      expect(standard.quantile(1 - q)).toBeCloseTo(R.qnorm(1 - q, 0, 1, true, false), 13);
    }
  });

  it("both tail probabilities, relative 1e-13 down to 1e-300", () => {
    for (const z of [-37, -30, -20, -8, -5, -3, -1, -0.5, 0.5, 1]) {
      expect(standard.cdf(z) / R.pnorm(z, 0, 1, true, false) - 1).toBeCloseTo(0, 13);
      expect(standard.survival(-z) / R.pnorm(-z, 0, 1, false, false) - 1).toBeCloseTo(0, 13);
    }
  });

  it.each([
    [0.25, -0.6744897501960817],
    [0.001, -3.090232306167813],
    [1e-20, -9.262340089798409],
    [1e-100, -21.27345356096532],
    [0.975, 1.959963984540054],
  ])("z(%d) as printed (AS 241) or recomputed at high precision", (p, z) => {
    expect(Math.abs(standard.quantile(p) - z)).toBeLessThanOrEqual(4e-16 * Math.abs(z));
  });

  it("the column form from 2⁻⁵³ to 1 − 2⁻⁵³, relative 5e-15 (absolute below 1)", () => {
    for (let k = 1; k < 200_000; k++) {
      const u = k % 2 === 0 ? k / 200_001 : 2 ** (-1 - (52 * k) / 200_000);
      const z = R.qnorm(u, 0, 1, true, false);
      if (Math.abs(scoreOfUniform(u) - z) > 5e-15 * Math.max(1, Math.abs(z))) expect(scoreOfUniform(u)).toBe(z);
    }
    expect(scoreOfUniform(2 ** -53)).toBeCloseTo(-8.209536151601387, 13);
    expect(scoreOfUniform(1 - 2 ** -53)).toBe(-scoreOfUniform(2 ** -53));
    expect(scoreOfUniform(0.5)).toBe(0);
  });
});

describe("quantiles.csv: mpmath 1.3.0 at 60 digits (bisection on erfc and the incomplete beta function)", () => {
  const rows = readFileSync(new URL("quantiles.csv", import.meta.url), "utf8")
    .trim()
    .split("\n")
    .slice(1)
    .map((line) => line.split(","));

  it("has every case", () => {
    expect(rows.length).toBe(96);
  });

  it.each(rows)("%s %s %s at %s: quantile and CDF relative 1e-12", (family, shape1, shape2, p, x) => {
    const d = prepare(distributionOf(family, Number(shape1), Number(shape2)));
    const exact = Number(x);
    expect(Math.abs(d.quantile(Number(p)) - exact)).toBeLessThanOrEqual(1e-12 * Math.abs(exact) + Number.EPSILON / 2);
    // One rounding of x moves the CDF by density·ulp.
    const rounding = Number.EPSILON * Math.abs(exact) * d.pdf(exact);
    expect(Math.abs(d.cdf(exact) - Number(p))).toBeLessThanOrEqual(1e-12 * Number(p) + rounding);
  });
});

function distributionOf(family: string, shape1: number, shape2: number): Distribution {
  if (family === "beta") return { kind: "skewed", low: 0, high: 1, alpha: shape1, beta: shape2 };
  if (family === "student-t") return { kind: "student-t", mean: 0, scale: 1, degreesOfFreedom: shape1 };
  return { kind: "normal", mean: 0, sd: 1 };
}

describe("closed forms", () => {
  it("Student's t with 1 and 2 degrees of freedom: −cot(πp) and (2p − 1)/√(2p(1 − p)), relative 1e-13", () => {
    for (const p of [1e-8, 1e-4, 0.01, 0.1, 0.25, 0.4]) {
      const [one, two] = [1, 2].map((degreesOfFreedom) =>
        quantile({ kind: "student-t", mean: 0, scale: 1, degreesOfFreedom }, p),
      );
      expect(Math.abs(one * Math.tan(Math.PI * p) + 1)).toBeLessThan(1e-13);
      expect(Math.abs((two * Math.sqrt(2 * p * (1 - p))) / (2 * p - 1) - 1)).toBeLessThan(1e-13);
    }
  });

  it("beta with a first shape of 1: 1 − (1 − p)^(1/β), relative 1e-13", () => {
    for (const p of [1e-8, 1e-4, 0.01, 0.1, 0.4, 0.9]) {
      const x = -Math.expm1(Math.log1p(-p) / 5);
      expect(Math.abs(quantile({ kind: "skewed", low: 0, high: 1, alpha: 1, beta: 5 }, p) / x - 1)).toBeLessThan(1e-13);
    }
  });
});

// The port's pt, pbeta and qbeta miss closed forms and the 60-digit values above by up to 1.5e-7 (t with 2 degrees of freedom at p = 0.1:
// 2.5e-8), where ours meet them at 1e-12. So this comparison can hold no closer than 1e-6.
describe("other families against lib-r-math.js", () => {
  it.each([
    [2.2, 3.8],
    [0.5, 0.7],
    [1, 5],
    [40, 90],
  ])("beta %d, %d: quantile and CDF relative 1e-6, density 1e-12", (alpha, beta) => {
    const d = prepare({ kind: "skewed", low: 0, high: 1, alpha, beta });
    for (const p of [1e-8, 1e-4, 0.01, ...BODY]) {
      const x = R.qbeta(p, alpha, beta, undefined, true, false);
      expect(Math.abs(d.quantile(p) / x - 1)).toBeLessThan(1e-6);
      expect(Math.abs(d.cdf(x) / R.pbeta(x, alpha, beta, undefined, true, false) - 1)).toBeLessThan(1e-6);
      expect(Math.abs(d.pdf(x) / R.dbeta(x, alpha, beta, undefined, false) - 1)).toBeLessThan(1e-12);
    }
  });

  it.each([1, 2, 3, 9, 30, 500])("Student's t, %d degrees of freedom: relative 1e-6, density 1e-12", (nu) => {
    const d = prepare({ kind: "student-t", mean: 0, scale: 1, degreesOfFreedom: nu });
    for (const p of [1e-8, 1e-4, 0.01, 0.1, 0.25, 0.4]) {
      const t = R.qt(p, nu, undefined, true, false);
      expect(Math.abs(d.quantile(p) / t - 1)).toBeLessThan(1e-6);
      expect(Math.abs(d.cdf(t) / R.pt(t, nu, undefined, true, false) - 1)).toBeLessThan(1e-6);
      expect(Math.abs(d.pdf(t) / R.dt(t, nu, undefined, false) - 1)).toBeLessThan(1e-12);
    }
  });

  it("lognormal: relative 1e-14, density 1e-12", () => {
    const d = prepare({ kind: "lognormal", logMean: 0.5, logSd: 0.3, shift: 0 });
    for (const p of [1e-8, 1e-4, 0.01, ...BODY]) {
      const x = R.qlnorm(p, 0.5, 0.3, true, false);
      expect(Math.abs(d.quantile(p) / x - 1)).toBeLessThan(1e-14);
      expect(Math.abs(d.pdf(x) / R.dlnorm(x, 0.5, 0.3, false) - 1)).toBeLessThan(1e-12);
    }
  });
});

describe("against jstat, between 1 and 99 %", () => {
  const comparable = SAMPLE_DISTRIBUTIONS.filter(([, d]) => jstatQuantile(d) !== null);

  it("compares most families", () => {
    expect(new Set(comparable.map(([, d]) => d.kind)).size).toBeGreaterThanOrEqual(7);
  });

  it.each(comparable)("%s: quantiles within 1e-6 of the spread", (_, d) => {
    const theirs = jstatQuantile(d)!;
    const spread = quantile(d, 0.99) - quantile(d, 0.01);
    for (const p of [0.01, 0.1, 0.5, 0.9, 0.99]) {
      expect(Math.abs(quantile(d, p) - theirs(p))).toBeLessThan(1e-6 * spread);
    }
    expect(() => compareWithSecondOpinion(d)).not.toThrow();
  });

  it("catches shapes in the wrong order, a wrong scale and a shifted mean", () => {
    const d: Distribution = { kind: "skewed", low: 0, high: 1, alpha: 2.2, beta: 3.8 };
    const wrong: Distribution = { ...d, alpha: 3.8, beta: 2.2 };
    expect(() => compareWithSecondOpinion(d, prepare(wrong))).toThrow(/jstat/);
    const normal: Distribution = { kind: "normal", mean: 0, sd: 1 };
    expect(() => compareWithSecondOpinion(normal, prepare({ ...normal, sd: 1.001 }))).toThrow(/jstat/);
    expect(() => compareWithSecondOpinion(normal, prepare({ ...normal, mean: 0.001 }))).toThrow(/jstat/);
  });

  it("moments of the beta and lognormal families", () => {
    const beta: Distribution = { kind: "skewed", low: 0, high: 1, alpha: 2.2, beta: 3.8 };
    expect(mean(beta)).toBeCloseTo(jStat.beta.mean(2.2, 3.8), 14);
    expect(standardDeviation(beta)).toBeCloseTo(Math.sqrt(jStat.beta.variance(2.2, 3.8)), 14);
    const lognormal: Distribution = { kind: "lognormal", logMean: 0.5, logSd: 0.3, shift: 0 };
    expect(mean(lognormal)).toBeCloseTo(jStat.lognormal.mean(0.5, 0.3), 13);
    expect(standardDeviation(lognormal)).toBeCloseTo(Math.sqrt(jStat.lognormal.variance(0.5, 0.3)), 13);
  });
});

describe("truncated normal: closed-form moments at high precision (mean, variance)", () => {
  it.each([
    [-1, 1, 0, 0.2911250948],
    [-2, 2, 0, 0.7737413035],
    [-2.5, 2.5, 0, 0.9112563609],
    [-3, 3, 0, 0.9733369247],
    [-4, 4, 0, 0.9989292904],
    [-1, 2, 0.2296371791, 0.5197625392],
    [-3, 1, -0.2827861107, 0.6161417354],
    [0, 3, 0.7911568261, 0.3474078012],
  ])("cut at %d and %d", (low, high, expectedMean, variance) => {
    const d: Distribution = { kind: "truncated-normal", mean: 0, sd: 1, low, high };
    expect(mean(d)).toBeCloseTo(expectedMean, 9);
    expect(standardDeviation(d) ** 2).toBeCloseTo(variance, 9);
  });

  it("limits at ±3 sigma leave 0.98658 of the sigma", () => {
    const d = fromLimits({ low: 59.99, high: 60.01 });
    expect(standardDeviation(d) / (0.01 / 3)).toBeCloseTo(0.9865783926, 9);
  });

  it("a narrow cut is a rectangle, a far one an exponential (limits of the closed form)", () => {
    const narrow: Distribution = { kind: "truncated-normal", mean: 0, sd: 1, low: 0.9999, high: 1.0001 };
    expect(standardDeviation(narrow) / (0.0002 / Math.sqrt(12))).toBeCloseTo(1, 7);
    const far: Distribution = { kind: "truncated-normal", mean: 0, sd: 1, low: 30, high: 40 };
    // Mills' ratio: mean − a → 1/a − 2/a³ + 10/a⁵ (Abramowitz & Stegun 26.2.12)
    expect(mean(far) - 30).toBeCloseTo(1 / 30 - 2 / 30 ** 3 + 10 / 30 ** 5, 7);
  });
});

describe("capability: parts per million outside both limits, tabulated in the six-sigma literature (from memory) and recomputed", () => {
  it.each([
    [0.5, 133614.4],
    [1, 2699.796063],
    [4 / 3, 63.34248367],
    [5 / 3, 0.5733031438],
    [2, 0.00197317529],
  ])("centred, Cp %d", (cp, ppm) => {
    const d = prepare(fromLimits({ low: -1, high: 1, cp }));
    expect((1e6 * (d.cdf(-1) + d.survival(1))) / ppm).toBeCloseTo(1, 6);
  });

  it.each([
    [1, 66810.6],
    [4 / 3, 6209.68],
    [5 / 3, 232.629],
    [2, 3.3976732],
  ])("Cp %d with the mean 1.5 sigma towards the high limit", (cp, ppm) => {
    const d = prepare(fromLimits({ low: -1, high: 1, cp, cpk: cp - 0.5, shift: "high" }));
    expect((1e6 * (d.cdf(-1) + d.survival(1))) / ppm).toBeCloseTo(1, 5);
  });

  it("a Cp of 1 and a Cpk of 2/3 put the mean 1 sigma off the middle (NIST handbook 6.1.6: limits 8 and 20, mean 16, s 2)", () => {
    expect(fromLimits({ low: 8, high: 20, cp: 1, cpk: 2 / 3, shift: "high" })).toEqual({
      kind: "normal",
      mean: expect.closeTo(16, 12),
      sd: 2,
    });
  });
});

describe("JCGM 101:2008, 6.4: variances of the assigned distributions", () => {
  it.each<[string, Distribution, number]>([
    ["6.4.2 rectangular (b − a)²/12", { kind: "uniform", low: -1, high: 1 }, 4 / 12],
    // 6.4.4: (b − a)²(1 + β²)/24 with β the ratio of the level to the base
    [
      "6.4.4 trapezoidal",
      { kind: "trapezoidal", low: -1, shoulderLow: -0.3, shoulderHigh: 0.3, high: 1 },
      (4 * (1 + 0.09)) / 24,
    ],
    ["6.4.5 triangular (b − a)²/24", { kind: "triangular", low: -1, mode: 0, high: 1 }, 4 / 24],
    ["6.4.6 arcsine (b − a)²/8", { kind: "arcsine", low: -1, high: 1 }, 4 / 8],
    ["6.4.9 t, ν/(ν − 2)", { kind: "student-t", mean: 0, scale: 1, degreesOfFreedom: 18 }, 18 / 16],
  ])("%s", (_, d, variance) => {
    expect(mean(d)).toBeCloseTo(0, 14);
    expect(standardDeviation(d) ** 2).toBeCloseTo(variance, 13);
  });

  it("6.4.9.7: readings give mean, s/√n and n − 1 degrees of freedom", () => {
    // n = 5, mean 3, s² = 10/4 (divides by n − 1), scale √(2.5/5)
    expect(fromReadings([1, 2, 3, 4, 5])).toEqual({
      kind: "student-t",
      mean: 3,
      scale: Math.sqrt(0.5),
      degreesOfFreedom: 4,
    });
  });

  it.each([
    [1, 12.706],
    [2, 4.303],
    [5, 2.571],
    [10, 2.228],
    [30, 2.042],
  ])("Student's table, 97.5 %, %d degrees of freedom", (degreesOfFreedom, t) => {
    expect(quantile({ kind: "student-t", mean: 0, scale: 1, degreesOfFreedom }, 0.975)).toBeCloseTo(t, 3);
  });
});

describe("empirical: Hyndman & Fan definition 7, as R's default quantile()", () => {
  // R: quantile(c(1, 3, 4, 10)) is 1, 2.5, 3.5, 5.5, 10
  it.each([
    [0, 1],
    [0.25, 2.5],
    [0.5, 3.5],
    [0.75, 5.5],
    [1, 10],
  ])("p = %d", (p, x) => {
    expect(quantile({ kind: "empirical", values: [1, 3, 4, 10] }, p)).toBe(x);
  });
});
