/** A smooth function on an interval as a polynomial: interpolation at the Chebyshev points. */
import { InternalError } from "../errors.ts";
import { cos } from "./elementary.ts";

/** Sum of coefficients[j]·T_j(t), t = the variable scaled from [low, high] to [-1, 1]. */
export interface ChebyshevFit {
  readonly low: number;
  readonly high: number;
  readonly coefficients: Float64Array;
}

/**
 * Interpolates a function at the Chebyshev points of the first kind.
 *
 * Equation: c_j = (2 - [j = 0])/(n + 1) · Σ_k f(x_k)·cos(jθ_k), θ_k = π(k + 1/2)/(n + 1), x_k = centre + halfWidth·cos θ_k, n = degree.
 * A range of no width gives the constant f(low).
 *
 * @param f function, finite on the closed interval
 * @param low, high ends of the interval, low <= high
 * @param degree of the polynomial, 0 or more
 * @throws InternalError when the interval is reversed, the degree no whole number from 0 or a value not finite
 *
 * Source: L. N. Trefethen, Approximation Theory and Approximation Practice, SIAM 2013, ch. 3-4 (from memory).
 * Accuracy: within (2/π)·ln(n + 1) + 1 times the best polynomial's error.
 */
export function fitChebyshev(f: (x: number) => number, low: number, high: number, degree: number): ChebyshevFit {
  if (!(low <= high) || !Number.isInteger(degree) || degree < 0) {
    throw new InternalError(`no polynomial of degree ${degree} on ${low} to ${high}`);
  }
  const count = degree + 1;
  const coefficients = new Float64Array(count);
  const values = new Float64Array(count);
  const centre = 0.5 * (low + high);
  const halfWidth = 0.5 * (high - low);
  for (let k = 0; k < count; k += 1) {
    const value = f(centre + halfWidth * cos((Math.PI * (k + 0.5)) / count));
    if (!Number.isFinite(value)) throw new InternalError(`the function to fit is ${value} between ${low} and ${high}`);
    values[k] = value;
    if (halfWidth === 0) {
      coefficients[0] = value;
      return { low, high, coefficients };
    }
  }
  for (let j = 0; j < count; j += 1) {
    let sum = 0;
    for (let k = 0; k < count; k += 1) sum += values[k] * cos((Math.PI * j * (k + 0.5)) / count);
    coefficients[j] = ((j === 0 ? 1 : 2) * sum) / count;
  }
  return { low, high, coefficients };
}

/** Value of the fit at x (Clenshaw's recurrence). Outside the interval it extrapolates, badly. */
export function evaluateChebyshev(fit: ChebyshevFit, x: number): number {
  const { coefficients, low, high } = fit;
  const t = high === low ? 0 : (x - low - (high - x)) / (high - low);
  let next = 0;
  let afterNext = 0;
  for (let j = coefficients.length - 1; j > 0; j -= 1) {
    const current = 2 * t * next - afterNext + coefficients[j];
    afterNext = next;
    next = current;
  }
  return t * next - afterNext + coefficients[0];
}

/**
 * Coefficients of the powers of t (lowest first) that spell the same polynomial as the Chebyshev coefficients, for Horner's
 * scheme. Rounding grows as 2.4^degree: keep to degree 15 or so.
 */
export function chebyshevToMonomial(coefficients: ArrayLike<number>): Float64Array {
  const count = coefficients.length;
  const result = new Float64Array(count);
  // T_{j-1} and T_j in powers of t.
  let previous = new Float64Array(count);
  let current = new Float64Array(count);
  current[0] = 1;
  for (let j = 0; j < count; j += 1) {
    for (let power = 0; power <= j; power += 1) result[power] += coefficients[j] * current[power];
    const following = new Float64Array(count);
    const factor = j === 0 ? 1 : 2;
    for (let power = 0; power < count; power += 1) {
      following[power] = (power > 0 ? factor * current[power - 1] : 0) - previous[power];
    }
    previous = current;
    current = following;
  }
  return result;
}

/** The coefficients, lowest power first, of the fit as a polynomial of t in -1 to 1. Parameters as `fitChebyshev`. */
export function fitChebyshevMonomial(
  f: (x: number) => number,
  low: number,
  high: number,
  degree: number,
): Float64Array {
  return chebyshevToMonomial(fitChebyshev(f, low, high, degree).coefficients);
}

/** Value at t of the polynomial with these coefficients, lowest power first (Horner). */
export function evaluateMonomial(coefficients: Float64Array, t: number): number {
  let value = 0;
  for (let power = coefficients.length - 1; power >= 0; power -= 1) value = value * t + coefficients[power];
  return value;
}

/** The largest absolute error of the fit, looked for at four points per coefficient, ends included. */
export function largestFitError(f: (x: number) => number, fit: ChebyshevFit): number {
  const steps = 4 * fit.coefficients.length;
  let worst = 0;
  for (let step = 0; step <= steps; step += 1) {
    const x = step === steps ? fit.high : fit.low + ((fit.high - fit.low) * step) / steps;
    worst = Math.max(worst, Math.abs(evaluateChebyshev(fit, x) - f(x)));
  }
  return worst;
}
