import type { RunResult } from "../../studies/result.ts";
import { inState, interval, listing, OUTCOME_DEEDS, percent } from "../words.ts";

type Finding = Omit<RunResult, "verdict">;

/** Shares below this are not worth a sentence. */
const WORTH_SAYING_RATIO = 1e-8;

/** Units that bind or are loaded the wrong way round too seldom to be seen by plain sampling. */
export function rareSentences({ rare, states }: Finding): string[] {
  const found = rare.filter(
    ({ method, outcome, shareRatio }) =>
      (method === "importance" || method === "subset") &&
      (outcome === "bind" || outcome === "reversed") &&
      shareRatio >= WORTH_SAYING_RATIO,
  );
  if (found.length === 0) return [];
  const parts = found.map(
    (each) =>
      `${percent(each.shareRatio)} ${OUTCOME_DEEDS[each.outcome ?? "bind"]} ${inState(states, each.state ?? "")} (95 % interval ${interval(each)})`,
  );
  return [`Too seldom to be seen in this run, but worked out: ${listing(parts)}.`];
}
