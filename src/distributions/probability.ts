/** Probabilities and quantiles of a distribution given as data. Each call works the constants out anew: `prepare` once where it matters. */
import { prepare } from "./prepare.ts";
import { requireProbability } from "./prepared.ts";
import type { Distribution } from "./types.ts";

/** The value that a share p (0 to 1, closed; outside it an InternalError) lies at or below. */
export function quantile(d: Distribution, p: number): number {
  requireProbability(p);
  return prepare(d).quantile(p);
}

/** The value that a share q lies above: `quantile(1 − q)` without the loss of digits where q is small. */
export function upperQuantile(d: Distribution, q: number): number {
  requireProbability(q);
  return prepare(d).upperQuantile(q);
}

/** P(X ≤ x) */
export function cdf(d: Distribution, x: number): number {
  return prepare(d).cdf(x);
}

/** P(X > x), accurate where it is small. */
export function survival(d: Distribution, x: number): number {
  return prepare(d).survival(x);
}

/** Density, per unit of the variable; infinite at the value of a constant. */
export function pdf(d: Distribution, x: number): number {
  return prepare(d).pdf(x);
}
