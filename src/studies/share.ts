import { binomialInterval } from "../stats/intervals.ts";
import type { Share } from "./result.ts";

/** A share of units with its 95 % interval. */
export function shareOf(count: number, total: number): Share {
  const { low, high, method } = binomialInterval(count, total);
  return { count, shareRatio: total === 0 ? Number.NaN : count / total, lowRatio: low, highRatio: high, method };
}
