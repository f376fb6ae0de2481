import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import {
  betaBinomialProbabilities,
  binomialCdf,
  binomialProbability,
  binomialQuantile,
} from "../../../src/stats/batch-counts.ts";
import {
  binomialInterval,
  clopperPearsonInterval,
  meanInterval,
  pairedDifferenceInterval,
  quantileIntervalRanks,
  shareDifferenceInterval,
  wilsonInterval,
} from "../../../src/stats/intervals.ts";

describe("which interval a share gets", () => {
  it("the exact one with fewer than 10 on either side, else Wilson's", () => {
    expect(binomialInterval(9, 1000)).toEqual(clopperPearsonInterval(9, 1000));
    expect(binomialInterval(10, 1000)).toEqual(wilsonInterval(10, 1000));
    expect(binomialInterval(991, 1000).method).toBe("clopper-pearson");
    expect(binomialInterval(990, 1000).method).toBe("wilson");
  });
  it("both are symmetric in failures and successes, hold the share, and end at 0 and 1", () => {
    for (const interval of [wilsonInterval, clopperPearsonInterval]) {
      for (const [k, n] of [
        [0, 7],
        [3, 50],
        [25, 50],
        [700, 1000],
        [5, 5],
      ]) {
        const { low, high } = interval(k, n);
        const mirrored = interval(n - k, n);
        expect(low).toBeCloseTo(1 - mirrored.high, 13);
        expect(low <= k / n && k / n <= high).toBe(true);
        expect(low >= 0 && high <= 1).toBe(true);
      }
      expect(interval(0, 9).low).toBe(0);
      expect(interval(9, 9).high).toBe(1);
    }
  });
  it("Clopper-Pearson's ends leave exactly 2.5 % outside, by the binomial distribution itself", () => {
    for (const [k, n] of [
      [1, 40],
      [13, 200],
      [120, 3000],
    ]) {
      const { low, high } = clopperPearsonInterval(k, n);
      expect(1 - binomialCdf(k - 1, n, low)).toBeCloseTo(0.025, 11);
      expect(binomialCdf(k, n, high)).toBeCloseTo(0.025, 11);
    }
  });
  it("Wilson covers a share of 0.1 in 100 about 95 % of the time, Clopper-Pearson at least that (summed exactly)", () => {
    let wilson = 0;
    let exact = 0;
    for (let k = 0; k <= 100; k += 1) {
      const p = binomialProbability(k, 100, 0.1);
      const one = wilsonInterval(k, 100);
      const other = clopperPearsonInterval(k, 100);
      if (one.low <= 0.1 && 0.1 <= one.high) wilson += p;
      if (other.low <= 0.1 && 0.1 <= other.high) exact += p;
    }
    expect(Math.abs(wilson - 0.95)).toBeLessThan(0.02);
    expect(exact).toBeGreaterThanOrEqual(0.95);
  });
  it("refuses counts that are no share, and a confidence outside (0, 1)", () => {
    expect(() => wilsonInterval(5, 4)).toThrow(InternalError);
    expect(() => clopperPearsonInterval(0, 0)).toThrow(InternalError);
    expect(() => wilsonInterval(1, 4, 1)).toThrow(InternalError);
  });
});

describe("differences", () => {
  it("swapping the groups turns the interval round", () => {
    const forward = shareDifferenceInterval(9, 50, 20, 60);
    const back = shareDifferenceInterval(20, 60, 9, 50);
    expect(forward.low).toBeCloseTo(-back.high, 14);
    expect(forward.high).toBeCloseTo(-back.low, 14);
  });
  it("on the same units only those that changed count: narrower than as independent shares", () => {
    const paired = pairedDifferenceInterval(30, 10, 10000);
    const independent = shareDifferenceInterval(5030, 10000, 5010, 10000);
    expect(paired.high - paired.low).toBeLessThan((independent.high - independent.low) / 5);
    // d = 20/10002, half width 1.96·√(41 - 10002·d²)/10002, by hand.
    expect(paired.low).toBeCloseTo(0.0019996 - 0.0012535, 5);
    expect(paired.high).toBeCloseTo(0.0019996 + 0.0012535, 5);
    expect(pairedDifferenceInterval(0, 0, 100).low).toBeLessThan(0);
    expect(() => pairedDifferenceInterval(60, 60, 100)).toThrow(InternalError);
  });
});

describe("means and quantiles", () => {
  it("of ten values: mean ± 2.262·sd/√10 (t table, 9 degrees of freedom)", () => {
    const { low, high } = meanInterval(5, 2, 10);
    expect(high - 5).toBeCloseTo((2.262157 * 2) / Math.sqrt(10), 6);
    expect(5 - low).toBeCloseTo(high - 5, 14);
    expect(meanInterval(5, 2, 1).low).toBeNaN();
  });
  it("too few values have no order statistics that hold a far quantile", () => {
    expect(quantileIntervalRanks(100, 0.001)).toBeNull();
    expect(quantileIntervalRanks(100, 0.5)).toEqual({ low: 40, high: 61 });
  });
});

describe("binomial and beta-binomial counts", () => {
  it("probabilities sum to the CDF, and the quantile is the least count that reaches it", () => {
    for (const [n, p] of [
      [30, 0.2],
      [500, 0.003],
      [64, 0.97],
    ]) {
      let sum = 0;
      for (let k = 0; k <= n; k += 1) {
        sum += binomialProbability(k, n, p);
        expect(binomialCdf(k, n, p)).toBeCloseTo(sum, 12);
      }
      for (const probability of [1e-6, 0.05, 0.5, 0.95, 1 - 1e-6]) {
        const k = binomialQuantile(probability, n, p);
        expect(binomialCdf(k, n, p)).toBeGreaterThanOrEqual(probability);
        expect(binomialCdf(k - 1, n, p)).toBeLessThan(probability);
      }
    }
  });
  it("certain chances, no trials and the ends", () => {
    expect(binomialProbability(0, 5, 0)).toBe(1);
    expect(binomialProbability(5, 5, 1)).toBe(1);
    expect(binomialProbability(6, 5, 0.5)).toBe(0);
    expect(binomialQuantile(0.95, 400, 0)).toBe(0);
    expect(binomialQuantile(0.05, 400, 1)).toBe(400);
    expect(binomialQuantile(1, 4, 0.5)).toBe(4);
    expect(binomialCdf(-1, 4, 0.5)).toBe(0);
    expect(Array.from(betaBinomialProbabilities(0, 2, 3))).toEqual([1]);
    expect(() => binomialCdf(1, 4, 1.5)).toThrow(InternalError);
    expect(() => betaBinomialProbabilities(4, 0, 1)).toThrow(InternalError);
  });
  it("with shapes 1 and 1 every count is as likely; with huge shapes it is the binomial", () => {
    for (const p of betaBinomialProbabilities(9, 1, 1)) expect(p).toBeCloseTo(0.1, 14);
    const table = betaBinomialProbabilities(50, 2e12, 8e12);
    for (const k of [0, 5, 10, 25]) expect(table[k] / binomialProbability(k, 50, 0.2)).toBeCloseTo(1, 9);
  });
});
