/** Quantiles of a sorted sample and the intervals that cover a share of it. */
import { InternalError } from "../errors.ts";

/** A sorted copy of `values[0..count)`, NaN refused. */
export function sortedCopy(values: Float64Array, count = values.length): Float64Array {
  const sorted = values.slice(0, count).sort();
  // A typed array sorts NaN to its end.
  if (sorted.length > 0 && Number.isNaN(sorted[sorted.length - 1])) {
    throw new InternalError("a column to be sorted holds a value that is not a number");
  }
  return sorted;
}

/**
 * The p-quantile of a sorted sample by linear interpolation between order statistics (type 7): h = (n - 1)·p, x[⌊h⌋] + (h - ⌊h⌋)·(x[⌊h⌋ + 1] - x[⌊h⌋]).
 *
 * @param sorted ascending; NaN for an empty one
 * @param p closed [0, 1]
 *
 * Source: R. J. Hyndman, Y. Fan, "Sample quantiles in statistical packages", The American Statistician 50 (1996) 361-365, definition 7.
 */
export function quantileOfSorted(sorted: ArrayLike<number>, p: number): number {
  if (!(p >= 0 && p <= 1)) throw new InternalError(`no quantile at ${p}`);
  const n = sorted.length;
  if (n === 0) return Number.NaN;
  const h = (n - 1) * p;
  const below = Math.floor(h);
  if (below + 1 >= n) return sorted[n - 1];
  const fraction = h - below;
  return fraction === 0 ? sorted[below] : sorted[below] + fraction * (sorted[below + 1] - sorted[below]);
}

/** Two ends of an interval, both included. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** How many order statistics apart the ends of a coverage interval stand. */
function coverageSpan(count: number, coverage: number): number {
  if (!(coverage > 0 && coverage < 1)) throw new InternalError(`no coverage interval for ${coverage}`);
  const span = Math.floor(coverage * count + 0.5);
  if (!(span >= 1 && span < count)) throw new InternalError(`${count} values are too few to cover ${coverage}`);
  return span;
}

/**
 * The shortest interval that covers a share of a sorted sample. Its width is sharp; its place is noisy where the density is flat at the ends.
 *
 * @param coverage open (0, 1)
 * @throws InternalError when the sample is too small for the coverage
 *
 * Source: JCGM 101:2008, 7.7.4 (from memory): q = ⌊pM + 1/2⌋, r the index of the least y(r + q) - y(r), the first one of equals.
 */
export function shortestCoverageInterval(sorted: ArrayLike<number>, coverage: number): Interval {
  const span = coverageSpan(sorted.length, coverage);
  let best = 0;
  for (let start = 1; start + span < sorted.length; start += 1) {
    if (sorted[start + span] - sorted[start] < sorted[best + span] - sorted[best]) best = start;
  }
  return { low: sorted[best], high: sorted[best + span] };
}

/**
 * The interval with equal shares left out on both sides. Parameters and errors as `shortestCoverageInterval`.
 *
 * Source: JCGM 101:2008, 7.7.2 (from memory): r = (M - q)/2, or (M - q + 1)/2 where that is no whole number.
 */
export function symmetricCoverageInterval(sorted: ArrayLike<number>, coverage: number): Interval {
  const span = coverageSpan(sorted.length, coverage);
  const rank = Math.max(1, Math.ceil((sorted.length - span) / 2));
  return { low: sorted[rank - 1], high: sorted[rank - 1 + span] };
}
