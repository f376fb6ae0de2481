/** More points to aim importance sampling at, from failures that were come upon: one for each way into them that matters. */
import { findAimPoint } from "./aim-point.ts";
import type { DesignPoint } from "./design-point.ts";
import { mixtureWeights } from "./importance.ts";
import type { LimitFunction } from "./limit-function.ts";

/** Points after which no more are looked for, and failures that are followed. */
const MOST_POINTS = 12;
const MOST_LOOKS = 10;
const TURNS = 3;
/** Points nearer to each other than this serve the same failures, standard deviations. */
const SAME_RATIO = 0.7;

/**
 * Adds points that the failures given say are missing. A failure that no point leads to has a great weight φ/mixture; each time
 * the heaviest is taken, and along its own slopes the nearest place of the limit is looked for. A point is added where it makes
 * that failure lighter.
 *
 * @param failing failing samples, one column a variable; may be empty columns
 * @param points those known already; may be none
 * @returns the points known and behind them the new ones
 */
export function aimAtFailures(
  limit: LimitFunction,
  failing: readonly Float64Array[],
  points: readonly DesignPoint[],
  reachRatio: number,
): readonly DesignPoint[] {
  const dimensions = failing.length;
  const open = new Set(failing[0].keys());
  let found = [...points];
  let weights = mixtureWeights(failing, found);
  for (let look = 0; look < MOST_LOOKS && found.length < MOST_POINTS && open.size > 0; look += 1) {
    const heaviest = Array.from(open).reduce((a, b) => (weights[b] > weights[a] ? b : a));
    open.delete(heaviest);
    const start = Float64Array.from(failing, (column) => column[heaviest]);
    const { scores, indexRatio } = findAimPoint(limit, dimensions, reachRatio, { start, turns: TURNS });
    if (scores === null || found.some((other) => distance(other.scores, scores) < SAME_RATIO)) continue;
    const tried = [...found, { scores, indexRatio, limit: 0 }];
    const lighter = mixtureWeights(failing, tried);
    if (lighter[heaviest] >= weights[heaviest]) continue;
    found = tried;
    weights = lighter;
  }
  return found;
}

/** Components of a middle that are not that many standard errors off 0 are taken as 0. */
const LEAST_SCORE = 2.5;

/**
 * The middle of failures from independent runs, to aim at where steps leave no slope to follow. What the runs do not agree on is left at 0: noise
 * in the many directions that do not matter would take the aim off.
 *
 * @param runs failing samples of each run, one column a variable; runs may have none
 * @returns null from fewer than three runs, or where they agree on nothing
 */
export function middleOfFailures(runs: readonly (readonly Float64Array[])[]): DesignPoint | null {
  const means = runs.filter((failing) => failing[0].length > 0).map((failing) => failing.map(meanOf));
  if (means.length < 3) return null;
  const scores = means[0].map((_, d) => {
    const values = Float64Array.from(means, (mean) => mean[d]);
    const middle = meanOf(values);
    const squares = values.reduce((sum, x) => sum + (x - middle) * (x - middle), 0);
    const error = Math.sqrt(squares / (values.length - 1) / values.length);
    return Math.abs(middle) > LEAST_SCORE * error ? middle : 0;
  });
  return scores.some((score) => score !== 0) ? aimAt(Float64Array.from(scores)) : null;
}

export function aimAt(scores: Float64Array): DesignPoint {
  return { scores, indexRatio: Math.sqrt(scores.reduce((sum, x) => sum + x * x, 0)), limit: 0 };
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, x) => sum + x, 0) / values.length;
}

function distance(a: Float64Array, b: Float64Array): number {
  return Math.sqrt(a.reduce((sum, x, d) => sum + (x - b[d]) * (x - b[d]), 0));
}
