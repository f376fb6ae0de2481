import { mergeHistograms } from "./measures.ts";
import { createTally, mergeTally } from "./tally.ts";
import type { Collected } from "./tasks.ts";

/** The counts of several threads or parts as one. Whole numbers: the order changes nothing. */
export function joinCollected(parts: readonly Collected[]): Collected {
  const tally = createTally(parts[0].tally.outcomes.length);
  for (const part of parts) mergeTally(tally, part.tally);
  return { tally, histograms: mergeHistograms(parts.map((part) => part.histograms)) };
}
