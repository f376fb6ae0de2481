import { describe, expect, it, test } from "vitest";
import {
  cdf,
  mean,
  median,
  pdf,
  practicalRange,
  prepare,
  quantile,
  standardDeviation,
  support,
  survival,
  upperQuantile,
  validateDistribution,
} from "../../../src/distributions/index.ts";
import { centre } from "../../../src/distributions/moments.ts";
import type { Distribution } from "../../../src/distributions/types.ts";
import { InternalError } from "../../../src/errors.ts";
import { SAMPLE_DISTRIBUTIONS } from "../../support/distributions.ts";

const BOUNDED_BELOW = SAMPLE_DISTRIBUTIONS.filter(([, d]) => Number.isFinite(support(d).low));
const BOUNDED_ABOVE = SAMPLE_DISTRIBUTIONS.filter(([, d]) => Number.isFinite(support(d).high));

test.each(BOUNDED_BELOW)("nothing lies below the least value: CDF 0, survival 1, no density: %s", (_, d) => {
  const { low } = support(d);
  expect([cdf(d, low - 1), survival(d, low - 1), pdf(d, low - 1)]).toEqual([0, 1, 0]);
  expect(quantile(d, 0)).toBe(low);
  expect(upperQuantile(d, 1)).toBe(low);
});

test.each(BOUNDED_ABOVE)("all lies below the greatest value: CDF 1, survival 0, no density: %s", (_, d) => {
  const { high } = support(d);
  expect([cdf(d, high + 1), survival(d, high + 1), pdf(d, high + 1)]).toEqual([1, 0, 0]);
  expect(quantile(d, 1)).toBe(high);
  expect(upperQuantile(d, 0)).toBe(high);
});

describe.each(SAMPLE_DISTRIBUTIONS)("whatever the distribution: %s", (_, d) => {
  const { low, high } = support(d);

  it("a probability that is none is a fault of the program", () => {
    for (const p of [-0.1, 1.1, Number.NaN]) {
      expect(() => quantile(d, p)).toThrow(InternalError);
      expect(() => upperQuantile(d, p)).toThrow(InternalError);
    }
  });

  it("the practical range holds the middle and lies inside the support", () => {
    const range = practicalRange(d);
    expect(range.low).toBeGreaterThanOrEqual(low);
    expect(range.high).toBeLessThanOrEqual(high);
    expect(range.low).toBeLessThan(median(d));
    expect(median(d)).toBeLessThan(range.high);
  });
});

test("a constant is all at one value: a step of the CDF, an infinite density, no spread", () => {
  const d: Distribution = { kind: "constant", value: 7 };
  expect(() => validateDistribution(d, "x")).not.toThrow();
  expect([cdf(d, 6.9), cdf(d, 7), survival(d, 6.9), survival(d, 7)]).toEqual([0, 1, 1, 0]);
  expect([pdf(d, 7), pdf(d, 7.1)]).toEqual([Number.POSITIVE_INFINITY, 0]);
  expect([mean(d), median(d), standardDeviation(d), quantile(d, 0), upperQuantile(d, 0.3)]).toEqual([7, 7, 0, 7, 7]);
  const column = Float64Array.of(0.1, 0.9, 0.5);
  prepare(d).transform(column, 2);
  expect([...column]).toEqual([7, 7, 0.5]);
});

test("a Student's t of two readings has no mean, but a place: its location", () => {
  expect(centre({ kind: "student-t", mean: 20, scale: 0.4, degreesOfFreedom: 1 })).toBe(20);
  expect(centre({ kind: "uniform", low: 2, high: 3 })).toBe(2.5);
});

test.each([
  [2, 3, 0, 0],
  [1, 3, 3, 0],
  [0.5, 2, Number.POSITIVE_INFINITY, 0],
  [2, 1, 0, 2],
  [1, 1, 1, 1],
])("density of the beta law with shapes %d, %d at its ends: %d and %d", (alpha, beta, atLow, atHigh) => {
  // x^(α−1)·(1−x)^(β−1)/B(α, β): 0, 1/B or infinite as the shape of that end is above, at or below 1; 1/B(1, β) = β.
  const d: Distribution = { kind: "skewed", low: 0, high: 1, alpha, beta };
  expect([pdf(d, 0), pdf(d, 1)]).toEqual([atLow, atHigh]);
});
