import { describe, expect, it } from "vitest";
import { prepare, transformInPlace, validateDistribution } from "../../../src/distributions/index.ts";
import { gaussLegendre } from "../../../src/distributions/quadrature.ts";
import type { Distribution } from "../../../src/distributions/types.ts";
import {
  PROBABILITIES,
  pseudoUniforms,
  SAMPLE_DISTRIBUTIONS,
  stratifiedUniforms,
} from "../../support/distributions.ts";

/** Uniforms close enough together for moments and laws of any family. */
const GRID = Float64Array.from({ length: 2001 }, (_, i) => (i + 0.5) / 2001);

function transformed(d: Distribution, uniforms: Float64Array): Float64Array {
  const column = uniforms.slice();
  transformInPlace(d)(column, column.length);
  return column;
}

describe.each(SAMPLE_DISTRIBUTIONS)("laws of every distribution: %s", (_, d) => {
  const prepared = prepare(d);

  it("is valid", () => {
    expect(() => validateDistribution(d, "x")).not.toThrow();
  });

  it("CDF of the inverse is p to 1e-12 of the nearer tail, or to the rounding of the value or of 1", () => {
    // A value rounds by its last bits, which moves the CDF, the more so where the density is infinite: no fault of the inverse.
    const misses = (share: (x: number) => number, x: number, p: number) => {
      const step = 4 * Number.EPSILON * Math.abs(x);
      const [one, other] = [share(x - step), share(x + step)];
      const slack = 1e-12 * Math.min(p, 1 - p) + 4e-16;
      return Math.min(one, other) - slack > p || Math.max(one, other) + slack < p;
    };
    for (const p of PROBABILITIES) {
      expect(misses(prepared.cdf, prepared.quantile(p), p)).toBe(false);
      expect(misses(prepared.survival, prepared.upperQuantile(p), p)).toBe(false);
    }
  });

  it("CDF and survival add up to 1", () => {
    for (const u of GRID) {
      const x = prepared.quantile(u);
      expect(Math.abs(prepared.cdf(x) + prepared.survival(x) - 1)).toBeLessThan(1e-13);
    }
  });

  it("the inverse and the column transform are monotone and stay in the support", () => {
    const values = transformed(d, GRID);
    for (let i = 1; i < GRID.length; i++) {
      expect(values[i]).toBeGreaterThanOrEqual(values[i - 1]);
      expect(prepared.quantile(GRID[i])).toBeGreaterThanOrEqual(prepared.quantile(GRID[i - 1]));
    }
    for (const p of PROBABILITIES) {
      expect(prepared.quantile(p)).toBeGreaterThanOrEqual(prepared.low);
      expect(prepared.quantile(p)).toBeLessThanOrEqual(prepared.high);
    }
    expect(prepared.quantile(0)).toBe(prepared.low);
    expect(prepared.quantile(1)).toBe(prepared.high);
  });

  it("the column transform follows the inverse to 1e-10 of the spread (1e-13 for normal, truncated and straight families)", () => {
    const tight = !["skewed", "student-t"].includes(d.kind);
    const uniforms = Float64Array.from([...PROBABILITIES, ...GRID]);
    const values = transformed(d, uniforms);
    const spread = prepared.quantile(0.9) - prepared.quantile(0.1);
    uniforms.forEach((u, i) => {
      const exact = prepared.quantile(u);
      const size = Math.max(spread, Math.abs(exact) * (tight ? 1e-2 : 1));
      expect(Math.abs(values[i] - exact)).toBeLessThanOrEqual((tight ? 1e-13 : 1e-10) * size + 1e-15 * Math.abs(exact));
    });
  });

  it("the column transform touches the first count values only, and n = 0 and 1 work", () => {
    const column = Float64Array.of(0.25, 0.75);
    const transform = transformInPlace(d);
    transform(column, 0);
    expect([...column]).toEqual([0.25, 0.75]);
    transform(column, 1);
    expect(column[1]).toBe(0.75);
    expect(column[0]).toBe(transformed(d, Float64Array.of(0.25))[0]);
  });

  it("the density is the slope of the CDF (integrals over 40 pieces, 1e-9)", () => {
    const ends = Array.from({ length: 41 }, (_, i) => prepared.quantile(0.005 + 0.99 * (i / 40)));
    for (let i = 1; i < ends.length; i++) {
      if (ends[i] === ends[i - 1]) continue;
      const kinks = kinksBetween(d, ends[i - 1], ends[i]);
      let area = 0;
      for (let k = 1; k < kinks.length; k++) area += gaussLegendre(prepared.pdf, kinks[k - 1], kinks[k], 4);
      expect(Math.abs(area - 0.99 / 40)).toBeLessThan(1e-9);
    }
  });

  it("mean and standard deviation agree with quadrature over the inverse", () => {
    if (!Number.isFinite(prepared.standardDeviation)) {
      expect(d.kind === "student-t" && d.degreesOfFreedom <= 2).toBe(true);
      return;
    }
    // ∫₀¹ g(x(p)) dp with p = t⁴(35 − 84t + 70t² − 20t³), which goes to the ends with a vanishing slope; heavy tails converge slowest.
    const median = prepared.quantile(0.5);
    const smooth = (t: number) => t ** 4 * (35 - 84 * t + 70 * t * t - 20 * t ** 3);
    const integral = (g: (x: number) => number) =>
      gaussLegendre((t) => g(prepared.quantile(smooth(t)) - median) * 140 * (t * (1 - t)) ** 3, 0, 0.5, 80) +
      gaussLegendre((t) => g(prepared.upperQuantile(smooth(t)) - median) * 140 * (t * (1 - t)) ** 3, 0, 0.5, 80);
    const tolerance = d.kind === "empirical" ? 1e-5 : d.kind === "student-t" ? 1e-4 : 1e-8;
    const offset = integral((x) => x);
    expect(Math.abs(median + offset - prepared.mean)).toBeLessThan(tolerance * prepared.standardDeviation);
    const sd = Math.sqrt(integral((x) => (x - offset) * (x - offset)));
    expect(Math.abs(sd / prepared.standardDeviation - 1)).toBeLessThan(tolerance);
  });

  it("Kolmogorov–Smirnov over 1e5 draws: stratified within 1/n, independent within 2.1/√n (false alarm 3e-4)", () => {
    const n = 100_000;
    expect(distance(prepared.cdf, transformed(d, stratifiedUniforms(n)))).toBeLessThanOrEqual(1.0001 / n);
    // P(√n·D > 2.1) = 2·exp(−2·2.1²) = 3.0e-4 (Kolmogorov's limit), and 22 distributions on the same uniforms are one trial.
    expect(distance(prepared.cdf, transformed(d, pseudoUniforms(n)))).toBeLessThan(2.1 / Math.sqrt(n));
  });
});

/** Greatest distance of the empirical CDF of values from the CDF; equal values count together. */
function distance(cdf: (x: number) => number, values: Float64Array): number {
  const sorted = values.slice().sort();
  let greatest = 0;
  for (let i = 0; i < sorted.length; i += 97) {
    let [first, last] = [i, i];
    while (first > 0 && sorted[first - 1] === sorted[i]) first--;
    while (last + 1 < sorted.length && sorted[last + 1] === sorted[i]) last++;
    const p = cdf(sorted[i]);
    greatest = Math.max(greatest, p - (last + 1) / sorted.length, first / sorted.length - p);
  }
  return greatest;
}

/** The interval cut at the points where a density has a corner. */
function kinksBetween(d: Distribution, low: number, high: number): number[] {
  const corners =
    d.kind === "triangular"
      ? [d.mode]
      : d.kind === "trapezoidal"
        ? [d.shoulderLow, d.shoulderHigh]
        : d.kind === "empirical"
          ? d.values
          : [];
  return [low, ...corners.filter((x) => x > low && x < high), high];
}
