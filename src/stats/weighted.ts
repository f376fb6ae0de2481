/** Shares and quantiles of samples that count by a weight: importance sampling. */
import { InternalError } from "../errors.ts";
import { normalQuantile } from "../numeric/special.ts";

/** Sums of a weighted set and of the part of it that has some property. */
export interface WeightSums {
  weight: number;
  squares: number;
}

/** Sums over nothing. */
export function emptyWeights(): WeightSums {
  return { weight: 0, squares: 0 };
}

export interface WeightedShare {
  readonly shareRatio: number;
  readonly standardErrorRatio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
}

/**
 * Share Σ w·g/Σ w with its interval, 95 %: standard error √(Σ w²(g − p)²)/Σ w, laid out as Wilson's interval of a sample as large as the
 * effective one where the share is near an end.
 *
 * Source: A. B. Owen, Monte Carlo theory, methods and examples, 2013, chapter 9 (self-normalised importance sampling; from memory).
 */
export function weightedShare(part: WeightSums, all: WeightSums): WeightedShare {
  if (!(all.weight > 0)) throw new InternalError("no weight to take a share of");
  const p = Math.min(1, part.weight / all.weight);
  const variance = Math.max(0, part.squares * (1 - 2 * p) + p * p * all.squares) / (all.weight * all.weight);
  const n = effectiveSize(all);
  const z = -normalQuantile(0.025);
  // p(1 − p)/n is the binomial's own variance; where the weights of the part say more, more it is.
  const spread = Math.max(variance, (p * (1 - p)) / n);
  const bound = (z * z) / n;
  const half = z * Math.sqrt(spread + bound / (4 * n));
  return {
    shareRatio: p,
    standardErrorRatio: Math.sqrt(variance),
    lowRatio: Math.max(0, (p + bound / 2 - half) / (1 + bound)),
    highRatio: Math.min(1, (p + bound / 2 + half) / (1 + bound)),
  };
}

/** Independent samples of equal weight that would say as much: (Σ w)²/Σ w² (L. Kish, 1965). */
export function effectiveSize({ weight, squares }: WeightSums): number {
  return squares > 0 ? (weight * weight) / squares : 0;
}

/** Bins that weighted quantiles are read from. */
const BINS = 65_536;

/**
 * Quantiles of weighted values: where the weights sum to p, to one part in 65 536 of the values' range. NaN and infinite values and those
 * of no weight do not count.
 */
export function weightedQuantiles(
  values: Float64Array,
  weights: Float64Array,
  probabilities: readonly number[],
): number[] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i];
    if (!(weights[i] > 0 && value - value === 0)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (!(high > low)) return probabilities.map(() => (high === low ? low : Number.NaN));
  const sums = new Float64Array(BINS);
  const scale = BINS / (high - low);
  let total = 0;
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i];
    if (!(weights[i] > 0 && value - value === 0)) continue;
    sums[Math.min(BINS - 1, Math.floor((value - low) * scale))] += weights[i];
    total += weights[i];
  }
  return probabilities.map((p) => {
    const wanted = p * total;
    let sum = 0;
    for (let bin = 0; bin < BINS; bin += 1) {
      if (sum + sums[bin] >= wanted) {
        const part = sums[bin] > 0 ? (wanted - sum) / sums[bin] : 0;
        return low + (bin + part) / scale;
      }
      sum += sums[bin];
    }
    return high;
  });
}
