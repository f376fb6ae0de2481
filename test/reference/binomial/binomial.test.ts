import { describe, expect, it } from "vitest";
import {
  betaBinomialProbabilities,
  binomialCdf,
  binomialProbability,
  binomialQuantile,
  countMean,
  countQuantile,
} from "../../../src/stats/batch-counts.ts";
import {
  clopperPearsonInterval,
  quantileIntervalRanks,
  shareDifferenceInterval,
  upperBoundOfShare,
  wilsonInterval,
} from "../../../src/stats/intervals.ts";

// Sources: SOURCE.md. Tolerance: half a unit of the last digit given.
describe("intervals for a share", () => {
  const rows: [number, number, number, number, number, number][] = [
    [81, 263, 0.25528852, 0.36620958, 0.25273675, 0.36762192],
    [15, 148, 0.0623864, 0.16048724, 0.05784401, 0.16165049],
    [0, 20, 0, 0.16112516, 0, 0.16843347],
    [1, 29, 0.00611321, 0.17175522, 0.00087265, 0.1776443],
    [12, 150, 0.04635364, 0.13462136, 0.04202026, 0.13557389],
    [682, 925, 0.70799599, 0.7646358, 0.70766826, 0.76540656],
  ];
  for (const [k, n, wilsonLow, wilsonHigh, exactLow, exactHigh] of rows) {
    it(`${k} of ${n}, 95 %: Wilson and Clopper-Pearson`, () => {
      const wilson = wilsonInterval(k, n);
      expect(Math.abs(wilson.low - wilsonLow)).toBeLessThan(5.1e-9);
      expect(Math.abs(wilson.high - wilsonHigh)).toBeLessThan(5.1e-9);
      const exact = clopperPearsonInterval(k, n);
      expect(Math.abs(exact.low - exactLow)).toBeLessThan(5.1e-9);
      expect(Math.abs(exact.high - exactHigh)).toBeLessThan(5.1e-9);
    });
  }
  it("small shares of 100 000 keep their digits", () => {
    const few = clopperPearsonInterval(3, 1e5);
    expect(few.low / 6.186764e-6).toBeCloseTo(1, 6);
    expect(few.high / 8.7670203e-5).toBeCloseTo(1, 7);
    const more = wilsonInterval(50, 1e5);
    expect(more.low / 3.7931201e-4).toBeCloseTo(1, 7);
    expect(more.high / 6.5906268e-4).toBeCloseTo(1, 7);
  });
  it("no failures in n: one-sided 95 % bound 1 - 0.05^(1/n)", () => {
    expect(upperBoundOfShare(0, 10)).toBeCloseTo(0.258865551, 9);
    expect(upperBoundOfShare(0, 1000) / 0.00299124955).toBeCloseTo(1, 8);
    expect(upperBoundOfShare(0, 1e6) / 2.99572779e-6).toBeCloseTo(1, 8);
    expect(clopperPearsonInterval(0, 1e6).high / 3.68887265e-6).toBeCloseTo(1, 8);
  });
  it("difference 56/70 - 48/80 is 0.2, 95 % interval 0.0524 to 0.3339 (Newcombe's method 10)", () => {
    const { low, high } = shareDifferenceInterval(56, 70, 48, 80);
    expect(low).toBeCloseTo(0.0524, 4);
    expect(high).toBeCloseTo(0.3339, 4);
  });
});

describe("order statistics about a quantile", () => {
  it("ranks 457 and 545 hold the 0.0005-quantile of a million, 4862 and 5140 the 0.005-quantile", () => {
    expect(quantileIntervalRanks(1e6, 0.0005)).toEqual({ low: 457, high: 545 });
    expect(quantileIntervalRanks(1e6, 0.005)).toEqual({ low: 4862, high: 5140 });
  });
  it("Wilks: 59 units are the fewest whose greatest exceeds the 95 % quantile with 95 % confidence", () => {
    expect(1 - binomialProbability(59, 59, 0.95)).toBeGreaterThanOrEqual(0.95);
    expect(1 - binomialProbability(58, 58, 0.95)).toBeLessThan(0.95);
    // Two-sided, between least and greatest: P(Bin(n, 0.05) >= 2).
    expect(1 - binomialCdf(1, 93, 0.05)).toBeGreaterThanOrEqual(0.95);
    expect(1 - binomialCdf(1, 92, 0.05)).toBeLessThan(0.95);
  });
});

describe("counts in a batch", () => {
  it("binomial of 400 at 3 %", () => {
    expect(binomialProbability(0, 400, 0.03) / 5.113210905286735e-6).toBeCloseTo(1, 12);
    expect(binomialProbability(12, 400, 0.03) / 0.11612227621437143).toBeCloseTo(1, 12);
    expect(binomialCdf(5, 400, 0.03) / 0.01901678842758947).toBeCloseTo(1, 12);
    expect(binomialCdf(30, 400, 0.03)).toBeCloseTo(0.9999978735404225, 12);
    expect([0.05, 0.5, 0.95].map((p) => binomialQuantile(p, 400, 0.03))).toEqual([7, 12, 18]);
  });
  it("beta-binomial of 400 with shapes 12.5 and 387.5", () => {
    const table = betaBinomialProbabilities(400, 12.5, 387.5);
    const expected: [number, number][] = [
      [0, 0.00015508216105399066],
      [5, 0.027179938191834178],
      [12, 0.08221337007123143],
      [40, 1.0153942374168693e-5],
    ];
    // scipy works from logarithms of gamma functions: 1e-11 is its own error.
    for (const [k, p] of expected) expect(table[k] / p).toBeCloseTo(1, 10);
    expect([0.05, 0.5, 0.95].map((p) => countQuantile(table, p))).toEqual([5, 12, 21]);
    expect(countMean(table)).toBeCloseTo(12.5, 10);
  });
  it("beta-binomial that is highest at both ends, and at an uneven pair of shapes", () => {
    const table = betaBinomialProbabilities(20, 0.5, 0.5);
    expect(table[0]).toBeCloseTo(0.12537068761957926, 12);
    expect(table[1]).toBeCloseTo(0.06429266031773295, 12);
    expect(table[10]).toBeCloseTo(0.031045401134178988, 12);
    expect(table[20]).toBeCloseTo(0.12537068761957926, 12);
    const rare = betaBinomialProbabilities(1000, 2.5, 900);
    expect(rare[0] / 0.1545958929458295).toBeCloseTo(1, 10);
    expect(rare[20] / 2.7962110412861577e-5).toBeCloseTo(1, 10);
    expect([0.05, 0.95].map((p) => countQuantile(rare, p))).toEqual([0, 7]);
  });
});
