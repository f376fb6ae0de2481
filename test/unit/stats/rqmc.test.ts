import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { compareEstimates, replicateEstimate, varianceReductionFactor } from "../../../src/stats/rqmc.ts";

describe("estimate from replicate means", () => {
  it("mean, standard error (n - 1) and Student's interval, t(0.975; 15) = 2.131450 (printed tables)", () => {
    const means = Array.from({ length: 16 }, (_, r) => 1e6 + (r % 2 === 0 ? 1 : -1));
    const estimate = replicateEstimate(means);
    expect(estimate.mean).toBe(1e6);
    expect(estimate.standardError).toBeCloseTo(Math.sqrt(16 / 15 / 16), 12);
    expect((estimate.interval.high - 1e6) / estimate.standardError).toBeCloseTo(2.13145, 5);
    expect(1e6 - estimate.interval.low).toBeCloseTo(estimate.interval.high - 1e6, 8);
  });
  it("needs 16 randomisations", () => {
    expect(() => replicateEstimate(new Float64Array(15))).toThrow(InternalError);
  });
  it("variance-reduction factor of plain sampling itself is 1", () => {
    expect(varianceReductionFactor(0.2 * 0.8, 1000, Math.sqrt(0.16 / 1000))).toBeCloseTo(1, 12);
    expect(varianceReductionFactor(0.16, 1000, Math.sqrt(0.16 / 1000) / 10)).toBeCloseTo(100, 10);
  });
});

describe("agreement of two estimates", () => {
  it("normal score where both errors are known: 1.959964 has probability 0.05", () => {
    const found = compareEstimates({ value: 1.959963984540054 * 5, standardError: 3 }, { value: 0, standardError: 4 });
    expect(found.score).toBeCloseTo(1.959963984540054, 12);
    expect(found.probability).toBeCloseTo(0.05, 12);
    expect(found.agrees).toBe(true);
  });
  it("one error from 16 replicates: t with 15 degrees of freedom, 2.131450 has probability 0.05", () => {
    const found = compareEstimates(
      { value: 2.13144954556, standardError: 1, degreesOfFreedom: 15 },
      { value: 0, standardError: 0 },
    );
    expect(found.probability).toBeCloseTo(0.05, 9);
  });
  it("Welch's degrees of freedom lie between the smaller and the sum: equal errors add", () => {
    // t(0.975; 30) = 2.042272 (printed tables).
    const one = { value: 2.042272456301238 * Math.SQRT2, standardError: 1, degreesOfFreedom: 15 };
    expect(compareEstimates(one, { ...one, value: 0 }).probability).toBeCloseTo(0.05, 9);
  });
  it("refuses values 5.5 standard errors apart, and anything that is not a number", () => {
    expect(compareEstimates({ value: 5.5, standardError: 1 }, { value: 0, standardError: 0 }).agrees).toBe(false);
    expect(compareEstimates({ value: Number.NaN, standardError: 1 }, { value: 0, standardError: 1 }).agrees).toBe(
      false,
    );
    expect(compareEstimates({ value: 1, standardError: 0 }, { value: 1, standardError: 0 })).toEqual({
      score: 0,
      probability: 1,
      agrees: true,
    });
    expect(compareEstimates({ value: 1, standardError: 0 }, { value: 0, standardError: 0 }).agrees).toBe(false);
  });
});
