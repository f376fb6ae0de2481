import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  fromLimits,
  fromReadings,
  lognormalFromMoments,
  mean,
  skewedFromMode,
  skewedFromMoments,
  standardDeviation,
} from "../../../src/distributions/index.ts";
import { InputError } from "../../../src/errors.ts";

describe("fromLimits", () => {
  it("without a capability: truncated normal, centred, limits at ±3 sd (assumption of the program)", () => {
    expect(fromLimits({ low: 5, high: 20 })).toEqual({
      kind: "truncated-normal",
      mean: 12.5,
      sd: 2.5,
      low: 5,
      high: 20,
    });
  });

  it("equal limits are a constant", () => {
    expect(fromLimits({ low: 5, high: 5 })).toEqual({ kind: "constant", value: 5 });
  });

  it("not inspected: normal beyond the limits; Cp and Cpk: sd and shift; inspected: cut at the limits", () => {
    expect(fromLimits({ low: 0, high: 6, inspected: false })).toEqual({ kind: "normal", mean: 3, sd: 1 });
    expect(fromLimits({ low: 0, high: 6, cp: 2 })).toEqual({ kind: "normal", mean: 3, sd: 0.5 });
    expect(fromLimits({ low: 0, high: 6, cpk: 2 })).toEqual({ kind: "normal", mean: 3, sd: 0.5 });
    expect(fromLimits({ low: 0, high: 6, cp: 2, cpk: 1, shift: "low" })).toEqual({
      kind: "normal",
      mean: 1.5,
      sd: 0.5,
    });
    expect(fromLimits({ low: 0, high: 6, cp: 1, cpk: 0.5, shift: "high", inspected: true })).toEqual({
      kind: "truncated-normal",
      mean: 4.5,
      sd: 1,
      low: 0,
      high: 6,
    });
  });

  it("Cpk is the distance of the mean to the nearer limit over 3 sd, whatever the numbers", () => {
    const capability = fc.double({ min: 0.2, max: 5, noNaN: true });
    fc.assert(
      fc.property(capability, capability, fc.constantFrom("low" as const, "high" as const), (one, other, shift) => {
        const [cpk, cp] = one < other ? [one, other] : [other, one];
        const d = fromLimits({ low: -0.01, high: 0.02, cp, cpk, shift });
        const nearer = shift === "low" ? mean(d) + 0.01 : 0.02 - mean(d);
        expect(nearer / (3 * standardDeviation(d))).toBeCloseTo(cpk, 9);
      }),
    );
  });

  it.each([
    ["reversed limits", { low: 2, high: 1 }, "reversed-limits"],
    ["NaN", { low: Number.NaN, high: 1 }, "reversed-limits"],
    ["Cp of 0", { low: 0, high: 1, cp: 0 }, "out-of-range"],
    ["Cpk above Cp", { low: 0, high: 1, cp: 1, cpk: 1.2 }, "conflict"],
    ["a shift without its side", { low: 0, high: 1, cp: 1.5, cpk: 1 }, "missing"],
  ])("refuses %s", (_, specification, code) => {
    let caught: unknown;
    try {
      fromLimits(specification, "x");
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(InputError);
    expect((caught as InputError).problems[0].code).toBe(code);
  });
});

describe("from moments, mode or readings", () => {
  it("the beta and lognormal distributions have the moments that were asked for", () => {
    const skewed = skewedFromMoments(5, 20, 9, 2.5);
    expect(mean(skewed)).toBeCloseTo(9, 12);
    expect(standardDeviation(skewed)).toBeCloseTo(2.5, 12);
    const lognormal = lognormalFromMoments(9, 2.5, 3);
    expect(mean(lognormal)).toBeCloseTo(9, 12);
    expect(standardDeviation(lognormal)).toBeCloseTo(2.5, 12);
  });

  it("three points: mean (low + 4·mode + high)/6 (Malcolm et al. 1959, from memory)", () => {
    expect(mean(skewedFromMode(5, 20, 8))).toBeCloseTo((5 + 4 * 8 + 20) / 6, 12);
    expect(skewedFromMode(0, 1, 0.5)).toEqual({ kind: "skewed", low: 0, high: 1, alpha: 3, beta: 3 });
  });

  it("equal readings are a constant", () => {
    expect(fromReadings([7, 7, 7])).toEqual({ kind: "constant", value: 7 });
  });

  it.each([
    ["a mean outside the limits", () => skewedFromMoments(0, 1, 2, 0.1)],
    ["a spread that no distribution on the limits has", () => skewedFromMoments(0, 1, 0.5, 0.5)],
    ["a mode outside the limits", () => skewedFromMode(0, 1, -0.1)],
    ["a lognormal mean at its shift", () => lognormalFromMoments(1, 0.1, 1)],
    ["a lognormal without spread", () => lognormalFromMoments(1, 0, 0)],
    ["one reading", () => fromReadings([1])],
  ])("refuses %s", (_, make) => {
    expect(make).toThrow(InputError);
  });
});
