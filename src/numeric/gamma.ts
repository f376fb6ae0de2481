/** The gamma function's logarithm, the incomplete gamma function, and the densities they are built from. */
import { InternalError } from "../errors.ts";
import { exp, log, log1p } from "./elementary.ts";

const HALF_LOG_2PI = 0.9189385332046728;
const TWO_PI = 6.283185307179586;
const MAX_STEPS = 2_000_000;

/**
 * What Stirling's formula leaves out: δ(x) = ln Γ(x) - (x - 1/2)·ln x + x - ln(2π)/2, for x > 0.
 *
 * Source: C. Loader, "Fast and accurate computation of binomial probabilities", 2000 (stirlerr); the asymptotic series with
 * Bernoulli numbers, NIST DLMF 5.11.1; below 16 the recurrence δ(x) = δ(x+1) + (x + 1/2)·ln(1 + 1/x) - 1. Accuracy: 3e-15 absolute.
 */
export function stirlingError(x: number): number {
  let y = x;
  let sum = 0;
  while (y < 16) {
    sum += (y + 0.5) * log1p(1 / y) - 1;
    y += 1;
  }
  const s = 1 / (y * y);
  return sum + (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s * (1 / 1188 - (s * 691) / 360360))))) / y;
}

/** ln Γ(x) for x > 0. Accuracy: 3e-15·max(1, |ln Γ(x)|), absolute near its zeros at 1 and 2. NaN at x <= 0. */
export function logGamma(x: number): number {
  if (!(x > 0)) return Number.NaN;
  if (x === 1 || x === 2) return 0;
  return (x - 0.5) * log(x) - x + HALF_LOG_2PI + stirlingError(x);
}

/** x·ln(x/m) + m - x without cancellation where x is near m; x, m > 0. Source: Loader 2000 (bd0). */
export function deviance(x: number, m: number): number {
  const difference = x - m;
  if (Math.abs(difference) < 0.1 * (x + m)) {
    const v = difference / (x + m);
    let sum = difference * v;
    let term = 2 * x * v;
    const square = v * v;
    for (let j = 1; j < 1000; j += 1) {
      term *= square;
      const next = sum + term / (2 * j + 1);
      if (next === sum) return next;
      sum = next;
    }
  }
  return x * log(x / m) - difference;
}

/** m^x·e^-m/Γ(x + 1), the Poisson probability taken to real x >= 0, m > 0. Source: Loader 2000. Accuracy: 1e-14 relative and better. */
export function poissonDensity(x: number, m: number): number {
  if (x === 0) return exp(-m);
  return exp(-stirlingError(x) - deviance(x, m)) / Math.sqrt(TWO_PI * x);
}

/**
 * The regularised lower incomplete gamma function P(a, x).
 *
 * @param a shape, a > 0
 * @param x x >= 0; below 0 the result is 0
 *
 * Source: NIST DLMF 8.7.1 (series) and 8.9.2 (continued fraction, by Lentz's method). Accuracy: 1e-13 relative in the smaller of P and Q.
 */
export function regularisedGammaP(a: number, x: number): number {
  if (!(a > 0) || Number.isNaN(x)) return Number.NaN;
  if (x <= 0) return 0;
  return x < a + 1 ? gammaSeries(a, x) : 1 - gammaFraction(a, x);
}

/** The regularised upper incomplete gamma function Q(a, x) = 1 - P(a, x). See `regularisedGammaP`. */
export function regularisedGammaQ(a: number, x: number): number {
  if (!(a > 0) || Number.isNaN(x)) return Number.NaN;
  if (x <= 0) return 1;
  return x < a + 1 ? 1 - gammaSeries(a, x) : gammaFraction(a, x);
}

function gammaSeries(a: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let step = 1; step < MAX_STEPS; step += 1) {
    term *= x / (a + step);
    sum += term;
    if (term < sum * 1e-17) return sum * poissonDensity(a, x);
  }
  throw new InternalError(`the incomplete gamma series does not converge at ${a}, ${x}`);
}

function gammaFraction(a: number, x: number): number {
  if (x === Number.POSITIVE_INFINITY) return 0;
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let h = d;
  for (let step = 1; step < MAX_STEPS; step += 1) {
    const numerator = -step * (step - a);
    b += 2;
    d = 1 / (numerator * d + b);
    c = b + numerator / c;
    const change = c * d;
    h *= change;
    if (Math.abs(change - 1) < 3e-16) return poissonDensity(a, x) * a * h;
  }
  throw new InternalError(`the incomplete gamma fraction does not converge at ${a}, ${x}`);
}
