import type { RunResult } from "../studies/result.ts";
import { changeSentences } from "./verdict/change.ts";
import { decidingAssumptions, driverSentences } from "./verdict/drivers.ts";
import { batchSentences, requirementSentence } from "./verdict/fate.ts";
import { flagSentences } from "./verdict/flags.ts";
import { heatSentences } from "./verdict/heat.ts";
import { rareSentences } from "./verdict/rare.ts";

/** What the verdict is made from: everything a run found but the verdict itself. */
export type Finding = Omit<RunResult, "verdict">;

/**
 * The verdict in plain words. First what will happen to the batch, whether the required yield is reached and which
 * assumption alone would decide it; then what drives the yield; then what to change; then what else was seen.
 */
export function verdict(result: Finding): string[] {
  return [
    [...batchSentences(result), requirementSentence(result), ...decidingAssumptions(result)],
    driverSentences(result),
    changeSentences(result),
    [...rareSentences(result), ...heatSentences(result), ...flagSentences(result)],
  ]
    .map((sentences) =>
      sentences
        .filter((sentence) => sentence !== "")
        .join(" ")
        .replace(/(\d) %/g, "$1\u00a0%"),
    )
    .filter((paragraph) => paragraph !== "");
}
