import { clamp, type PreparedDistribution } from "./prepared.ts";

/**
 * Measured values x₁ ≤ … ≤ xₙ, drawn with linear interpolation between neighbours: x(p) = x_j + g·(x_{j+1} − x_j), j + g = 1 + (n − 1)·p.
 *
 * Source: R. J. Hyndman, Y. Fan, "Sample quantiles in statistical packages", The American Statistician 50 (1996) 361, definition 7.
 */
export function prepareEmpirical(values: readonly number[]): PreparedDistribution {
  const sorted = Float64Array.from(values);
  const gaps = sorted.length - 1;
  const low = sorted[0];
  const high = sorted[gaps];
  const at = (p: number) => {
    const position = gaps * p;
    const j = Math.min(Math.floor(position), gaps - 1);
    return clamp(sorted[j] + (position - j) * (sorted[j + 1] - sorted[j]), sorted[j], sorted[j + 1]);
  };
  const cdf = (x: number) => {
    if (x < low) return 0;
    if (x >= high) return 1;
    const j = lastAtOrBelow(sorted, x);
    return (j + (x - sorted[j]) / (sorted[j + 1] - sorted[j])) / gaps;
  };
  const moments = pieceMoments(sorted);
  return {
    low,
    high,
    ...moments,
    quantile: at,
    upperQuantile: (q) => at(1 - q),
    cdf,
    survival: (x) => 1 - cdf(x),
    pdf: (x) => {
      if (x < low || x > high) return 0;
      const j = Math.min(lastAtOrBelow(sorted, x), gaps - 1);
      return 1 / (gaps * (sorted[j + 1] - sorted[j]));
    },
    transform: (column, count) => {
      for (let i = 0; i < count; i++) {
        const position = gaps * column[i];
        const j = Math.min(Math.trunc(position), gaps - 1);
        const start = sorted[j];
        const end = sorted[j + 1];
        const x = start + (position - j) * (end - start);
        column[i] = Math.min(x, end);
      }
    },
  };
}

/** Greatest index whose value is at or below x; x at least the first value. */
function lastAtOrBelow(sorted: Float64Array, x: number): number {
  let below = 0;
  let above = sorted.length;
  while (above - below > 1) {
    const middle = (below + above) >> 1;
    if (sorted[middle] <= x) below = middle;
    else above = middle;
  }
  return below;
}

/** Moments of the mixture of equally likely uniform pieces between neighbours. */
function pieceMoments(sorted: Float64Array): { mean: number; standardDeviation: number } {
  const gaps = sorted.length - 1;
  const base = sorted[0];
  let mean = 0;
  for (let j = 0; j < gaps; j++) mean += (0.5 * (sorted[j] - base + (sorted[j + 1] - base))) / gaps;
  let variance = 0;
  for (let j = 0; j < gaps; j++) {
    const step = sorted[j + 1] - sorted[j];
    const off = 0.5 * (sorted[j] - base + (sorted[j + 1] - base)) - mean;
    variance += (step * step) / (12 * gaps) + (off * off) / gaps;
  }
  return { mean: base + mean, standardDeviation: Math.sqrt(variance) };
}
