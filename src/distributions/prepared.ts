import { InternalError } from "../errors.ts";

/** Turns the first `count` open uniforms of a column into values, in place. Allocates nothing. */
export type ColumnTransform = (column: Float64Array, count: number) => void;

/** A normal cut at its limits as a column transform takes it: p = below + u·mass from below, above + (1 − u)·mass from above. */
export interface NormalLaw {
  readonly kind: "normal";
  readonly mean: number;
  readonly sd: number;
  /** Infinite where there is no limit. */
  readonly low: number;
  readonly high: number;
  readonly below: number;
  readonly above: number;
  readonly mass: number;
}

/** x = low + u·width, not above `high`. */
export interface UniformLaw {
  readonly kind: "uniform";
  readonly low: number;
  readonly width: number;
  readonly high: number;
}

/** A distribution with its constants worked out once. Values in the unit of the variable. */
export interface PreparedDistribution {
  /** Least and greatest possible value, infinite where there is no limit. */
  readonly low: number;
  readonly high: number;
  /** NaN where it does not exist. */
  readonly mean: number;
  /** Infinite where the second moment does not exist. */
  readonly standardDeviation: number;
  /** Value that a share p (0 to 1, closed) lies at or below. */
  quantile(p: number): number;
  /** Value that a share q lies above: `quantile(1 − q)` without the loss of digits for small q. */
  upperQuantile(q: number): number;
  /** P(X ≤ x) */
  cdf(x: number): number;
  /** P(X > x), accurate where it is small. */
  survival(x: number): number;
  /** Density, per unit of the variable. */
  pdf(x: number): number;
  readonly transform: ColumnTransform;
  /** What the transform does, in numbers alone, where it is one of the hot laws: other kernels do the same from it. */
  readonly law?: NormalLaw | UniformLaw;
}

/** A half step of the 52-bit uniforms (k + ½)/2⁵²: the least of them, and the distance of the greatest from 1. */
export const LEAST_UNIFORM = 1.1102230246251565e-16;

/** @throws InternalError outside 0 to 1 */
export function requireProbability(p: number): void {
  if (!(p >= 0 && p <= 1)) throw new InternalError(`A probability from 0 to 1 was expected, got ${p}`);
}

/** The nearest number from `low` to `high`; NaN stays NaN. */
export function clamp(x: number, low: number, high: number): number {
  return Math.min(Math.max(x, low), high);
}
