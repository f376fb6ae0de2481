import { describe, expect, it } from "vitest";
import { quantile, validateDistribution } from "../../../src/distributions/index.ts";
import type { Distribution } from "../../../src/distributions/types.ts";
import { InputError, InternalError } from "../../../src/errors.ts";

function problemsOf(d: Distribution) {
  try {
    validateDistribution(d, "chain.spacer");
  } catch (error) {
    if (error instanceof InputError) return error.problems.map((p) => [p.code, p.path]);
    throw error;
  }
  return [];
}

describe("validateDistribution", () => {
  it.each<[string, Distribution, string, string]>([
    ["sd of 0", { kind: "normal", mean: 0, sd: 0 }, "out-of-range", "chain.spacer.sd"],
    ["negative sd", { kind: "normal", mean: 0, sd: -1 }, "out-of-range", "chain.spacer.sd"],
    ["NaN", { kind: "normal", mean: Number.NaN, sd: 1 }, "wrong-type", "chain.spacer.mean"],
    ["infinity", { kind: "uniform", low: 0, high: Number.POSITIVE_INFINITY }, "wrong-type", "chain.spacer.high"],
    ["reversed limits", { kind: "uniform", low: 2, high: 1 }, "reversed-limits", "chain.spacer.low"],
    ["equal limits", { kind: "arcsine", low: 1, high: 1 }, "reversed-limits", "chain.spacer.low"],
    [
      "limits out of reach",
      { kind: "truncated-normal", mean: 0, sd: 1, low: 40, high: 41 },
      "impossible-geometry",
      "chain.spacer",
    ],
    ["mode outside", { kind: "triangular", low: 0, mode: 2, high: 1 }, "out-of-range", "chain.spacer.mode"],
    [
      "reversed shoulders",
      { kind: "trapezoidal", low: 0, shoulderLow: 0.7, shoulderHigh: 0.3, high: 1 },
      "reversed-limits",
      "chain.spacer.shoulderLow",
    ],
    ["shape of 0", { kind: "skewed", low: 0, high: 1, alpha: 0, beta: 2 }, "out-of-range", "chain.spacer.alpha"],
    ["log spread of 0", { kind: "lognormal", logMean: 0, logSd: 0, shift: 0 }, "out-of-range", "chain.spacer.logSd"],
    [
      "half a degree of freedom",
      { kind: "student-t", mean: 0, scale: 1, degreesOfFreedom: 0.5 },
      "out-of-range",
      "chain.spacer.degreesOfFreedom",
    ],
    ["one value", { kind: "empirical", values: [1] }, "missing", "chain.spacer"],
    ["unsorted values", { kind: "empirical", values: [1, 3, 2] }, "wrong-type", "chain.spacer.2"],
    ["values that do not differ", { kind: "empirical", values: [1, 1, 1] }, "out-of-range", "chain.spacer"],
    ["a constant that is no number", { kind: "constant", value: Number.NaN }, "wrong-type", "chain.spacer.value"],
  ])("refuses %s", (_, d, code, path) => {
    expect(problemsOf(d)).toContainEqual([code, path]);
  });

  it("reports all problems together", () => {
    expect(problemsOf({ kind: "skewed", low: 2, high: 1, alpha: -1, beta: 0 }).length).toBe(3);
  });

  it("a probability outside 0 … 1 is a fault of the program", () => {
    const d: Distribution = { kind: "normal", mean: 0, sd: 1 };
    for (const p of [-0.1, 1.1, Number.NaN]) expect(() => quantile(d, p)).toThrow(InternalError);
  });
});
