import { FLAGS, type Flag } from "../../model/outcome.ts";
import type { RunResult } from "../../studies/result.ts";
import { FLAG_SENTENCES, inState, roundPercent } from "../words.ts";

type Finding = Omit<RunResult, "verdict">;

const WORTH_SAYING_RATIO = 0.001;

const CONSEQUENCES: Partial<Record<Flag, string>> = {
  "inner-seat-lost-a": "and only the clamp keeps it from creeping",
  "inner-seat-lost-b": "and only the clamp keeps it from creeping",
  "outer-seat-lost-a": "and nothing but its shoulder keeps it from creeping",
  "outer-seat-lost-b": "and nothing but its shoulder keeps it from creeping",
  "ring-walk": "and after cooling the unit is not what was set",
};

/** One sentence a flag, for the state where it is seen most. */
export function flagSentences(result: Finding): string[] {
  return FLAGS.flatMap((flag) => {
    const [worst, ...others] = result.states
      .filter((state) => state.flags[flag].shareRatio >= WORTH_SAYING_RATIO)
      .sort((a, b) => b.flags[flag].shareRatio - a.flags[flag].shareRatio);
    if (worst === undefined) return [];
    const consequence = CONSEQUENCES[flag];
    const elsewhere =
      others.length === 0
        ? ""
        : ` (fewer in ${others.length === 1 ? "one other state" : `${others.length} other states`})`;
    return [
      `In ${roundPercent(worst.flags[flag].shareRatio)} of the units ${FLAG_SENTENCES[flag]} ${inState(result.states, worst.name)}${elsewhere}${consequence === undefined ? "" : `, ${consequence}`}.`,
    ];
  });
}
