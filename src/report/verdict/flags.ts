import { FLAGS, type Flag } from "../../model/outcome.ts";
import type { RingName } from "../../scenario/types.ts";
import type { RunResult, StateResult } from "../../studies/result.ts";
import { celsius, FLAG_SENTENCES, inState, roundPercent } from "../words.ts";

type Finding = Omit<RunResult, "verdict">;

const WORTH_SAYING_RATIO = 0.001;

/** Flags of both bearings that are one sentence where both happen alike. */
const PAIRS: readonly { readonly flags: readonly [Flag, Flag]; readonly words: string }[] = [
  {
    flags: ["inner-seat-lost-a", "inner-seat-lost-b"],
    words: "the inner rings are loose on the shaft",
  },
  {
    flags: ["outer-seat-lost-a", "outer-seat-lost-b"],
    words: "the outer rings are loose in the housing",
  },
];

const WALK = ", and after cooling the unit is not what was set";
const CREEP = ", and no fit keeps a loose ring from creeping";
const UNHELD = " and nothing holds it axially";

/** Plain sentences about the flags, each for the state where it is seen most. */
export function flagSentences(result: Finding): string[] {
  const said = new Set<Flag>();
  const sentences: string[] = [];
  for (const flag of FLAGS) {
    if (said.has(flag)) continue;
    const pair = PAIRS.find(({ flags }) => flags[0] === flag);
    const isAlike = pair !== undefined && areAlike(result, pair.flags);
    if (isAlike) said.add(pair.flags[1]);
    const sentence = sentenceOf(result, flag, isAlike ? pair.words : FLAG_SENTENCES[flag]);
    if (sentence !== null) sentences.push(sentence);
  }
  return sentences;
}

/** Whether both flags have about the same share in every state. */
function areAlike(result: Finding, [one, other]: readonly [Flag, Flag]): boolean {
  return result.states.every(({ flags }) => {
    const difference = Math.abs(flags[one].shareRatio - flags[other].shareRatio);
    return difference <= 0.1 * Math.max(flags[one].shareRatio, flags[other].shareRatio) + WORTH_SAYING_RATIO;
  });
}

function sentenceOf(result: Finding, flag: Flag, words: string): string | null {
  const seen = result.states.filter((state) => state.flags[flag].shareRatio >= WORTH_SAYING_RATIO);
  const [worst] = [...seen].sort((a, b) => b.flags[flag].shareRatio - a.flags[flag].shareRatio);
  if (worst === undefined) return null;
  const consequence = consequenceOf(result, flag);
  const alike = seen.filter(({ flags }) => flags[flag].shareRatio > 0.995);
  if (alike.length === result.states.length && alike.length > 1) {
    return `In practically all units ${words} in every state${consequence}.`;
  }
  const much =
    worst.flags[flag].shareRatio > 0.995
      ? "practically all units"
      : `${roundPercent(worst.flags[flag].shareRatio)} of the units`;
  const others = seen.length - 1;
  const elsewhere =
    others === 0 ? "" : `and in ${others === 1 ? "one other state" : `${others} other states`}, no oftener`;
  const aside = [temperatureWords(flag, worst), elsewhere].filter((part) => part !== "").join("; ");
  return `In ${much} ${words} ${inState(result.states, worst.name)}${aside === "" ? "" : ` (${aside})`}${consequence}.`;
}

/** `outer-seat-lost-b` is about the ring `outer-b`. */
function ringOf(flag: Flag): RingName | null {
  const found = /^(inner|outer)-seat-lost-([ab])$/.exec(flag);
  return found === null ? null : (`${found[1]}-${found[2]}` as RingName);
}

function consequenceOf({ unheldRings }: Finding, flag: Flag): string {
  if (flag === "ring-walk") return WALK;
  const ring = ringOf(flag);
  if (ring === null) return "";
  return unheldRings.includes(ring) ? UNHELD : CREEP;
}

/** Mean temperature of the ring, which is what loosens it. */
function temperatureWords(flag: Flag, state: StateResult): string {
  const ring = ringOf(flag);
  return ring === null || state.isBench || state.isAfterService ? "" : `at ${celsius(state.temperatureC[ring].mean)}`;
}
