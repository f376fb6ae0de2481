/** Location, spread and range of a distribution, in the unit of its variable. */
import { prepare } from "./prepare.ts";
import { LEAST_UNIFORM } from "./prepared.ts";
import type { Distribution } from "./types.ts";

export interface Range {
  readonly low: number;
  readonly high: number;
}

/** NaN where it does not exist (Student's t with one degree of freedom). */
export function mean(d: Distribution): number {
  return prepare(d).mean;
}

/** Where a distribution stands: its mean, or the location of a Student's t, which from two readings has no mean. */
export function centre(d: Distribution): number {
  return d.kind === "student-t" ? d.mean : mean(d);
}

/** Infinite where it does not exist (Student's t with two degrees of freedom or fewer). */
export function standardDeviation(d: Distribution): number {
  return prepare(d).standardDeviation;
}

/** The value that half of all draws lie below. */
export function median(d: Distribution): number {
  return prepare(d).quantile(0.5);
}

/** Closed range of possible values; infinite ends where there is no limit. */
export function support(d: Distribution): Range {
  const { low, high } = prepare(d);
  return { low, high };
}

/** Finite range that holds the value of every 52-bit uniform (k + ½)/2⁵². */
export function practicalRange(d: Distribution): Range {
  const prepared = prepare(d);
  return { low: prepared.quantile(LEAST_UNIFORM), high: prepared.upperQuantile(LEAST_UNIFORM) };
}
