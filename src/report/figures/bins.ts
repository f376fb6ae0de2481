/** A histogram over an axis, with what fell outside it and what was no number. */
export interface Bins {
  readonly edges: Float64Array;
  readonly counts: Float64Array;
  readonly below: number;
  readonly above: number;
  readonly undefinedCount: number;
  readonly total: number;
}

/** Counts values into equal bins over the closed axis [low, high]. */
export function binValues(values: ArrayLike<number>, low: number, high: number, binCount: number): Bins {
  const counts = new Float64Array(binCount);
  const edges = Float64Array.from({ length: binCount + 1 }, (_, index) => low + ((high - low) * index) / binCount);
  let below = 0;
  let above = 0;
  let undefinedCount = 0;
  for (let index = 0; index < values.length; index += 1) {
    const value = values[index] as number;
    if (Number.isNaN(value)) undefinedCount += 1;
    else if (value < low) below += 1;
    else if (value > high) above += 1;
    else counts[Math.min(binCount - 1, Math.floor(((value - low) / (high - low)) * binCount))]! += 1;
  }
  return { edges, counts, below, above, undefinedCount, total: values.length };
}

/** Outline of a histogram as a stepped line, from the axis up and back to it. */
export function outline(bins: Bins): { readonly x: number; readonly y: number }[] {
  const points: { x: number; y: number }[] = [{ x: bins.edges[0]!, y: 0 }];
  for (let index = 0; index < bins.counts.length; index += 1) {
    const y = bins.total === 0 ? 0 : bins.counts[index]! / bins.total;
    points.push({ x: bins.edges[index]!, y }, { x: bins.edges[index + 1]!, y });
  }
  points.push({ x: bins.edges.at(-1)!, y: 0 });
  return points;
}

/** Highest bin as a share of all values. */
export function peakShare(bins: Bins): number {
  return bins.total === 0 ? 0 : bins.counts.reduce((most, value) => Math.max(most, value), 0) / bins.total;
}

/** Quantile (nearest rank) of the finite values; NaN without any. */
export function sampleQuantile(values: ArrayLike<number>, probabilityRatio: number): number {
  const kept = Float64Array.from(values)
    .filter((value) => Number.isFinite(value))
    .sort();
  if (kept.length === 0) return Number.NaN;
  return kept[Math.min(kept.length - 1, Math.floor(probabilityRatio * kept.length))]!;
}

/** Ends of an axis that shows all of `must` and the given quantiles of the columns, with room at both ends. */
export function axisOver(
  columns: readonly ArrayLike<number>[],
  must: readonly number[],
  tailRatio = 0.002,
): { low: number; high: number } {
  const ends = columns.flatMap((values) => [sampleQuantile(values, tailRatio), sampleQuantile(values, 1 - tailRatio)]);
  const finite = [...ends, ...must].filter((value) => Number.isFinite(value));
  if (finite.length === 0) return { low: 0, high: 1 };
  const low = Math.min(...finite);
  const high = Math.max(...finite);
  const room = high > low ? (high - low) * 0.05 : Math.max(Math.abs(high) * 0.1, 1e-6);
  return { low: low - room, high: high + room };
}
