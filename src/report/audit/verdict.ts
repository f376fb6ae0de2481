import type { AuditResult } from "../../studies/audit/result.ts";
import { moveWords } from "../verdict/change.ts";
import {
  capital,
  count,
  interval,
  listing,
  micrometres,
  OUTCOME_NAMES,
  percent,
  points,
  roundPercent,
  significant,
  tidyPercent,
} from "../words.ts";

type Finding = Omit<AuditResult, "verdict">;

/** Whether this unit may go, why, what to do about it, and how well that is known. */
export function auditVerdict(result: Finding): string[] {
  return [
    [decisionSentence(result), ...stateSentences(result)],
    [changeSentence(result), emptySentence(result)],
    [measureSentence(result)],
    [offsetSentence(result), uncertaintySentence(result)],
  ]
    .map((sentences) => sentences.filter((sentence) => sentence !== "").join(" "))
    .filter((paragraph) => paragraph !== "");
}

export const DECISION_NAMES = { go: "Go", "no-go": "No-go", "cannot tell": "Cannot tell" } as const;

function decisionSentence({ decision, decideRatio, good, unit, states }: Finding): string {
  const name = unit === "" ? "this unit" : `unit ${unit}`;
  const where = states.length > 1 ? "in the window in every state" : "in the window";
  const chance = `${percent(good.shareRatio)} (95 % interval of the simulation ${interval(good)})`;
  const bar =
    decision === "go"
      ? `at least ${tidyPercent(decideRatio)}, as asked`
      : decision === "no-go"
        ? `no more than ${tidyPercent(1 - decideRatio)}`
        : straddles(good, decideRatio)
          ? `too near to the limit of ${tidyPercent(decideRatio)} or ${tidyPercent(1 - decideRatio)} for so many draws: take more samples`
          : `neither ${tidyPercent(decideRatio)} for a go nor as little as ${tidyPercent(1 - decideRatio)} for a no-go: its measurements do not decide it`;
  return `${DECISION_NAMES[decision]}: the chance that ${name} is ${where} is ${chance}, ${bar}.`;
}

function straddles({ lowRatio, highRatio }: Finding["good"], decideRatio: number): boolean {
  return [decideRatio, 1 - decideRatio].some((bar) => lowRatio < bar && highRatio > bar);
}

function stateSentences({ states }: Finding): string[] {
  return states.map(({ label, isBench, outcomes }) => {
    const seen = Object.entries(outcomes)
      .filter(([, share]) => share.shareRatio >= 0.005)
      .sort(([, a], [, b]) => b.shareRatio - a.shareRatio)
      .map(
        ([outcome, share]) =>
          `${roundPercent(share.shareRatio)} ${OUTCOME_NAMES[outcome as keyof typeof OUTCOME_NAMES]}`,
      );
    return `${isBench ? "Now, on the bench" : capital(label)}: ${listing(seen)}.`;
  });
}

function changeSentence({ change, arrangement, decideRatio, decision }: Finding): string {
  if (change === null) return "The preload is set by a device and not by the spacings: mend it there.";
  const { best, now, goRange, stepMm, neighbours } = change;
  const step = `steps of ${micrometres(stepMm)}`;
  if (best.goodRatio < 0.01) return "No change of a spacing makes it good: see which states exclude each other.";
  if (best.changeMm === 0) {
    const worse = neighbours.map(({ goodRatio }) => percent(goodRatio));
    return `No shim improves it (${step} either way: ${listing(worse)}).`;
  }
  const gain = `raises the chance from ${percent(now.goodRatio)} to ${percent(best.goodRatio)}`;
  const only = change.isPreloadOnly ? " (by the preload alone: what else is asked for is not in this figure)" : "";
  const range =
    goRange === null
      ? `; no change alone reaches ${tidyPercent(decideRatio)}`
      : `; changes of the offset from ${signed(goRange.lowMm)} to ${signed(goRange.highMm)} reach ${tidyPercent(decideRatio)}`;
  // Where the unit may go as it is, a small gain is no reason to take it apart.
  if (decision === "go") return `It may stay as it is; to ${moveWords(arrangement, best.changeMm)} ${gain}.`;
  return `Best mend in ${step}: ${moveWords(arrangement, best.changeMm)}, which ${gain}${only}${range}.`;
}

function signed(mm: number): string {
  return `${mm > 0 ? "+" : ""}${micrometres(mm)}`;
}

function emptySentence({ window }: Finding): string {
  if (window.emptyRatio < 0.005) return "";
  return `With a chance of ${roundPercent(window.emptyRatio)} no spacing at all serves every state.`;
}

function measureSentence({ toMeasure, rightNowRatio }: Finding): string {
  const worth = toMeasure.filter(({ gainRatio, isOfUnit }) => isOfUnit && gainRatio >= 0.005);
  const [largest] = toMeasure;
  const service =
    largest !== undefined && !largest.isOfUnit && largest.gainRatio >= 0.01
      ? ` What decides most is not the unit but the ${largest.label}, which varies in service.`
      : "";
  const now = `A go or no-go called now would be right with a chance of ${percent(rightNowRatio)}`;
  if (worth.length === 0) {
    return `${now}; no single measurement would improve on that${rightNowRatio < 0.95 ? ": several things are unknown at once" : ""}.${service}`;
  }
  const [first, ...others] = worth;
  const better = `${first.isMeasured ? "a better measurement" : "a measurement"} of the ${first.label} would bring at most ${points(first.gainRatio)} (to ${percent(first.rightCallRatio)})`;
  const rest = others.slice(0, 2).map(({ label, gainRatio }) => `the ${label} ${points(gainRatio)}`);
  return `${now}. Measure first: ${better}${rest.length === 0 ? "" : `; ${listing(rest)}`}.${service}`;
}

function offsetSentence({ offset, window }: Finding): string {
  const { combined, estimateMm } = offset;
  const k = significant(combined.coverageFactor, 3);
  const nu = Number.isFinite(combined.effectiveDegreesOfFreedom)
    ? `, ${count(Math.floor(combined.effectiveDegreesOfFreedom))} effective degrees of freedom`
    : "";
  return `Offset on the bench ${micrometres(estimateMm)} ± ${micrometres(combined.expanded)} (expanded uncertainty, k = ${k}${nu}). As machined it is ${micrometres(window.machinedMm[1])}; the unit needs ${micrometres(window.lowMm[1])} to ${micrometres(window.highMm[1])} (medians of the ends of its window).`;
}

function uncertaintySentence({ uncertainty }: Finding): string {
  const { simulationRatio, effectiveSamples, readingsMm, instrumentMm, notMeasuredMm, windowMm } = uncertainty;
  return `Kept apart: the simulation leaves ${points(simulationRatio)} of the chance open (standard, ${count(effectiveSamples)} effective draws) and is all that more samples would shrink; the few readings leave ${micrometres(readingsMm)} of the offset open, instrument and temperature ${micrometres(instrumentMm)}, what was not measured ${micrometres(notMeasuredMm)}; the bearings and fits move the window by ${micrometres(windowMm)} (all standard uncertainties).`;
}
