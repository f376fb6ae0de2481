import type { CountRange, RunResult, Share } from "../../studies/result.ts";
import {
  causeDeed,
  count,
  inState,
  interval,
  isNothing,
  listing,
  OUTCOME_NAMES,
  percent,
  roundPercent,
  shareInterval,
  tidyPercent,
} from "../words.ts";

type Finding = Omit<RunResult, "verdict">;

/** How many units are good, fail at the bench and fail in service. */
export function batchSentences(result: Finding): string[] {
  const { overall } = result;
  return [
    goodSentence(result),
    benchSentence(result, overall.failsAtBench),
    serviceSentence(result, overall.failsInService),
  ];
}

/** What a good unit is called: in the window, and more where more is required. */
export function goodWords({ requirements, states }: Pick<Finding, "requirements" | "states">): string {
  const good = requirements.length > 0 ? "good" : "in the window";
  return states.length > 1 ? `${good} in every state` : good;
}

function goodSentence(result: Finding): string {
  const { batch, overall } = result;
  const where = goodWords(result);
  if (batch.size === 1) {
    return `The one unit has a chance of ${percent(overall.goodInEveryState.shareRatio)} of being ${where} (95 % interval ${interval(overall.goodInEveryState)}).`;
  }
  if (batch.good.high < 0.5) return `Of ${count(batch.size)} units, expect none ${where}.`;
  if (batch.good.low > batch.size - 0.5) return `Expect all ${count(batch.size)} units ${where}.`;
  return `Of ${count(batch.size)} units, expect about ${count(batch.good.expected)} ${where} (${range(batch.good)}).`;
}

function range(part: CountRange): string {
  return part.low === part.high
    ? `${count(part.low)} in 90 % of batches`
    : `90 % of batches: ${count(part.low)} to ${count(part.high)}`;
}

function benchSentence({ states, batch, requirements }: Finding, failing: Share): string {
  const bench = states.find((state) => state.isBench);
  if (isNothing(failing))
    return `None is expected to fail at the bench (${shareInterval(failing)}, with 95 % confidence).`;
  const most = failing.shareRatio > 0.9995 ? "Practically all" : `About ${roundPercent(failing.shareRatio)}`;
  const start = `${most} ${batch.size > 1 ? `(${count(batch.benchFailures.expected)}) ` : ""}${requirements.length > 0 ? "fail" : "are outside it"} at the bench`;
  if (bench === undefined) return `${start}: scrap or rework.`;
  const classes = (["play", "light", "heavy", "bind", "reversed"] as const)
    .filter((outcome) => bench.outcomes[outcome].shareRatio >= 0.03 * failing.shareRatio)
    .sort((a, b) => bench.outcomes[b].shareRatio - bench.outcomes[a].shareRatio)
    .map((outcome) => ({ name: OUTCOME_NAMES[outcome], share: bench.outcomes[outcome].shareRatio }));
  const missing = bench.outcomes.target.shareRatio - bench.good.shareRatio;
  if (missing >= 0.03 * failing.shareRatio && missing > 0)
    classes.push({ name: "missing a requirement", share: missing });
  if (classes.length === 0) return `${start}: scrap or rework.`;
  if (classes.length === 1) return `${start}, nearly all of them ${classes[0]?.name}: scrap or rework.`;
  return `${start} (${listing(classes.map(({ name, share }) => `${roundPercent(share)} ${name}`))}): scrap or rework.`;
}

function serviceSentence(result: Finding, failing: Share): string {
  if (result.states.every((state) => state.isBench)) return "";
  if (isNothing(failing))
    return `Of those that pass the bench, none is expected to fail in service (${shareInterval(failing)}, with 95 % confidence).`;
  const start = `A further ${roundPercent(failing.shareRatio)} pass the bench and then fail in service`;
  if (failing.count === 0) return `${start} (95 % interval ${interval(failing)}).`;
  const causes = [...result.overall.serviceCauses].sort((a, b) => b.share.count - a.share.count);
  const [first, second] = causes;
  if (first === undefined) return `${start}.`;
  const part = first.share.count / failing.count;
  const why = `because they ${causeDeed(first.outcome)} ${inState(result.states, first.state)}`;
  if (part > 0.95 || second === undefined) return `${start}, ${why}.`;
  if (part >= 0.5) return `${start}, mostly ${why}.`;
  return `${start}, ${why} (${roundPercent(part)} of them) or ${causeDeed(second.outcome)} ${inState(result.states, second.state)} (${roundPercent(second.share.count / failing.count)}).`;
}

export type Requirement = "none" | "reached" | "not reached" | "cannot tell";

/** Whether the required yield is reached, as far as the 95 % interval can tell. */
export function requirement(result: Finding): Requirement {
  const required = result.requiredYieldRatio;
  if (required === null) return "none";
  const { lowRatio, highRatio } = result.overall.goodInEveryState;
  if (lowRatio >= required) return "reached";
  return highRatio < required ? "not reached" : "cannot tell";
}

export function requirementSentence(result: Finding): string {
  const kind = requirement(result);
  if (kind === "none" || result.requiredYieldRatio === null) return "";
  const wanted = tidyPercent(result.requiredYieldRatio);
  const found = `the yield lies between ${interval(result.overall.goodInEveryState).replace(" to ", " and ")} (95 % interval)`;
  if (kind === "reached") return `The required yield of ${wanted} is reached: ${found}.`;
  if (kind === "not reached") return `The required yield of ${wanted} is not reached: ${found}.`;
  return `Whether the required yield of ${wanted} is reached cannot be told yet: ${found}. More samples would tell.`;
}
