/** Estimates from independent randomisations of one point set: the spread of their means is the only honest error of quasi-Monte Carlo. */
import { InternalError } from "../errors.ts";
import { normalCdf, studentTCdf } from "../numeric/special.ts";
import { meanInterval } from "./intervals.ts";
import type { Interval } from "./quantiles.ts";

/** Randomisations below which the t-interval rests on too little. */
export const LEAST_REPLICATES = 16;

export interface ReplicateEstimate {
  readonly mean: number;
  readonly standardError: number;
  readonly replicates: number;
  /** Student's interval with replicates - 1 degrees of freedom. Not cut at 0 or 1. */
  readonly interval: Interval;
}

/**
 * Mean of the replicate means with its standard error: se² = Σ(m_r - m)²/(R(R - 1)).
 *
 * @param means one mean a randomisation, all from the same number of points
 * @throws InternalError below 16 randomisations
 *
 * Source: P. L'Ecuyer, C. Lemieux, "Recent advances in randomized quasi-Monte Carlo methods", 2002 (from memory). A binomial interval on the counts would
 * be far too wide, one from the points' own variance as well.
 */
export function replicateEstimate(means: ArrayLike<number>, confidence = 0.95): ReplicateEstimate {
  const replicates = means.length;
  if (replicates < LEAST_REPLICATES) {
    throw new InternalError(`an interval needs ${LEAST_REPLICATES} randomisations, not ${replicates}`);
  }
  const first = means[0];
  let sum = 0;
  for (let r = 0; r < replicates; r += 1) sum += means[r] - first;
  const mean = first + sum / replicates;
  let squares = 0;
  for (let r = 0; r < replicates; r += 1) squares += (means[r] - mean) * (means[r] - mean);
  const sd = Math.sqrt(squares / (replicates - 1));
  return {
    mean,
    standardError: sd / Math.sqrt(replicates),
    replicates,
    interval: meanInterval(mean, sd, replicates, confidence),
  };
}

/**
 * How many plain samples one point of the randomised set is worth: variance of a plain mean over all points, σ²/(R·n), over that of the estimate.
 *
 * @param variance σ² of one plain sample; p(1 - p) for a share
 * @param points R·n, over all randomisations
 */
export function varianceReductionFactor(variance: number, points: number, standardError: number): number {
  return variance / points / (standardError * standardError);
}

export interface EstimateWithError {
  readonly value: number;
  readonly standardError: number;
  /** Degrees of freedom of the standard error; infinite (default) where it is as good as known. */
  readonly degreesOfFreedom?: number;
}

export interface Agreement {
  /** (a - b)/√(se_a² + se_b²); 0 where both errors are 0 and the values alike, infinite where they differ. */
  readonly score: number;
  /** Two-sided probability of a score as far from 0, if both estimate the same number. */
  readonly probability: number;
  readonly agrees: boolean;
}

/**
 * Whether two independent estimates can be of the same number: Welch's test, with ν = (a + b)²/(a²/ν_a + b²/ν_b), a and b the squared errors.
 *
 * @param falseAlarm probability of refusing two good estimates, default 1e-6: a check that stops a run must not cry wolf
 *
 * Source: B. L. Welch, Biometrika 34 (1947) 28-35.
 */
export function compareEstimates(a: EstimateWithError, b: EstimateWithError, falseAlarm = 1e-6): Agreement {
  const squareA = a.standardError * a.standardError;
  const squareB = b.standardError * b.standardError;
  const sum = squareA + squareB;
  const difference = a.value - b.value;
  if (!(sum >= 0) || Number.isNaN(difference)) return { score: Number.NaN, probability: Number.NaN, agrees: false };
  if (sum === 0) {
    const same = difference === 0;
    return { score: same ? 0 : difference * Number.POSITIVE_INFINITY, probability: same ? 1 : 0, agrees: same };
  }
  const score = difference / Math.sqrt(sum);
  const shareA = squareA / sum;
  const shareB = squareB / sum;
  const inverse =
    (shareA * shareA) / (a.degreesOfFreedom ?? Number.POSITIVE_INFINITY) +
    (shareB * shareB) / (b.degreesOfFreedom ?? Number.POSITIVE_INFINITY);
  const far = -Math.abs(score);
  const probability = 2 * (inverse > 0 ? studentTCdf(far, 1 / inverse) : normalCdf(far));
  return { score, probability, agrees: probability >= falseAlarm };
}
