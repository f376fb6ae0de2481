import type { BatchStudyResult } from "../../studies/batch/result.ts";
import { count, listing, percent, shareInterval, shareText, tidyPercent, units } from "../words.ts";
import { countText, GAUGE_NAMES, gaugeText, moneyText, planText, quantileOf } from "./words.ts";

type Finding = Omit<BatchStudyResult, "verdict">;

/** What the next batch may bring, what it costs, and what sampling or checking would do about it. */
export function batchVerdict(result: Finding): string[] {
  return [
    [countSentence(result), failureSentence(result), requirementSentence(result)],
    [spreadSentence(result)],
    [costSentence(result)],
    [samplingSentence(result)],
    [checkSentence(result)],
  ]
    .map((sentences) => sentences.filter((sentence) => sentence !== "").join(" "))
    .filter((paragraph) => paragraph !== "");
}

function countSentence({ size, good }: Finding): string {
  return `Of the next ${units(size)}, expect ${countText(good)} to be good in every state.`;
}

function failureSentence({ benchFailures, serviceFailures, warrantyFailures, warrantyYears }: Finding): string {
  const years = warrantyYears === 1 ? "a year" : `${count(warrantyYears)} years`;
  const service =
    serviceFailures.expected < 0.005
      ? "none of those that pass is expected to fail in service"
      : `of those that pass, ${countText(serviceFailures)} cannot stand some state of service, and ${countText(warrantyFailures)} of them show it within the warranty of ${years}`;
  return `At the bench ${countText(benchFailures)} fail; ${service}.`;
}

function requirementSentence({ reachesYield, requiredYieldRatio, good, size }: Finding): string {
  if (reachesYield === null || requiredYieldRatio === null) {
    const more = good.more.find(({ count: k }) => k === 0);
    return more !== undefined && more.chanceRatio < 0.999
      ? `In ${percent(1 - more.chanceRatio)} of batches not one of ${count(size)} is good.`
      : "";
  }
  const advice =
    reachesYield.lowRatio > 0.95
      ? "promise it"
      : reachesYield.highRatio < 0.5
        ? "do not promise it for the design as it is"
        : "to promise it is a gamble";
  return `The required yield of ${tidyPercent(requiredYieldRatio)} is reached in ${shareText(reachesYield)} of batches (95 % interval ${shareInterval(reachesYield)}): ${advice}.`;
}

function spreadSentence({ isShared, benchFailures, serviceFailures, batches }: Finding): string {
  const worst = benchFailures.expected >= serviceFailures.expected ? benchFailures : serviceFailures;
  const where = worst === benchFailures ? "failures at the bench" : "failures in service";
  if (!isShared) {
    return "No spread is stated as shared by a batch, so that counts vary from batch to batch only as those of independent units do. Lathe settings and bearing lots that are shared make bad batches worse and good ones better: give batchShare where lots were measured.";
  }
  if (worst.betweenSd < 0.5) return "";
  const factor = worst.withinSd > 0 ? worst.sd / worst.withinSd : 1;
  return `What a batch shares makes the ${where} vary from batch to batch by ±${count(worst.betweenSd)} units (standard deviation; chance within a batch alone: ±${count(worst.withinSd)})${factor > 1.2 ? `: a binomial count would claim a range ${factor.toFixed(1)} times too narrow` : ""}. One batch in twenty has more than ${count(quantileOf(worst, 0.95))}, one in a hundred more than ${count(quantileOf(worst, 0.99))} (from ${count(batches)} batches drawn).`;
}

function costSentence({ costs, size }: Finding): string {
  if (costs === null) return "";
  const { loss, scrap, rework, warranty, perGoodUnit, settings } = costs;
  const at = (probability: number) =>
    loss.quantiles.find(({ probabilityRatio }) => probabilityRatio === probability)!.amount;
  const parts = [
    ["rework", rework],
    ["scrap", scrap],
    ["warranty", warranty],
  ] as const;
  const largest = parts.reduce((most, part) => (part[1].expected > most[1].expected ? part : most));
  const list = parts
    .filter(([, { expected }]) => expected > 0)
    .map(([name, { expected }]) => `${name} ${moneyText(expected, costs)}`);
  const each =
    settings.unit > 0
      ? ` A good unit comes to ${moneyText(perGoodUnit, costs)}, made for ${moneyText(settings.unit, costs)}.`
      : "";
  return `Failures cost about ${moneyText(loss.expected, costs)} a batch of ${count(size)} (${listing(list)}), in 90 % of batches ${moneyText(at(0.05), costs)} to ${moneyText(at(0.95), costs)}, in one in a hundred more than ${moneyText(at(0.99), costs)}.${each} Most of it is ${largest[0]}: work there first.`;
}

function samplingSentence({ sampling, requiredYieldRatio }: Finding): string {
  if (sampling.length === 0) return "";
  const [plan] = sampling;
  if (plan.acceptedRatio < 1e-4) {
    return `A ${planText(plan.sample, plan.accept)} would stop practically every batch.`;
  }
  const judged =
    plan.badAcceptedRatio === null || requiredYieldRatio === null
      ? ""
      : ` In ${percent(plan.badAcceptedRatio)} of batches it lets one through that fails the required ${tidyPercent(requiredYieldRatio)} at the bench, in ${percent(plan.goodRejectedRatio ?? 0)} it stops a good one.`;
  const use =
    Math.abs(plan.acceptedFailingRatio - plan.allFailingRatio) < 0.1 * plan.allFailingRatio
      ? " Batches differ too little for sampling to sort them: check every unit, or mend the process."
      : "";
  return `A ${planText(plan.sample, plan.accept)} passes ${percent(plan.acceptedRatio)} of such batches; the failing share at the bench falls from ${percent(plan.allFailingRatio)} to ${percent(plan.acceptedFailingRatio)} in those passed.${judged}${use}`;
}

function checkSentence(result: Finding): string {
  const { check, size } = result;
  if (check === null) return "";
  const { now, settings } = check;
  const { low, high } = settings;
  const limits = [
    low === null ? "" : `from ${gaugeText(low, check)}`,
    high === null ? "" : `up to ${gaugeText(high, check)}`,
  ];
  const words = limits.filter((text) => text !== "").join(" ");
  const part = (ratio: number) => `${percent(ratio)} (about ${count(ratio * size)} of ${count(size)})`;
  const later =
    now.laterRatio > 0
      ? ` Another ${part(now.laterRatio)} pass and fail only in service: no check at the bench can see them.`
      : "";
  const judge =
    now.escapesRatio > 0.5 * (now.escapesRatio + caught(result))
      ? ` It misses most of what fails at the bench: ${settings.gauge === "play" ? "a play gauge cannot tell a preload that is too light or too heavy" : "its limits or its error are too wide"}.`
      : "";
  return `Gauging the ${GAUGE_NAMES[settings.gauge]} of every unit, passed ${words}, accepts ${percent(now.acceptedRatio)}; ${part(now.escapesRatio)} escape though out of the window at the bench, and ${part(now.falseRejectsRatio)} are rejected though good in every state.${later}${judge}`;
}

/** Share of units that fail at the bench and are caught. */
function caught({ benchFailures, size, check }: Finding): number {
  return Math.max(0, benchFailures.expected / size - (check?.now.escapesRatio ?? 0));
}
