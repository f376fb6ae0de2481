/** Probabilities of rare failures by subset simulation: a product of shares of a tenth each, for limits that importance sampling cannot be aimed at. */
import { scoreOfUniform } from "../distributions/normal-score.ts";
import { InternalError } from "../errors.ts";
import { exp } from "../numeric/elementary.ts";
import { BLOCK_SIZE, DRAW_DOMAIN, fillUniform, type SeedKey, variableId } from "../random/streams.ts";
import { LEAST_REPLICATES, type ReplicateEstimate, replicateEstimate } from "../stats/rqmc.ts";
import { createColumns, type LimitFunction } from "./limit-function.ts";

export interface SubsetOptions {
  /** Samples a level; a multiple of 10, default 2000. */
  readonly samplesPerLevel?: number;
  /** Chain of streams: another number gives an independent run. Default 0. */
  readonly replicate?: number;
  /** Default 20: probabilities down to 1e-20. */
  readonly mostLevels?: number;
}

export interface SubsetResult {
  readonly probability: number;
  /** Estimated from the correlation along the chains within each level, levels taken as independent: a run's own guess at its spread. */
  readonly variationRatio: number;
  readonly levels: number;
  readonly thresholds: readonly number[];
  /** Share of the chains' steps that were taken, by level. */
  readonly acceptanceRatios: readonly number[];
  readonly evaluations: number;
  /** False where the levels ran out before the limit was reached: the probability is then an upper guess only. */
  readonly hasReachedLimit: boolean;
  /** Samples of the last level that fail, one column a variable: spread as failing units are, but hanging together. */
  readonly failing: readonly Float64Array[];
}

/** Also one over the share p₀ of each level. */
const CHAIN_LENGTH = 10;
const TARGET_ACCEPTANCE = 0.44;
/** Blocks of streams kept for one level of one replicate. */
const BLOCKS_PER_LEVEL = 256;
const LEVELS_PER_REPLICATE = 64;

interface Population {
  readonly scores: Float64Array[];
  readonly values: Float64Array;
}

/**
 * P(g < 0) for independent standard normal scores, as p₀^(L-1) times the share of the last level, p₀ = 0.1.
 *
 * Each level starts chains from the tenth of the samples with the least g and moves them by z' = √(1 - s²)·z + s·ξ, ξ standard normal, kept where g stays at
 * or below the level's threshold; s is widened or narrowed through the level towards an acceptance of 0.44.
 *
 * @throws InternalError for counts out of range or a limit function that is not a number
 *
 * Source: S. K. Au, J. L. Beck, Prob. Eng. Mech. 16 (2001) 263-277 (levels; coefficient of variation with the correlation factor γ); conditional sampling with
 * adaptation: I. Papaioannou, W. Betz, K. Zwirglmaier, D. Straub, Prob. Eng. Mech. 41 (2015) 89-103 (from memory).
 */
export function subsetSimulation(
  limit: LimitFunction,
  dimensions: number,
  key: SeedKey,
  options: SubsetOptions = {},
): SubsetResult {
  const size = options.samplesPerLevel ?? 2000;
  const seeds = size / CHAIN_LENGTH;
  const mostLevels = options.mostLevels ?? 20;
  const replicate = options.replicate ?? 0;
  if (!(Number.isInteger(seeds) && seeds >= 10 && seeds <= BLOCK_SIZE) || !(mostLevels < LEVELS_PER_REPLICATE)) {
    throw new InternalError(`no subset simulation of ${size} samples in ${mostLevels} levels`);
  }
  const ids = Array.from({ length: dimensions }, (_, d) => variableId(`score.${d}`));
  const fill = (level: number, step: number, d: number, out: Float64Array) => {
    const block = (replicate * LEVELS_PER_REPLICATE + level) * BLOCKS_PER_LEVEL + step;
    fillUniform(key, ids[d], block, out, out.length, DRAW_DOMAIN.subset);
    for (let i = 0; i < out.length; i += 1) out[i] = scoreOfUniform(out[i]);
  };
  let population = firstPopulation(limit, dimensions, size, seeds, fill);
  let evaluations = size;
  let probability = 1;
  let squares = 0;
  let spread = 0.6;
  const thresholds: number[] = [];
  const acceptanceRatios: number[] = [];
  for (let level = 1; ; level += 1) {
    const order = Array.from(population.values.keys()).sort(
      (a, b) => population.values[a] - population.values[b] || a - b,
    );
    const threshold = 0.5 * (population.values[order[seeds - 1]] + population.values[order[seeds]]);
    const isLast = threshold <= 0 || level > mostLevels;
    const bound = Math.max(threshold, 0);
    const isInside = (value: number) => (bound === 0 ? value < 0 : value <= bound);
    const share = population.values.reduce((sum, value) => sum + (isInside(value) ? 1 : 0), 0) / size;
    probability *= share;
    squares += variationOf(population.values, isInside, share, level === 1 ? size : seeds);
    thresholds.push(bound);
    if (isLast || share === 0) {
      const hasReachedLimit = threshold <= 0;
      return {
        probability: share === 0 ? 0 : probability,
        variationRatio: Math.sqrt(squares),
        levels: level,
        thresholds,
        acceptanceRatios,
        evaluations,
        hasReachedLimit,
        failing: failingOf(population),
      };
    }
    const next = runChains(limit, population, order.slice(0, seeds), bound, spread, level, fill);
    population = next.population;
    spread = next.spread;
    acceptanceRatios.push(next.acceptance);
    evaluations += size - seeds;
  }
}

function failingOf({ scores, values }: Population): Float64Array[] {
  return scores.map((column) => column.filter((_, i) => values[i] < 0));
}

type Fill = (level: number, step: number, d: number, out: Float64Array) => void;

function firstPopulation(
  limit: LimitFunction,
  dimensions: number,
  size: number,
  seeds: number,
  fill: Fill,
): Population {
  const scores = createColumns(dimensions, size);
  scores.forEach((column, d) => {
    for (let part = 0; part < CHAIN_LENGTH; part += 1)
      fill(0, part, d, column.subarray(part * seeds, (part + 1) * seeds));
  });
  const values = new Float64Array(size);
  limit(scores, values, size);
  checkNumbers(values);
  return { scores, values };
}

/** One level: `seeds` chains side by side; step k of all chains stands at k·seeds in the columns. */
function runChains(
  limit: LimitFunction,
  from: Population,
  chosen: readonly number[],
  bound: number,
  startSpread: number,
  level: number,
  fill: Fill,
): { population: Population; spread: number; acceptance: number } {
  const seeds = chosen.length;
  const dimensions = from.scores.length;
  const scores = createColumns(dimensions, seeds * CHAIN_LENGTH);
  const values = new Float64Array(seeds * CHAIN_LENGTH);
  for (let i = 0; i < seeds; i += 1) {
    values[i] = from.values[chosen[i]];
    for (let d = 0; d < dimensions; d += 1) scores[d][i] = from.scores[d][chosen[i]];
  }
  const tried = createColumns(dimensions, seeds);
  const triedValues = new Float64Array(seeds);
  let spread = startSpread;
  let logScale = 1;
  let taken = 0;
  for (let step = 1; step < CHAIN_LENGTH; step += 1) {
    const before = (step - 1) * seeds;
    const keep = Math.sqrt(1 - spread * spread);
    for (let d = 0; d < dimensions; d += 1) {
      fill(level, step, d, tried[d]);
      for (let i = 0; i < seeds; i += 1) tried[d][i] = keep * scores[d][before + i] + spread * tried[d][i];
    }
    limit(tried, triedValues, seeds);
    checkNumbers(triedValues);
    let accepted = 0;
    for (let i = 0; i < seeds; i += 1) {
      const moves = triedValues[i] <= bound;
      if (moves) accepted += 1;
      values[before + seeds + i] = moves ? triedValues[i] : values[before + i];
      for (let d = 0; d < dimensions; d += 1) {
        scores[d][before + seeds + i] = moves ? tried[d][i] : scores[d][before + i];
      }
    }
    taken += accepted;
    logScale = (accepted / seeds - TARGET_ACCEPTANCE) / Math.sqrt(step);
    spread = Math.min(0.999, Math.max(0.01, spread * exp(logScale)));
  }
  return { population: { scores, values }, spread, acceptance: taken / (seeds * (CHAIN_LENGTH - 1)) };
}

function checkNumbers(values: Float64Array): void {
  if (values.some(Number.isNaN)) throw new InternalError("the limit function is not a number in a subset simulation");
}

/**
 * Squared coefficient of variation of a level's share: (1 - p)/(N·p)·(1 + γ), γ = 2·Σ_k (1 - k/n)·ρ_k over the chains of length n.
 *
 * @param chains samples side by side in each step; the chain length is N over this
 */
function variationOf(values: Float64Array, isInside: (value: number) => boolean, p: number, chains: number): number {
  const size = values.length;
  if (p === 0) return Number.POSITIVE_INFINITY;
  if (p === 1) return 0;
  const length = size / chains;
  let gamma = 0;
  for (let lag = 1; lag < length; lag += 1) {
    let both = 0;
    for (let i = 0; i + lag * chains < size; i += 1) {
      if (isInside(values[i]) && isInside(values[i + lag * chains])) both += 1;
    }
    const correlation = (both / (size - lag * chains) - p * p) / (p * (1 - p));
    gamma += 2 * (1 - lag / length) * correlation;
  }
  return ((1 - p) / (size * p)) * Math.max(1, 1 + gamma);
}

/** Independent runs, and the t-interval over them: the honest error, since a run's levels hang together. */
export function repeatedSubsetSimulation(
  limit: LimitFunction,
  dimensions: number,
  key: SeedKey,
  options: Omit<SubsetOptions, "replicate"> & { readonly runs?: number; readonly confidence?: number } = {},
): {
  readonly estimate: ReplicateEstimate;
  readonly runs: readonly SubsetResult[];
  readonly evaluations: number;
  readonly hasReachedLimit: boolean;
} {
  const runs = Array.from({ length: options.runs ?? LEAST_REPLICATES }, (_, replicate) =>
    subsetSimulation(limit, dimensions, key, { ...options, replicate }),
  );
  return {
    estimate: replicateEstimate(
      runs.map(({ probability }) => probability),
      options.confidence ?? 0.95,
    ),
    runs,
    evaluations: runs.reduce((sum, run) => sum + run.evaluations, 0),
    hasReachedLimit: runs.every((run) => run.hasReachedLimit),
  };
}
