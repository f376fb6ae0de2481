import type { Outcome } from "../../model/outcome.ts";
import type { OverallResult, RareResult, Share, StateResult } from "../result.ts";

/** Puts what was found of rare events in the place of shares that are less certain. */
export function withRare(
  states: readonly StateResult[],
  overall: OverallResult,
  rare: readonly RareResult[],
): { states: StateResult[]; overall: OverallResult } {
  const best = (share: Share, found: RareResult | undefined): Share => {
    if (found === undefined || (found.method !== "importance" && found.method !== "subset")) return share;
    const { shareRatio, lowRatio, highRatio, method } = found;
    if (!(highRatio - lowRatio < share.highRatio - share.lowRatio)) return share;
    return { count: share.count, shareRatio, lowRatio, highRatio, method };
  };
  return {
    states: states.map((state) => ({
      ...state,
      outcomes: Object.fromEntries(
        Object.entries(state.outcomes).map(([outcome, share]) => [
          outcome,
          best(
            share,
            rare.find((found) => found.state === state.name && found.outcome === outcome),
          ),
        ]),
      ) as Record<Outcome, Share>,
    })),
    overall: {
      ...overall,
      failsAtBench: best(
        overall.failsAtBench,
        rare.find(({ what }) => what === "bench"),
      ),
      failsInService: best(
        overall.failsInService,
        rare.find(({ what }) => what === "service"),
      ),
    },
  };
}
