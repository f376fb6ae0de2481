import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { normalQuantile } from "../../../src/numeric/special.ts";
import {
  quantileOfSorted,
  shortestCoverageInterval,
  sortedCopy,
  symmetricCoverageInterval,
} from "../../../src/stats/quantiles.ts";

describe("quantiles, type 7", () => {
  it("interpolates between order statistics at (n - 1)p, as R's and numpy's default", () => {
    const sorted = [1, 2, 4, 8, 16];
    expect(quantileOfSorted(sorted, 0)).toBe(1);
    expect(quantileOfSorted(sorted, 1)).toBe(16);
    expect(quantileOfSorted(sorted, 0.5)).toBe(4);
    // numpy.quantile([1, 2, 4, 8, 16], [0.1, 0.9]) = 1.4, 12.8
    expect(quantileOfSorted(sorted, 0.1)).toBeCloseTo(1.4, 14);
    expect(quantileOfSorted(sorted, 0.9)).toBeCloseTo(12.8, 14);
    expect(quantileOfSorted([7], 0.3)).toBe(7);
    expect(quantileOfSorted([], 0.3)).toBeNaN();
    expect(() => quantileOfSorted(sorted, 1.2)).toThrow(InternalError);
  });
  it("sorts numbers as numbers, leaves its input alone and refuses NaN", () => {
    const values = Float64Array.of(10, 9, -1, 100);
    expect(Array.from(sortedCopy(values))).toEqual([-1, 9, 10, 100]);
    expect(Array.from(sortedCopy(values, 2))).toEqual([9, 10]);
    expect(values[0]).toBe(10);
    expect(() => sortedCopy(Float64Array.of(1, Number.NaN))).toThrow(InternalError);
  });
});

describe("coverage intervals (JCGM 101:2008, 7.7)", () => {
  it("count as written down: M = 10, p = 0.8 spans q = 8 order statistics", () => {
    const sorted = [0, 5, 6, 7, 8, 9, 10, 11, 12, 30];
    expect(shortestCoverageInterval(sorted, 0.8)).toEqual({ low: 0, high: 12 });
    expect(symmetricCoverageInterval(sorted, 0.8)).toEqual({ low: 0, high: 12 });
    expect(shortestCoverageInterval(sorted, 0.7)).toEqual({ low: 5, high: 12 });
  });
  it("the shortest is the first of equals, and starts at the peak of a one-sided density", () => {
    expect(shortestCoverageInterval([1, 2, 3, 4, 5, 6], 0.5)).toEqual({ low: 1, high: 4 });
    const exponential = Float64Array.from({ length: 10000 }, (_, index) => -Math.log1p(-(index + 0.5) / 10000));
    const shortest = shortestCoverageInterval(exponential, 0.95);
    expect(shortest.low).toBe(exponential[0]);
    expect(shortest.high).toBeCloseTo(-Math.log(0.05), 2);
    const symmetric = symmetricCoverageInterval(exponential, 0.95);
    expect(symmetric.low).toBeCloseTo(-Math.log(0.975), 3);
    expect(symmetric.high).toBeCloseTo(-Math.log(0.025), 2);
  });
  it("95 % of a normal: ±1.96 by both", () => {
    const normal = Float64Array.from({ length: 20001 }, (_, index) => normalQuantile((index + 0.5) / 20001));
    for (const interval of [shortestCoverageInterval(normal, 0.95), symmetricCoverageInterval(normal, 0.95)]) {
      expect(interval.low).toBeCloseTo(-1.96, 2);
      expect(interval.high).toBeCloseTo(1.96, 2);
    }
  });
  it("refuses a sample too small to leave anything out", () => {
    expect(() => shortestCoverageInterval([1, 2, 3], 0.95)).toThrow(InternalError);
    expect(() => symmetricCoverageInterval([1, 2, 3], 0)).toThrow(InternalError);
  });
});
