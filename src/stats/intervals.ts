/** Confidence intervals for shares, differences of shares, means and quantiles. Two-sided, confidence 0.95 unless said. */
import { InternalError } from "../errors.ts";
import { hypot } from "../numeric/elementary.ts";
import { inverseRegularisedBeta, normalQuantile, studentTQuantile } from "../numeric/special.ts";
import { binomialQuantile } from "./batch-counts.ts";
import type { Interval } from "./quantiles.ts";

export interface ShareInterval extends Interval {
  readonly method: "wilson" | "clopper-pearson";
}

/** Below this many counts on either side the exact interval is taken. */
const FEW = 10;

function checkCount(k: number, n: number): void {
  if (!(k >= 0 && k <= n && n > 0)) throw new InternalError(`no share of ${k} in ${n}`);
}

/** The share of the confidence left out on either side. */
function tailOf(confidence: number): number {
  if (!(confidence > 0 && confidence < 1)) throw new InternalError(`no confidence ${confidence}`);
  return 0.5 * (1 - confidence);
}

/**
 * Wilson's score interval for the share k/n.
 *
 * Equation: (p + z²/2n ± z·√(p(1 - p)/n + z²/4n²))/(1 + z²/n), p = k/n, z the normal quantile.
 *
 * Source: E. B. Wilson, J. Amer. Statist. Assoc. 22 (1927) 209-212. Its coverage is the stated one on average, not at least that.
 */
export function wilsonInterval(k: number, n: number, confidence = 0.95): ShareInterval {
  checkCount(k, n);
  const z = -normalQuantile(tailOf(confidence));
  const p = k / n;
  const z2n = (z * z) / n;
  const centre = p + 0.5 * z2n;
  const half = z * Math.sqrt((p * (1 - p)) / n + z2n / (4 * n));
  return {
    low: k === 0 ? 0 : Math.max(0, (centre - half) / (1 + z2n)),
    high: k === n ? 1 : Math.min(1, (centre + half) / (1 + z2n)),
    method: "wilson",
  };
}

/**
 * The exact interval of Clopper and Pearson for the share k/n: beta quantiles B(a; k, n - k + 1) and B(1 - a; k + 1, n - k).
 *
 * Source: C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404-413. Its coverage is never below the stated one.
 */
export function clopperPearsonInterval(k: number, n: number, confidence = 0.95): ShareInterval {
  checkCount(k, n);
  const tail = tailOf(confidence);
  return {
    low: k === 0 ? 0 : inverseRegularisedBeta(tail, k, n - k + 1),
    // As 1 - the lower bound of the complement, so that the tail probability keeps its digits.
    high: k === n ? 1 : 1 - inverseRegularisedBeta(tail, n - k, k + 1),
    method: "clopper-pearson",
  };
}

/** The interval that the program prints for a share: Wilson's, or the exact one where fewer than 10 are counted on either side. */
export function binomialInterval(k: number, n: number, confidence = 0.95): ShareInterval {
  return Math.min(k, n - k) < FEW ? clopperPearsonInterval(k, n, confidence) : wilsonInterval(k, n, confidence);
}

/** The share that is not exceeded, one-sided, after k in n: the exact upper bound (for k = 0: 1 - (1 - confidence)^(1/n)). */
export function upperBoundOfShare(k: number, n: number, confidence = 0.95): number {
  checkCount(k, n);
  if (!(confidence > 0 && confidence < 1)) throw new InternalError(`no confidence ${confidence}`);
  return k === n ? 1 : inverseRegularisedBeta(confidence, k + 1, n - k);
}

/**
 * Interval for the difference p1 - p2 of two independent shares: square-and-add of the two Wilson intervals.
 *
 * Source: R. G. Newcombe, "Interval estimation for the difference between independent proportions", Statist. Med. 17 (1998) 873-890, method 10.
 */
export function shareDifferenceInterval(k1: number, n1: number, k2: number, n2: number, confidence = 0.95): Interval {
  const first = wilsonInterval(k1, n1, confidence);
  const second = wilsonInterval(k2, n2, confidence);
  const p1 = k1 / n1;
  const p2 = k2 / n2;
  const down = hypot(p1 - first.low, second.high - p2);
  const up = hypot(first.high - p1, p2 - second.low);
  return { low: p1 - p2 - down, high: p1 - p2 + up };
}

/**
 * Interval for the difference of two shares on the *same* n units, from the units that changed: `gained` went from 0 to 1, `lost` from 1 to 0.
 *
 * Equation: half a unit is added to each of the four cells, N = n + 2, d = (gained - lost)/N, d ± z·√(((gained + lost + 1) - N·d²))/N.
 *
 * Source: A. Agresti, Y. Min, Statist. Med. 24 (2005) 729-740 (the adjusted Wald interval "Wald + 2"; from memory).
 */
export function pairedDifferenceInterval(gained: number, lost: number, n: number, confidence = 0.95): Interval {
  if (!(gained >= 0 && lost >= 0 && gained + lost <= n && n > 0)) {
    throw new InternalError(`no paired difference of ${gained} and ${lost} in ${n}`);
  }
  const z = -normalQuantile(tailOf(confidence));
  const total = n + 2;
  const difference = (gained - lost) / total;
  const half = (z * Math.sqrt(gained + lost + 1 - total * difference * difference)) / total;
  return { low: Math.max(-1, difference - half), high: Math.min(1, difference + half) };
}

/**
 * Student's interval for a mean: mean ± t·sd/√count with count - 1 degrees of freedom. NaN below two values.
 *
 * @param sd standard deviation with the divisor n - 1
 *
 * Source: ISO 2602:1980 / NIST handbook 7.2.2.1 (from memory).
 */
export function meanInterval(mean: number, sd: number, count: number, confidence = 0.95): Interval {
  const tail = tailOf(confidence);
  if (!(count >= 2)) return { low: Number.NaN, high: Number.NaN };
  const half = (-studentTQuantile(tail, count - 1) * sd) / Math.sqrt(count);
  return { low: mean - half, high: mean + half };
}

/**
 * The ranks (from 1) of the two order statistics of n values that hold the p-quantile between them with at least the confidence, or
 * null where n is too small for one of them to exist.
 *
 * Source: H. A. David, H. N. Nagaraja, Order Statistics, 2003, 7.1 (from memory): P(x(r) <= quantile < x(s)) = P(r <= Bin(n, p) <= s - 1).
 */
export function quantileIntervalRanks(
  n: number,
  p: number,
  confidence = 0.95,
): { readonly low: number; readonly high: number } | null {
  const tail = tailOf(confidence);
  const low = binomialQuantile(tail, n, p);
  const high = binomialQuantile(1 - tail, n, p) + 1;
  return low >= 1 && high <= n ? { low, high } : null;
}
