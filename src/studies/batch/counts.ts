import { betaBinomialProbabilities, countQuantile } from "../../stats/batch-counts.ts";
import { binomialInterval } from "../../stats/intervals.ts";
import { momentsOf, variance } from "../../stats/moments.ts";
import { quantileOfSorted } from "../../stats/quantiles.ts";
import type { CountDistribution, MoneyDistribution } from "./result.ts";

const PROBABILITIES = [0.05, 0.25, 0.5, 0.75, 0.95, 0.99] as const;
const BINS = 40;

/**
 * Sums up a count over batches.
 *
 * Where units of a batch share a part of their spread, quantiles and chances are those of the batches drawn. Where they share nothing, the
 * count is beta-binomial from all units together, with the uncertainty of their share in it (Jeffreys' prior).
 *
 * @param counts one entry a batch of `drawn` units
 * @param size of the real batch; counts are scaled where it is larger than what was drawn
 */
export function summariseCounts(
  counts: Float64Array,
  drawn: number,
  size: number,
  isShared: boolean,
): CountDistribution {
  const sorted = counts.slice().sort();
  const moments = momentsOf(sorted);
  const share = moments.mean / drawn;
  const fit = fitBetaBinomial(moments.mean, variance(moments), drawn);
  const withinSd = Math.sqrt(size * share * (1 - share) * (1 - fit.correlationRatio));
  const betweenSd = size * Math.sqrt(share * (1 - share) * fit.correlationRatio);
  const common = {
    expected: size * share,
    sd: Math.sqrt(withinSd * withinSd + betweenSd * betweenSd),
    betweenSd,
    withinSd,
    fit,
    histogram: histogramOf(sorted, size / drawn),
  };
  if (isShared) {
    const scale = size / drawn;
    const quantiles = PROBABILITIES.map((probabilityRatio) => ({
      probabilityRatio,
      count: Math.round(scale * quantileOfSorted(sorted, probabilityRatio)),
    }));
    const more = thresholds(
      quantiles.map(({ count }) => count),
      size,
    ).map((count) => {
      let above = 0;
      for (const value of sorted) if (value * scale > count) above += 1;
      const { low, high } = binomialInterval(above, sorted.length);
      return { count, chanceRatio: above / sorted.length, lowRatio: low, highRatio: high };
    });
    return { ...common, quantiles, more };
  }
  const failing = moments.mean * sorted.length;
  const units = drawn * sorted.length;
  const table = (k: number) => betaBinomialProbabilities(size, k + 0.5, units - k + 0.5);
  const probabilities = table(failing);
  const quantiles = PROBABILITIES.map((probabilityRatio) => ({
    probabilityRatio,
    count: countQuantile(probabilities, probabilityRatio),
  }));
  const interval = binomialInterval(failing, units);
  const ends = [interval.low, interval.high].map((ratio) => table(ratio * units));
  const more = thresholds(
    quantiles.map(({ count }) => count),
    size,
  ).map((count) => ({
    count,
    chanceRatio: above(probabilities, count),
    lowRatio: above(ends[0], count),
    highRatio: above(ends[1], count),
  }));
  return { ...common, quantiles, more };
}

function above(probabilities: Float64Array, count: number): number {
  let sum = 0;
  for (let k = count + 1; k < probabilities.length; k += 1) sum += probabilities[k];
  return Math.min(1, sum);
}

/** Counts whose excess is worth a chance: none at all, and those near the upper quantiles. */
function thresholds(quantiles: readonly number[], size: number): number[] {
  return [...new Set([0, ...quantiles.slice(2)])].filter((count) => count < size).sort((a, b) => a - b);
}

/**
 * Mean share and correlation within a batch from the mean and variance of counts: var = n·p·q·(1 + (n − 1)·ρ).
 *
 * Source: N. L. Johnson, A. W. Kemp, S. Kotz, Univariate Discrete Distributions, 2005, 6.9 (moments of the beta-binomial; from memory).
 */
export function fitBetaBinomial(
  mean: number,
  countVariance: number,
  n: number,
): { meanRatio: number; correlationRatio: number } {
  const meanRatio = mean / n;
  const single = n * meanRatio * (1 - meanRatio);
  const correlationRatio = n > 1 && single > 0 ? Math.min(1, Math.max(0, (countVariance / single - 1) / (n - 1))) : 0;
  return { meanRatio, correlationRatio };
}

function histogramOf(sorted: Float64Array, scale: number): CountDistribution["histogram"] {
  const low = sorted[0] * scale;
  const high = sorted[sorted.length - 1] * scale;
  const width = Math.max(1, Math.ceil((high - low + 1) / BINS));
  const batches = new Array<number>(Math.floor((high - low) / width) + 1).fill(0);
  for (const count of sorted) batches[Math.floor((count * scale - low) / width)] += 1;
  return { low, width, batches };
}

/** Quantiles of an amount over batches. */
export function summariseMoney(amounts: Float64Array): MoneyDistribution {
  const sorted = amounts.slice().sort();
  return {
    expected: momentsOf(sorted).mean,
    quantiles: PROBABILITIES.map((probabilityRatio) => ({
      probabilityRatio,
      amount: quantileOfSorted(sorted, probabilityRatio),
    })),
  };
}
