/**
 * Points to aim importance sampling at where a limit has kinks and steps, so that the search for a design point does not settle: the place where
 * the limit is first met along the mean of the slopes seen so far.
 */
import { createColumns, type LimitFunction } from "./limit-function.ts";

export interface AimPoint {
  /** Null where the limit is not met within the reach. */
  readonly scores: Float64Array | null;
  /** Distance from the middle; the reach where there is no point. */
  readonly indexRatio: number;
  readonly evaluations: number;
}

export interface AimOptions {
  /** Where the first slope is taken. Default: the origin. */
  readonly start?: Float64Array;
  /** Directions tried. Default 8. */
  readonly turns?: number;
}

const TURNS = 8;
/** Half the width of the differences that give a slope: wide, so that kinks and steps are seen from both sides. */
const STEP = 0.25;
/** Distance between the points of a line that are asked first, and points that each of the finer looks takes. */
const SPACING = 0.5;
const FINER = 16;
const LOOKS = 3;

/**
 * Goes out from the origin against the mean of the unit slopes found so far, to where the limit is first met, takes the slope there into the mean, and
 * goes out again. Keeps the nearest point met.
 *
 * The mean of the slopes on both sides of a kink is what points at it; a search that follows one slope at a time jumps to and fro there.
 *
 * @param reachRatio how far out to look, standard deviations
 */
export function findAimPoint(
  limit: LimitFunction,
  dimensions: number,
  reachRatio: number,
  options: AimOptions = {},
): AimPoint {
  const room = Math.max(2 * dimensions, Math.ceil(reachRatio / SPACING) + 1, FINER);
  const trials = createColumns(dimensions, room);
  const values = new Float64Array(room);
  let evaluations = 0;
  const ask = (count: number, at: (d: number, i: number) => number) => {
    for (let d = 0; d < dimensions; d += 1) for (let i = 0; i < count; i += 1) trials[d][i] = at(d, i);
    limit(trials, values, count);
    evaluations += count;
  };
  const mean = new Float64Array(dimensions);
  let place = options.start ?? new Float64Array(dimensions);
  let scores: Float64Array | null = null;
  let indexRatio = reachRatio;
  for (let turn = 0; turn < (options.turns ?? TURNS); turn += 1) {
    ask(2 * dimensions, (d, i) => place[d] + (d === i >> 1 ? STEP * (1 - 2 * (i & 1)) : 0));
    const slope = Float64Array.from({ length: dimensions }, (_, d) => values[2 * d] - values[2 * d + 1]);
    const length = lengthOf(slope);
    if (!(length > 0)) break;
    for (let d = 0; d < dimensions; d += 1) mean[d] -= slope[d] / length;
    const direction = mean.map((x) => x / lengthOf(mean));
    const distance = firstMet(ask, values, direction, reachRatio);
    place = direction.map((x) => x * (distance ?? reachRatio));
    if (distance !== null && distance < indexRatio) {
      scores = place;
      indexRatio = distance;
    }
  }
  return { scores, indexRatio, evaluations };
}

type Ask = (count: number, at: (d: number, i: number) => number) => void;

/** Where the value first falls below 0 along a direction; null within the reach. */
function firstMet(ask: Ask, values: Float64Array, direction: Float64Array, reachRatio: number): number | null {
  let from = 0;
  let step = SPACING;
  let count = Math.ceil(reachRatio / SPACING) + 1;
  for (let look = 0; look <= LOOKS; look += 1) {
    ask(count, (d, i) => direction[d] * (from + i * step));
    const met = values.subarray(0, count).findIndex((value) => value < 0);
    if (met < 0) return look === 0 ? null : from + count * step;
    if (met === 0) return from;
    from += (met - 1) * step;
    step /= FINER - 1;
    count = FINER;
  }
  return from + step * (FINER - 1);
}

function lengthOf(a: Float64Array): number {
  let square = 0;
  for (const x of a) square += x * x;
  return Math.sqrt(square);
}
