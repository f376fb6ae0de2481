/** The chi-square distribution, through the incomplete gamma functions. */
import { regularisedGammaP } from "./gamma.ts";
import { normalQuantile } from "./normal.ts";
import { findRoot } from "./roots.ts";

/** P(X <= x) with ν degrees of freedom, real, above 0. */
function chiSquareCdf(x: number, degreesOfFreedom: number): number {
  return x <= 0 ? 0 : regularisedGammaP(0.5 * degreesOfFreedom, 0.5 * x);
}

/**
 * The x with P(X <= x) = p, 0 < p < 1, from the cube-root approximation of Wilson and Hilferty, then a bracketed root.
 *
 * Accuracy: 1e-12 relative.
 */
export function chiSquareQuantile(p: number, degreesOfFreedom: number): number {
  if (!(p > 0 && p < 1 && degreesOfFreedom > 0)) return Number.NaN;
  const part = 2 / (9 * degreesOfFreedom);
  const root = Math.max(0.1, 1 - part + normalQuantile(p) * Math.sqrt(part));
  const guess = degreesOfFreedom * root * root * root;
  const f = (x: number) => chiSquareCdf(x, degreesOfFreedom) - p;
  let low = 0.5 * guess;
  while (f(low) > 0) low *= 0.25;
  let high = 2 * guess + 1;
  while (f(high) < 0) high *= 2;
  return findRoot(f, low, high);
}
