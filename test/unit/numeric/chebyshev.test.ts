import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import {
  chebyshevToMonomial,
  evaluateChebyshev,
  evaluateMonomial,
  fitChebyshev,
  fitChebyshevMonomial,
  largestFitError,
} from "../../../src/numeric/chebyshev.ts";

describe("Chebyshev interpolation", () => {
  it("reproduces a polynomial of its own degree", () => {
    const f = (x: number) => 3 - 2 * x + 0.5 * x ** 3;
    const fit = fitChebyshev(f, -1, 4, 3);
    for (const x of [-1, 0, 0.7, 3, 4]) expect(evaluateChebyshev(fit, x)).toBeCloseTo(f(x), 12);
    expect(largestFitError(f, fit)).toBeLessThan(1e-13);
  });
  it("finds the coefficients of exp on [-1, 1]: modified Bessel functions I_j(1) (Abramowitz & Stegun 9.6.34, Table 9.8)", () => {
    const { coefficients } = fitChebyshev(Math.exp, -1, 1, 14);
    expect(coefficients[0]).toBeCloseTo(1.2660658777520084, 14);
    expect(coefficients[1]).toBeCloseTo(2 * 0.565159103992485, 14);
    expect(coefficients[2]).toBeCloseTo(2 * 0.1357476697670383, 14);
  });
  it("converges geometrically for a smooth function and says how far off it is", () => {
    const errors = [2, 4, 6, 8].map((degree) => largestFitError(Math.log, fitChebyshev(Math.log, 1, 2, degree)));
    for (let step = 1; step < errors.length; step += 1) expect(errors[step]).toBeLessThan(errors[step - 1] / 20);
    expect(errors[3]).toBeLessThan(1e-7);
  });
  it("spells the same polynomial in powers of t, lowest first: T_4 = 8t^4 - 8t^2 + 1", () => {
    expect(Array.from(chebyshevToMonomial([0, 0, 0, 0, 1]))).toEqual([1, -0, -8, 0, 8].map((value) => value + 0));
    const monomial = fitChebyshevMonomial(Math.sqrt, 1, 3, 9);
    for (const t of [-1, -0.4, 0, 0.9, 1]) expect(evaluateMonomial(monomial, t)).toBeCloseTo(Math.sqrt(2 + t), 6);
  });
  it("a range of no width is a constant", () => {
    const fit = fitChebyshev(Math.sqrt, 4, 4, 5);
    expect(evaluateChebyshev(fit, 4)).toBe(2);
    expect(Array.from(fitChebyshevMonomial(Math.sqrt, 4, 4, 2))).toEqual([2, 0, 0]);
  });
  it("refuses a reversed interval, a broken degree and a value that is not finite", () => {
    expect(() => fitChebyshev(Math.sqrt, 2, 1, 3)).toThrow(InternalError);
    expect(() => fitChebyshev(Math.sqrt, 1, 2, -1)).toThrow(InternalError);
    expect(() => fitChebyshev(Math.sqrt, -2, 1, 3)).toThrow(InternalError);
  });
});
