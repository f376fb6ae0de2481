import { binomialInterval } from "../stats/intervals.ts";
import type { Share } from "./result.ts";

/** Counts on either side up to which shares are kept: their intervals are the exact ones, which take some forty µs each. */
const FEW = 10;

/** Shares of one total that have few units on either side; most of a run's are of none, the same over and over. */
const known = new Map<number, Share>();
let knownTotal = 0;

/** A share of units with its 95 % interval. */
export function shareOf(count: number, total: number): Share {
  if (Math.min(count, total - count) >= FEW) return newShare(count, total);
  if (total !== knownTotal) known.clear();
  knownTotal = total;
  const share = known.get(count) ?? newShare(count, total);
  known.set(count, share);
  return share;
}

function newShare(count: number, total: number): Share {
  const { low, high, method } = binomialInterval(count, total);
  return { count, shareRatio: total === 0 ? Number.NaN : count / total, lowRatio: low, highRatio: high, method };
}
