/** Single sampling plans: a batch is accepted when a sample of n has no more than c failing units. */
import { InternalError } from "../errors.ts";
import { exp } from "../numeric/elementary.ts";
import { inverseRegularisedBeta, logGamma } from "../numeric/special.ts";
import { binomialCdf } from "./batch-counts.ts";

/** Chance that a sample of n from a process with failing share p is accepted: P(Bin(n, p) ≤ c), the type B curve. */
export function acceptanceByShare(n: number, c: number, failingRatio: number): number {
  return binomialCdf(c, n, failingRatio);
}

/**
 * The failing share at which a plan accepts with a chance: the point of its operating characteristic, p with P(Bin(n, p) ≤ c) = chance.
 *
 * Source: by the relation of binomial and beta, ISO 2859-1:1999, 10 and tables X (from memory).
 */
export function shareAtAcceptance(n: number, c: number, chance: number): number {
  if (!(c >= 0 && c < n && chance > 0 && chance < 1)) throw new InternalError(`no point ${chance} of plan ${n}, ${c}`);
  return inverseRegularisedBeta(1 - chance, c + 1, n - c);
}

/**
 * Chance that a sample of n without replacement from a batch of N with D failing units has at most c of them: the type A curve.
 *
 * @returns 1 where D ≤ c; sums at most c + 1 terms, each by log-gamma: 1e-10 relative for batches up to a million
 */
export function acceptanceOfBatch(n: number, c: number, batchSize: number, failing: number): number {
  if (!(n >= 0 && n <= batchSize && failing >= 0 && failing <= batchSize)) {
    throw new InternalError(`no sample of ${n} from ${batchSize} with ${failing} failing`);
  }
  if (failing <= c || n <= c) return 1;
  const whole = logChoose(batchSize, n);
  let sum = 0;
  for (let k = Math.max(0, n - (batchSize - failing)); k <= c; k += 1) {
    sum += exp(logChoose(failing, k) + logChoose(batchSize - failing, n - k) - whole);
  }
  return Math.min(1, sum);
}

function logChoose(n: number, k: number): number {
  return logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);
}

/** Sample sizes by batch size, general inspection level II, single sampling, normal inspection. Source: ISO 2859-1, tables 1 and 2-A (from memory). */
const SAMPLES: readonly (readonly [most: number, sample: number])[] = [
  [8, 2],
  [15, 3],
  [25, 5],
  [50, 8],
  [90, 13],
  [150, 20],
  [280, 32],
  [500, 50],
  [1200, 80],
  [3200, 125],
  [10_000, 200],
  [35_000, 315],
  [150_000, 500],
  [500_000, 800],
];

/** The usual sample from a batch, never more than the batch. */
export function usualSample(batchSize: number): number {
  const row = SAMPLES.find(([most]) => batchSize <= most);
  return Math.min(batchSize, row === undefined ? 1250 : row[1]);
}
