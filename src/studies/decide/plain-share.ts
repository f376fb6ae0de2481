import { binomialInterval } from "../../stats/intervals.ts";
import type { RatioEstimate } from "./assess.ts";

/** Share of good units among plainly drawn ones. */
export function plainShare(fates: Uint8Array): RatioEstimate & { readonly samples: number } {
  let good = 0;
  for (const fate of fates) if (fate === 0) good += 1;
  const { low, high } = binomialInterval(good, fates.length);
  return { ratio: good / fates.length, lowRatio: low, highRatio: high, samples: fates.length };
}
