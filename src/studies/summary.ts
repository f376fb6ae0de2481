import type { InternalUnit } from "../scenario/types.ts";
import { type Moments, momentsOf, standardDeviation } from "../stats/moments.ts";
import { quantileOfSorted } from "../stats/quantiles.ts";
import type { QuantitySummary } from "./result.ts";

/** Probabilities that a quantity is summed up by. */
const PROBABILITIES = [0.001, 0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99, 0.999];

/** Sums up a quantity from its moments and its quantile function. */
export function summariseMoments(
  moments: Moments,
  quantile: (p: number) => number,
  unit: InternalUnit,
): QuantitySummary {
  return {
    unit,
    count: moments.count,
    mean: moments.count === 0 ? Number.NaN : moments.mean,
    sd: standardDeviation(moments),
    min: moments.count === 0 ? Number.NaN : moments.min,
    max: moments.count === 0 ? Number.NaN : moments.max,
    quantiles: PROBABILITIES.map((probabilityRatio) => ({ probabilityRatio, value: quantile(probabilityRatio) })),
  };
}

/** Sums up values that are all at hand: exact quantiles (type 7). */
export function summariseValues(values: ArrayLike<number>, unit: InternalUnit): QuantitySummary {
  const sorted = Float64Array.from(values).sort();
  return summariseMoments(
    momentsOf(sorted),
    (p) => (sorted.length === 0 ? Number.NaN : quantileOfSorted(sorted, p)),
    unit,
  );
}
