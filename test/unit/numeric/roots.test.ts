import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { findRoot } from "../../../src/numeric/roots.ts";

/** Counts how often the function is called. */
function counted(f: (x: number) => number): { f: (x: number) => number; calls: () => number } {
  let calls = 0;
  return {
    f: (x) => {
      calls += 1;
      return f(x);
    },
    calls: () => calls,
  };
}

describe("the bracketing root finder", () => {
  it("finds known roots to the last digits", () => {
    expect(findRoot((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(findRoot((x) => Math.cos(x) - x, 0, 1)).toBeCloseTo(0.7390851332151607, 15);
    // Wallis's example, x^3 - 2x - 5 (as in any text on numerical analysis).
    expect(findRoot((x) => x ** 3 - 2 * x - 5, 2, 3)).toBeCloseTo(2.0945514815423265, 14);
  });
  it("takes its ends in either order, and an end that is a root", () => {
    expect(findRoot((x) => x - 1, 5, -5)).toBeCloseTo(1, 15);
    expect(findRoot((x) => x, 0, 3)).toBe(0);
    expect(findRoot((x) => x - 3, 0, 3)).toBe(3);
  });
  it("needs few calls where the function is smooth and no more than bisection's where it is not", () => {
    const smooth = counted((x) => Math.exp(x) - 5);
    findRoot(smooth.f, 0, 10);
    expect(smooth.calls()).toBeLessThan(20);
    const step = counted((x) => (x < 0.3 ? -1 : 1));
    expect(findRoot(step.f, 0, 1)).toBeCloseTo(0.3, 14);
    expect(step.calls()).toBeLessThan(70);
    const flat = counted((x) => (x - 1) ** 9);
    expect(findRoot(flat.f, 0, 3.1)).toBeCloseTo(1, 5);
    expect(flat.calls()).toBeLessThan(200);
  });
  it("stops at the tolerance", () => {
    const coarse = counted((x) => x ** 3 - 0.2);
    const root = findRoot(coarse.f, 0, 1, { tolerance: 1e-3 });
    expect(Math.abs(root - 0.2 ** (1 / 3))).toBeLessThan(1e-3);
    const fine = counted((x) => x ** 3 - 0.2);
    findRoot(fine.f, 0, 1);
    expect(coarse.calls()).toBeLessThan(fine.calls());
  });
  it("refuses ends of one sign and a value that is not a number", () => {
    expect(() => findRoot((x) => x * x + 1, -1, 1)).toThrow(InternalError);
    expect(() => findRoot((x) => (x > 0.4 && x < 0.6 ? Number.NaN : x - 0.5), 0, 1)).toThrow(InternalError);
  });
});
