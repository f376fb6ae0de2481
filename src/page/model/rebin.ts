import { LogHistogram, type LogHistogramState } from "../../stats/log-histogram.ts";

export interface Rebinned {
  /** Shares of all units, one a bin of the axis. */
  readonly shares: Float64Array;
  readonly belowRatio: number;
  /** Exactly zero: no preload. */
  readonly zeroRatio: number;
  readonly aboveRatio: number;
}

/** The fine bins of a run put into the equal bins of an axis from `low` to `high`; a bin across an edge is shared out evenly. */
export function rebin(state: LogHistogramState, low: number, high: number, bins: number): Rebinned {
  const histogram = LogHistogram.fromState(state);
  const total = histogram.count === 0 ? 1 : histogram.count;
  const shares = new Float64Array(bins);
  const perUnit = bins / (high - low);
  let below = 0;
  let above = 0;
  histogram.forEachBin((bin) => {
    if (bin.low === 0 && bin.high === 0) return;
    const from = (bin.low - low) * perUnit;
    const to = (bin.high - low) * perUnit;
    if (to <= 0) below += bin.count;
    else if (from >= bins) above += bin.count;
    else {
      const width = to - from;
      for (let place = Math.max(0, Math.floor(from)); place < Math.min(bins, to); place += 1) {
        const part = (Math.min(place + 1, to) - Math.max(place, from)) / width;
        shares[place]! += (bin.count * part) / total;
      }
      if (from < 0) below += (bin.count * -from) / width;
      if (to > bins) above += (bin.count * (to - bins)) / width;
    }
  });
  return { shares, belowRatio: below / total, zeroRatio: histogram.zeros / total, aboveRatio: above / total };
}
