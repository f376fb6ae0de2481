/**
 * A histogram for quantities whose range nobody knows beforehand: bins as wide as 2^-10 of the value, for every double, either sign.
 *
 * Counts are whole numbers, so merging gives the same bits in any order, and a quantile is known to a thousandth of its value.
 */
import { InternalError } from "../errors.ts";
import { doubleView, fromWords, HIGH_WORD, wordView } from "../numeric/bits.ts";
import type { Interval } from "./quantiles.ts";

const PAGE_BITS = 10;

/** Key of the bin that begins at a power of two. */
export function logBinKey(exponent: number): number {
  return (1023 + exponent) << PAGE_BITS;
}

const PAGE_SIZE = 1 << PAGE_BITS;
const PAGES = 2048;

/** What travels between workers: the bins that are not empty. */
export interface LogHistogramState {
  readonly keys: Int32Array;
  readonly counts: Float64Array;
  readonly zeros: number;
  readonly notFinite: number;
  readonly min: number;
  readonly max: number;
}

/** A bin: values from `low` to `high`, nearer end included, farther end (from zero) not. */
export interface Bin extends Interval {
  readonly count: number;
}

interface RankedBins {
  /** Values in the bins before each one. */
  readonly before: number[];
  readonly low: number[];
  readonly high: number[];
  readonly count: number[];
}

/** Counts values of any size and sign over bins of 1/1024 of an octave; zeros and what is not finite are counted apart. */
export class LogHistogram {
  /** One page of bins per exponent, made when first needed. Key of a bin: exponent and top 10 bits of the mantissa. */
  private readonly positive: (Float64Array | undefined)[] = new Array<Float64Array | undefined>(PAGES).fill(undefined);
  private readonly negative: (Float64Array | undefined)[] = new Array<Float64Array | undefined>(PAGES).fill(undefined);
  private zeroCount = 0;
  private notFiniteCount = 0;
  private finiteCount = 0;
  private least = Number.POSITIVE_INFINITY;
  private greatest = Number.NEGATIVE_INFINITY;
  /** The bins in rising order with the counts before them, while nothing is added. */
  private ranked: RankedBins | null = null;

  /** Finite values counted. */
  get count(): number {
    return this.finiteCount;
  }

  /** Values that were exactly zero. */
  get zeros(): number {
    return this.zeroCount;
  }

  /** Infinities and NaN, counted apart and left out of everything else. */
  get notFinite(): number {
    return this.notFiniteCount;
  }

  /** The least value, exact; Infinity when empty. */
  get min(): number {
    return this.least;
  }

  /** The greatest value, exact; -Infinity when empty. */
  get max(): number {
    return this.greatest;
  }

  /**
   * Adds `values[0..count)`.
   *
   * @param selected when given, only values whose entry is not 0 are counted
   */
  add(values: ArrayLike<number>, count = values.length, selected?: ArrayLike<number>): void {
    this.ranked = null;
    for (let index = 0; index < count; index += 1) {
      if (selected !== undefined && selected[index] === 0) continue;
      const value = values[index];
      if (value - value !== 0) {
        this.notFiniteCount += 1;
        continue;
      }
      this.finiteCount += 1;
      if (value < this.least) this.least = value;
      if (value > this.greatest) this.greatest = value;
      if (value === 0) {
        this.zeroCount += 1;
        continue;
      }
      doubleView[0] = value;
      const high = wordView[HIGH_WORD];
      const key = (high & 0x7fffffff) >>> PAGE_BITS;
      const pages = high < 0 ? this.negative : this.positive;
      let page = pages[key >>> PAGE_BITS];
      if (page === undefined) {
        page = new Float64Array(PAGE_SIZE);
        pages[key >>> PAGE_BITS] = page;
      }
      page[key & (PAGE_SIZE - 1)] += 1;
    }
  }

  /**
   * Adds values that were counted elsewhere, over bins with keys from `lowKey` on, none of them zero or negative.
   *
   * @param min, max extremes of everything that was counted there, zeros too
   */
  addCounted(counts: Float64Array, lowKey: number, min: number, max: number): void {
    this.ranked = null;
    for (let index = 0; index < counts.length; index += 1) {
      if (counts[index] === 0) continue;
      const key = lowKey + index;
      const page = this.positive[key >>> PAGE_BITS] ?? new Float64Array(PAGE_SIZE);
      this.positive[key >>> PAGE_BITS] = page;
      page[key & (PAGE_SIZE - 1)] += counts[index];
      this.finiteCount += counts[index];
    }
    this.least = Math.min(this.least, min);
    this.greatest = Math.max(this.greatest, max);
  }

  /** Adds all counts of another histogram. */
  merge(other: LogHistogram): void {
    this.ranked = null;
    mergePages(this.positive, other.positive);
    mergePages(this.negative, other.negative);
    this.zeroCount += other.zeroCount;
    this.notFiniteCount += other.notFiniteCount;
    this.finiteCount += other.finiteCount;
    this.least = Math.min(this.least, other.least);
    this.greatest = Math.max(this.greatest, other.greatest);
  }

  /** Visits the bins that are not empty, in rising order; zeros are a bin of no width. */
  forEachBin(visit: (bin: Bin) => void): void {
    this.visitBins((low, high, count) => {
      visit({ low, high, count });
      return true;
    });
  }

  /**
   * The p-quantile, type 7, each order statistic interpolated inside its bin; the extremes are exact.
   *
   * @param p closed [0, 1]
   * @returns NaN when empty. Within 2^-10 of the sample's own quantile, relative
   */
  quantile(p: number): number {
    if (!(p >= 0 && p <= 1)) throw new InternalError(`no quantile at ${p}`);
    if (this.finiteCount === 0) return Number.NaN;
    const h = (this.finiteCount - 1) * p;
    const below = Math.floor(h);
    const low = this.orderStatistic(below);
    if (h === below) return low;
    return low + (h - below) * (this.orderStatistic(below + 1) - low);
  }

  /** The share of values at or below x, interpolated inside the bin of x. NaN when empty. */
  cdf(x: number): number {
    if (this.finiteCount === 0) return Number.NaN;
    if (x < this.least) return 0;
    if (x >= this.greatest) return 1;
    let before = 0;
    this.visitBins((low, high, count) => {
      if (high <= x) {
        before += count;
        return true;
      }
      if (low < x) before += count * ((x - low) / (high - low));
      return false;
    });
    return before / this.finiteCount;
  }

  /** The value of rank `rank` (from 0), as if the values of a bin were spread evenly over it. */
  private orderStatistic(rank: number): number {
    if (rank <= 0) return this.least;
    if (rank >= this.finiteCount - 1) return this.greatest;
    this.ranked ??= this.rankBins();
    const { before, low, high, count } = this.ranked;
    // The last bin that has no more than `rank` values before it.
    let place = 0;
    let end = before.length;
    while (end - place > 1) {
      const middle = (place + end) >>> 1;
      if (before[middle] <= rank) place = middle;
      else end = middle;
    }
    const from = Math.max(low[place], this.least);
    const to = Math.min(high[place], this.greatest);
    return from + ((rank - before[place] + 0.5) / count[place]) * (to - from);
  }

  private rankBins(): RankedBins {
    const bins: RankedBins = { before: [], low: [], high: [], count: [] };
    let before = 0;
    this.visitBins((low, high, count) => {
      bins.before.push(before);
      bins.low.push(low);
      bins.high.push(high);
      bins.count.push(count);
      before += count;
      return true;
    });
    return bins;
  }

  /** Walks the bins in rising order until the visitor returns false. */
  private visitBins(visit: (low: number, high: number, count: number) => boolean): void {
    for (let pageIndex = PAGES - 1; pageIndex >= 0; pageIndex -= 1) {
      const page = this.negative[pageIndex];
      if (page === undefined) continue;
      for (let bin = PAGE_SIZE - 1; bin >= 0; bin -= 1) {
        if (page[bin] === 0) continue;
        const key = pageIndex * PAGE_SIZE + bin;
        if (!visit(-edge(key + 1), -edge(key), page[bin])) return;
      }
    }
    if (this.zeroCount > 0 && !visit(0, 0, this.zeroCount)) return;
    for (let pageIndex = 0; pageIndex < PAGES; pageIndex += 1) {
      const page = this.positive[pageIndex];
      if (page === undefined) continue;
      for (let bin = 0; bin < PAGE_SIZE; bin += 1) {
        if (page[bin] === 0) continue;
        const key = pageIndex * PAGE_SIZE + bin;
        if (!visit(edge(key), edge(key + 1), page[bin])) return;
      }
    }
  }

  /** The counts as plain data; keys of negative values are ~key. */
  toState(): LogHistogramState {
    const keys: number[] = [];
    const counts: number[] = [];
    for (const [pages, flip] of [
      [this.negative, true],
      [this.positive, false],
    ] as const) {
      for (let pageIndex = 0; pageIndex < PAGES; pageIndex += 1) {
        const page = pages[pageIndex];
        if (page === undefined) continue;
        for (let bin = 0; bin < PAGE_SIZE; bin += 1) {
          if (page[bin] === 0) continue;
          const key = pageIndex * PAGE_SIZE + bin;
          keys.push(flip ? ~key : key);
          counts.push(page[bin]);
        }
      }
    }
    return {
      keys: Int32Array.from(keys),
      counts: Float64Array.from(counts),
      zeros: this.zeroCount,
      notFinite: this.notFiniteCount,
      min: this.least,
      max: this.greatest,
    };
  }

  static fromState(state: LogHistogramState): LogHistogram {
    const histogram = new LogHistogram();
    let total = state.zeros;
    for (let index = 0; index < state.keys.length; index += 1) {
      const signed = state.keys[index];
      const key = signed < 0 ? ~signed : signed;
      const pages = signed < 0 ? histogram.negative : histogram.positive;
      const page = pages[key >>> PAGE_BITS] ?? new Float64Array(PAGE_SIZE);
      pages[key >>> PAGE_BITS] = page;
      page[key & (PAGE_SIZE - 1)] += state.counts[index];
      total += state.counts[index];
    }
    histogram.zeroCount = state.zeros;
    histogram.notFiniteCount = state.notFinite;
    histogram.finiteCount = total;
    histogram.least = state.min;
    histogram.greatest = state.max;
    return histogram;
  }
}

/** The least double of the bin with this key; past the last bin, the largest double. */
function edge(key: number): number {
  return Math.min(Number.MAX_VALUE, fromWords(key << PAGE_BITS, 0));
}

function mergePages(into: (Float64Array | undefined)[], from: readonly (Float64Array | undefined)[]): void {
  for (let index = 0; index < PAGES; index += 1) {
    const source = from[index];
    if (source === undefined) continue;
    const target = into[index];
    if (target === undefined) {
      into[index] = source.slice();
      continue;
    }
    for (let bin = 0; bin < PAGE_SIZE; bin += 1) target[bin] += source[bin];
  }
}
