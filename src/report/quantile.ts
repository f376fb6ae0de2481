import type { QuantitySummary } from "../studies/result.ts";

/**
 * Quantile of a summary: the one it holds, else linear between its neighbours (its smallest and largest value stand at
 * 0 and 1). NaN when nothing was counted.
 */
export function quantileOf(summary: QuantitySummary, probabilityRatio: number): number {
  if (summary.count === 0) return Number.NaN;
  const points = [
    { probabilityRatio: 0, value: summary.min },
    ...summary.quantiles,
    { probabilityRatio: 1, value: summary.max },
  ];
  let below = points[0]!;
  for (const point of points) {
    if (Math.abs(point.probabilityRatio - probabilityRatio) < 1e-12) return point.value;
    if (point.probabilityRatio > probabilityRatio) {
      const part = (probabilityRatio - below.probabilityRatio) / (point.probabilityRatio - below.probabilityRatio);
      return below.value + part * (point.value - below.value);
    }
    below = point;
  }
  return summary.max;
}
