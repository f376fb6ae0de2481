/** Probabilities of rare failures by importance sampling around the design points, with a check on itself. */
import { scoreOfUniform } from "../distributions/normal-score.ts";
import { InternalError } from "../errors.ts";
import { exp } from "../numeric/elementary.ts";
import { normalCdf } from "../numeric/special.ts";
import { BLOCK_SIZE, DRAW_DOMAIN, fillUniform, type SeedKey, variableId } from "../random/streams.ts";
import { meanInterval } from "../stats/intervals.ts";
import type { Interval } from "../stats/quantiles.ts";
import { type DesignOptions, type DesignPoint, type DesignSearch, findDesignPoints } from "./design-point.ts";
import { anyLimit, createColumns, type LimitFunction } from "./limit-function.ts";

export interface ImportanceOptions extends DesignOptions {
  /** Samples; a multiple of 16 blocks' parts is made of it. Default 32 000. */
  readonly samples?: number;
  /** Share of the samples that are drawn as the units are, against design points that were missed. Default 0.1. */
  readonly defensiveRatio?: number;
  readonly confidence?: number;
  /** Another round draws other samples. Default 0. */
  readonly round?: number;
  /** Points to aim at, in place of a search. */
  readonly points?: readonly DesignPoint[];
}

export interface ImportanceResult {
  readonly probability: number;
  readonly standardError: number;
  /** The wider of the two intervals, from the weights' variance and from the spread of 16 batches; not below 0. */
  readonly interval: Interval;
  /** (Σw)²/Σw² over the failing samples: how many equal weights would be worth as much. */
  readonly effectiveFailures: number;
  /** Largest share that a single sample has in the result. */
  readonly largestShareRatio: number;
  /** Whether the checks hold: enough effective failures, no sample that rules, mean weight 1 within its error, none found by the defensive part alone. */
  readonly isTrustworthy: boolean;
  readonly doubts: readonly ImportanceDoubt[];
  readonly designPoints: readonly DesignPoint[];
  /** Failing samples of the greatest weights, one column a variable: where the points lead to too seldom. */
  readonly heaviest: readonly Float64Array[];
  /** Weighted mean of the failing samples; zeros where none failed. */
  readonly middle: Float64Array;
  readonly evaluations: number;
}

export type ImportanceDoubt =
  | "no-design-point"
  | "origin-fails"
  | "few-effective-failures"
  | "one-sample-rules"
  | "weights-do-not-average-to-one"
  | "failures-away-from-design-points";

const BATCHES = 16;
const DEFENSIVE = 0.1;
/** Failing samples that are kept. */
const HEAVIEST = 32;
const BLOCKS_PER_ROUND = 1_048_576;
const LEAST_EFFECTIVE = 200;
const LARGEST_SHARE = 0.05;
/** Largest share of the result from samples whose density by the design points is below the units' own. */
const LARGEST_AWAY = 0.1;

/**
 * P(any limit below 0) for independent standard normal scores.
 *
 * Samples come from the mixture λ₀·φ(z) + Σ λ_k·φ(z - z_k) over the design points z_k, λ_k in proportion to Φ(-β_k) with a floor; each counts with the
 * weight w = φ/mixture <= 1/λ₀. Two limits give points of each, so that neither side is missed.
 *
 * @param limits fails where any is below 0
 * @throws InternalError for sample counts or shares out of range
 *
 * Source: R. E. Melchers, Struct. Safety 6 (1989) 3-10; defensive mixture: T. Hesterberg, Technometrics 37 (1995) 185-194; A. Owen, Y. Zhou, J. Amer. Statist.
 * Assoc. 95 (2000) 135-143 (from memory).
 */
export function importanceSampling(
  limits: readonly LimitFunction[],
  dimensions: number,
  key: SeedKey,
  options: ImportanceOptions = {},
): ImportanceResult {
  const defensive = options.defensiveRatio ?? DEFENSIVE;
  const perBatch = Math.ceil((options.samples ?? 32_000) / BATCHES);
  if (!(defensive > 0 && defensive < 1) || !(perBatch >= 10))
    throw new InternalError("no importance sample of such a size");
  const search: DesignSearch =
    options.points === undefined
      ? findDesignPoints(limits, dimensions, key, options)
      : { points: options.points, evaluations: 0, failedStarts: 0 };
  const mixture = mixtureOf(search.points, defensive);
  const totals = new Totals(dimensions);
  const means: number[] = [];
  const limit = anyLimit(limits);
  const columns = createColumns(dimensions, BLOCK_SIZE);
  const ids = columns.map((_, d) => variableId(`score.${d}`));
  const blocksPerBatch = Math.ceil(perBatch / BLOCK_SIZE);
  const first = (options.round ?? 0) * BLOCKS_PER_ROUND;
  for (let batch = 0; batch < BATCHES; batch += 1) {
    const before = totals.sum;
    for (let part = 0; part < blocksPerBatch; part += 1) {
      const count = Math.min(BLOCK_SIZE, perBatch - part * BLOCK_SIZE);
      addBlock(limit, mixture, key, ids, first + batch * blocksPerBatch + part, columns, count, totals);
    }
    means.push((totals.sum - before) / perBatch);
  }
  return summarise(totals, means, search, options.confidence ?? 0.95);
}

interface Mixture {
  /** λ₀, then one share a design point. */
  readonly shares: Float64Array;
  readonly points: readonly DesignPoint[];
}

function mixtureOf(points: readonly DesignPoint[], defensive: number): Mixture {
  if (points.length === 0) return { shares: Float64Array.of(1), points };
  const tails = points.map(({ indexRatio }) => normalCdf(-Math.abs(indexRatio)));
  const sum = tails.reduce((a, b) => a + b, 0);
  // Half by likelihood, half alike: a first-order guess must not starve a point.
  const shares = tails.map((tail) => (1 - defensive) * (0.5 * (tail / sum) + 0.5 / points.length));
  return { shares: Float64Array.of(defensive, ...shares), points };
}

/**
 * Weights φ/mixture that samples would have if the mixture of these points had drawn them, with the usual defensive share.
 *
 * @param samples one column a variable
 */
export function mixtureWeights(
  samples: readonly Float64Array[],
  points: readonly DesignPoint[],
  defensiveRatio = DEFENSIVE,
): Float64Array {
  const mixture = mixtureOf(points, defensiveRatio);
  return weightsOf(exponentsOf(samples, points, samples[0].length), mixture, samples[0].length);
}

/** ln φ(z - z_k)/φ(z) = z·z_k - |z_k|²/2, a column a point. */
function exponentsOf(samples: readonly Float64Array[], points: readonly DesignPoint[], count: number): Float64Array[] {
  return points.map(({ scores }) => {
    const exponent = new Float64Array(count);
    samples.forEach((column, d) => {
      const at = scores[d];
      for (let i = 0; i < count; i += 1) exponent[i] += at * (column[i] - 0.5 * at);
    });
    return exponent;
  });
}

function weightsOf(exponents: readonly Float64Array[], { shares }: Mixture, count: number): Float64Array {
  const weights = new Float64Array(count);
  for (let i = 0; i < count; i += 1) {
    let aimed = 0;
    for (let k = 0; k < exponents.length; k += 1) aimed += shares[k + 1] * exp(exponents[k][i]);
    weights[i] = 1 / (shares[0] + aimed);
  }
  return weights;
}

/** Running sums over all samples. */
class Totals {
  count = 0;
  sum = 0;
  squares = 0;
  largest = 0;
  away = 0;
  readonly middle: Float64Array;
  /** Failing samples of the greatest weights, lightest first. */
  readonly heaviest: { readonly weight: number; readonly scores: Float64Array }[] = [];
  weights = 0;
  weightSquares = 0;
  constructor(dimensions: number) {
    this.middle = new Float64Array(dimensions);
  }
  add(weight: number, fails: boolean, isAway: boolean): void {
    this.count += 1;
    this.weights += weight;
    this.weightSquares += weight * weight;
    if (!fails) return;
    this.sum += weight;
    this.squares += weight * weight;
    this.largest = Math.max(this.largest, weight);
    if (isAway) this.away += weight;
  }
  addFailing(weight: number, columns: readonly Float64Array[], i: number): void {
    for (let d = 0; d < columns.length; d += 1) this.middle[d] += weight * columns[d][i];
    if (this.heaviest.length === HEAVIEST && weight <= this.heaviest[0].weight) return;
    if (this.heaviest.length === HEAVIEST) this.heaviest.shift();
    const place = this.heaviest.findIndex((other) => other.weight > weight);
    const kept = { weight, scores: Float64Array.from(columns, (column) => column[i]) };
    this.heaviest.splice(place < 0 ? this.heaviest.length : place, 0, kept);
  }
}

function addBlock(
  limit: LimitFunction,
  mixture: Mixture,
  key: SeedKey,
  ids: readonly (readonly [number, number])[],
  block: number,
  columns: readonly Float64Array[],
  count: number,
  totals: Totals,
): void {
  const { shares, points } = mixture;
  const chosen = new Float64Array(count);
  fillUniform(key, variableId("component"), block, chosen, count, DRAW_DOMAIN.importance);
  for (let i = 0; i < count; i += 1) {
    let component = 0;
    for (let left = chosen[i] - shares[0]; left > 0 && component + 1 < shares.length; ) {
      component += 1;
      left -= shares[component];
    }
    chosen[i] = component;
  }
  for (let d = 0; d < columns.length; d += 1) {
    const column = columns[d];
    fillUniform(key, ids[d], block, column, count, DRAW_DOMAIN.importance);
    for (let i = 0; i < count; i += 1) {
      const component = chosen[i];
      column[i] = scoreOfUniform(column[i]) + (component > 0 ? points[component - 1].scores[d] : 0);
    }
  }
  const weights = weightsOf(exponentsOf(columns, points, count), mixture, count);
  const values = new Float64Array(count);
  limit(columns, values, count);
  for (let i = 0; i < count; i += 1) {
    if (Number.isNaN(values[i])) throw new InternalError("the limit function is not a number in an importance sample");
    totals.add(weights[i], values[i] < 0, weights[i] * shares[0] > 0.5);
    if (values[i] < 0) totals.addFailing(weights[i], columns, i);
  }
}

function columnsOf({ heaviest, middle }: Totals): Float64Array[] {
  return Array.from(middle, (_, d) => Float64Array.from(heaviest, ({ scores }) => scores[d]));
}

function summarise(
  totals: Totals,
  means: readonly number[],
  search: DesignSearch,
  confidence: number,
): ImportanceResult {
  const { count, sum, squares } = totals;
  const probability = sum / count;
  const variance = Math.max(0, squares / count - probability * probability) / (count - 1);
  const standardError = Math.sqrt(variance);
  const batchVariance = means.reduce((s, m) => s + (m - probability) * (m - probability), 0) / (means.length - 1);
  const byWeights = meanInterval(probability, standardError * Math.sqrt(count), count, confidence);
  const byBatches = meanInterval(probability, Math.sqrt(batchVariance), means.length, confidence);
  const effectiveFailures = squares > 0 ? (sum * sum) / squares : 0;
  const largestShareRatio = sum > 0 ? totals.largest / sum : 1;
  const meanWeight = totals.weights / count;
  const weightError = Math.sqrt(Math.max(0, totals.weightSquares / count - meanWeight * meanWeight) / count);
  const doubts: ImportanceDoubt[] = [];
  if (search.points.length === 0) doubts.push("no-design-point");
  if (search.points.some(({ indexRatio }) => indexRatio < 0)) doubts.push("origin-fails");
  if (effectiveFailures < LEAST_EFFECTIVE) doubts.push("few-effective-failures");
  if (largestShareRatio > LARGEST_SHARE) doubts.push("one-sample-rules");
  if (Math.abs(meanWeight - 1) > 5 * weightError + 1e-12) doubts.push("weights-do-not-average-to-one");
  if (search.points.length > 0 && totals.away > LARGEST_AWAY * sum) doubts.push("failures-away-from-design-points");
  return {
    probability,
    standardError,
    interval: {
      low: Math.max(0, Math.min(byWeights.low, byBatches.low)),
      high: Math.max(byWeights.high, byBatches.high),
    },
    effectiveFailures,
    largestShareRatio,
    isTrustworthy: doubts.length === 0,
    doubts,
    designPoints: search.points,
    heaviest: columnsOf(totals),
    middle: totals.middle.map((x) => (sum > 0 ? x / sum : 0)),
    evaluations: count + search.evaluations,
  };
}
