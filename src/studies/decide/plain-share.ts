import { binomialInterval, pairedDifferenceInterval } from "../../stats/intervals.ts";
import type { DifferenceEstimate, RatioEstimate } from "./assess.ts";
import type { Shares } from "./result.ts";

/** Share of good units among plainly drawn ones. */
export function plainShare(fates: Uint8Array): RatioEstimate & { readonly samples: number } {
  let good = 0;
  for (const fate of fates) if (fate === 0) good += 1;
  const { low, high } = binomialInterval(good, fates.length);
  return { ratio: good / fates.length, lowRatio: low, highRatio: high, samples: fates.length };
}

/** Shares of all three fates. */
export function sharesOf(fates: Uint8Array): Shares {
  const counts = [0, 0, 0];
  for (const fate of fates) counts[fate] += 1;
  const share = (count: number): RatioEstimate => {
    const { low, high } = binomialInterval(count, fates.length);
    return { ratio: count / fates.length, lowRatio: low, highRatio: high };
  };
  return { good: share(counts[0]), bench: share(counts[1]), service: share(counts[2]) };
}

/** Good units gained and lost from one way to another, on the same units. */
export function pairedDifference(from: Uint8Array, to: Uint8Array): DifferenceEstimate {
  let gained = 0;
  let lost = 0;
  for (let i = 0; i < from.length; i += 1) {
    if (to[i] === 0 && from[i] !== 0) gained += 1;
    else if (to[i] !== 0 && from[i] === 0) lost += 1;
  }
  const { low, high } = pairedDifferenceInterval(gained, lost, from.length);
  return { differenceRatio: (gained - lost) / from.length, lowRatio: low, highRatio: high };
}
