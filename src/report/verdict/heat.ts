import type { RunResult } from "../../studies/result.ts";
import { celsius, decimal, inState } from "../words.ts";

type Finding = Omit<RunResult, "verdict">;

/** From this share on the batch counts as one that runs away. */
const BEGINS_RATIO = 0.01;

/** At which speed and surroundings the batch begins to run away, where it does within the range looked at. */
export function heatSentences({ runaway, states }: Finding): string[] {
  return runaway.flatMap(({ state, bySpeed, byAmbient }) => {
    const speed = bySpeed.find(({ share }) => share.shareRatio >= BEGINS_RATIO);
    const warm = byAmbient.find(({ share }) => share.shareRatio >= BEGINS_RATIO);
    const parts = [
      ...(speed === undefined ? [] : [`at a speed of ${decimal(speed.speedPerMin, 0)}\u00a01/min`]),
      ...(warm === undefined
        ? []
        : [
            `in surroundings of ${celsius(warm.ambientC)}${Number.isFinite(warm.housingC) ? ` (housing ${celsius(warm.housingC)})` : ""}`,
          ]),
    ];
    if (parts.length === 0) return [];
    return [
      `${inState(states, state).replace(/^./, (first) => first.toUpperCase())} one unit in a hundred begins to run away thermally ${parts.join(", or ")}.`,
    ];
  });
}
