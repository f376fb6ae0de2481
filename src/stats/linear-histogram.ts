/** A histogram of equal bins over a range that is known beforehand. Whole counts: merging gives the same bits in any order. */
import { InternalError } from "../errors.ts";

/** Plain data. Bin i holds low + i·width up to, not including, low + (i + 1)·width; the last one includes `high`. */
export interface LinearHistogram {
  readonly low: number;
  readonly high: number;
  readonly counts: Float64Array;
  under: number;
  over: number;
  notFinite: number;
  /** Exact; Infinity and -Infinity when empty. */
  min: number;
  max: number;
}

/** @param low, high ends of the range, low < high, both finite. @param bins 1 or more */
export function emptyLinearHistogram(low: number, high: number, bins: number): LinearHistogram {
  if (!(low < high && Number.isFinite(high - low) && Number.isInteger(bins) && bins >= 1)) {
    throw new InternalError(`no histogram of ${bins} bins from ${low} to ${high}`);
  }
  return {
    low,
    high,
    counts: new Float64Array(bins),
    under: 0,
    over: 0,
    notFinite: 0,
    min: Number.POSITIVE_INFINITY,
    max: Number.NEGATIVE_INFINITY,
  };
}

/** Adds `values[0..count)`; where `selected` is given, only those whose entry is not 0. */
export function addToLinearHistogram(
  into: LinearHistogram,
  values: ArrayLike<number>,
  count = values.length,
  selected?: ArrayLike<number>,
): void {
  const { low, high, counts } = into;
  const bins = counts.length;
  const perUnit = bins / (high - low);
  for (let index = 0; index < count; index += 1) {
    if (selected !== undefined && selected[index] === 0) continue;
    const value = values[index];
    if (value - value !== 0) {
      into.notFinite += 1;
      continue;
    }
    if (value < into.min) into.min = value;
    if (value > into.max) into.max = value;
    if (value < low) into.under += 1;
    else if (value > high) into.over += 1;
    else counts[Math.min(bins - 1, Math.floor((value - low) * perUnit))] += 1;
  }
}

/** Adds the counts of another histogram of the same range and bins. */
export function mergeLinearHistogram(into: LinearHistogram, other: LinearHistogram): void {
  if (other.low !== into.low || other.high !== into.high || other.counts.length !== into.counts.length) {
    throw new InternalError("histograms of unlike bins do not merge");
  }
  for (let bin = 0; bin < into.counts.length; bin += 1) into.counts[bin] += other.counts[bin];
  into.under += other.under;
  into.over += other.over;
  into.notFinite += other.notFinite;
  into.min = Math.min(into.min, other.min);
  into.max = Math.max(into.max, other.max);
}

/** Finite values counted, those outside the range too. */
export function linearHistogramCount(histogram: LinearHistogram): number {
  let total = histogram.under + histogram.over;
  for (let bin = 0; bin < histogram.counts.length; bin += 1) total += histogram.counts[bin];
  return total;
}

/**
 * The quantile function, type 7, each order statistic interpolated inside its bin. NaN when empty. What is added to the histogram
 * afterwards does not count.
 *
 * Within a bin's width of the sample's own quantile; what lies outside the range is taken to spread evenly from it to the extreme.
 *
 * @returns of p, closed [0, 1]
 */
export function quantilesOfLinearHistogram(histogram: LinearHistogram): (p: number) => number {
  const { low, high, counts, under, over, min, max } = histogram;
  const width = (high - low) / counts.length;
  /** Values below each bin, and below the end of the range. */
  const before = new Float64Array(counts.length + 1);
  before[0] = under;
  for (let bin = 0; bin < counts.length; bin += 1) before[bin + 1] = before[bin] + counts[bin];
  const inRange = before[counts.length];
  const total = inRange + over;

  const within = (from: number, to: number, rank: number, count: number) =>
    Math.max(from, min) + ((rank + 0.5) / count) * (Math.min(to, max) - Math.max(from, min));
  const orderStatistic = (rank: number): number => {
    if (rank <= 0) return min;
    if (rank >= total - 1) return max;
    if (rank < under) return within(min, low, rank, under);
    if (rank >= inRange) return within(high, max, rank - inRange, over);
    // The first bin that reaches past the rank.
    let bin = 0;
    let last = counts.length - 1;
    while (bin < last) {
      const middle = (bin + last) >>> 1;
      if (before[middle + 1] > rank) last = middle;
      else bin = middle + 1;
    }
    return within(low + bin * width, low + (bin + 1) * width, rank - before[bin], counts[bin]);
  };

  return (p) => {
    if (!(p >= 0 && p <= 1)) throw new InternalError(`no quantile at ${p}`);
    if (total === 0) return Number.NaN;
    const h = (total - 1) * p;
    const below = Math.floor(h);
    const value = orderStatistic(below);
    return h === below ? value : value + (h - below) * (orderStatistic(below + 1) - value);
  };
}
