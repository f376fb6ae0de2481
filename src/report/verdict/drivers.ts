import type { VariableGroup } from "../../scenario/types.ts";
import type { RunResult } from "../../studies/result.ts";
import { listing, points, tidyPercent } from "../words.ts";

type Finding = Omit<RunResult, "verdict">;

/** An assumption that moves the yield by more than this stands in the first paragraph. */
const DECISIVE_GAIN_RATIO = 0.03;
/** An assumed range over which the yield moves by as much is worth a sentence. */
const WIDE_RANGE_RATIO = 0.1;
/** The ends of a range are found from fewer units than the yield: a smaller difference may be chance. */
const NOISE_RATIO = 0.015;
/** Gains below this are not worth a sentence. */
const WORTH_NAMING_RATIO = 0.005;

const REMEDIES: Partial<Record<VariableGroup, string>> = {
  clearance: "measure it on five bearings",
  conformity: "ask for the groove radii, or measure the axial play of five bearings under a light load",
  "stand-out": "measure it on five bearings",
  "surface smoothing": "measure the roughness of a few seats",
  "seat friction": "try it on a few pressed rings",
  "clamp force": "measure it with the tightening that will be used",
  temperature: "measure it on a running machine",
  "preload device": "measure a few parts",
};

/** Sentences about assumed values that alone decide much of the yield, or on which the requirement hangs. */
export function decidingAssumptions(result: Finding): string[] {
  const heavy = result.contributors.yieldGain
    .filter(({ origin, gainRatio }) => origin === "assumption" && gainRatio > DECISIVE_GAIN_RATIO)
    .map(
      ({ group, groupLabel, gainRatio }) =>
        `No figure was given for ${groupLabel}; that alone decides ${points(gainRatio)} of yield: ${REMEDIES[group] ?? "measure it"}.`,
    );
  const [worst, ...others] = crossingAssumptions(result);
  if (worst === undefined || result.requiredYieldRatio === null) return heavy;
  const required = tidyPercent(result.requiredYieldRatio);
  const crossing = `The answer changes inside the range assumed for ${rangeWords(worst)}; ${required} are required.`;
  const likewise = others.length === 0 ? [] : [`So it does for ${listing(others.map(nameOf))}.`];
  return [...heavy, crossing, ...likewise];
}

/** Assumed values inside whose range the required yield is crossed, the widest range first. */
function crossingAssumptions(result: Finding): Assumption[] {
  const required = result.requiredYieldRatio;
  if (required === null) return [];
  return byReach(result, NOISE_RATIO).filter((assumption) => {
    const { least, most } = reach(result, assumption);
    return least < required && most >= required;
  });
}

/** Assumptions that move the yield by at least so much, widest first. */
function byReach(result: Finding, leastRatio: number): Assumption[] {
  const width = (assumption: Assumption) => reach(result, assumption).most - reach(result, assumption).least;
  return result.contributors.assumptions
    .filter((assumption) => width(assumption) >= leastRatio)
    .sort((a, b) => width(b) - width(a));
}

function nameOf({ label }: Assumption): string {
  return `the ${label.replace(/^the /, "")}`;
}

type Assumption = Finding["contributors"]["assumptions"][number];

/** Least and greatest yield over the range of an assumption, its usual value included. */
function reach(result: Finding, { lowEnd, highEnd }: Assumption): { least: number; most: number } {
  const yields = [lowEnd.yieldRatio, highEnd.yieldRatio, result.overall.goodInEveryState.shareRatio];
  return { least: Math.min(...yields), most: Math.max(...yields) };
}

function rangeWords(assumption: Assumption): string {
  const { lowEnd, highEnd } = assumption;
  return `${nameOf(assumption)}: ${tidyPercent(lowEnd.yieldRatio)} of the units are good at ${lowEnd.value}, ${tidyPercent(highEnd.yieldRatio)} at ${highEnd.value}`;
}

/** Assumed values that move the yield of all units together and that the first paragraph has not named. */
function rangeSentences(result: Finding): string[] {
  const said = crossingAssumptions(result);
  const [worst, ...others] = byReach(result, WIDE_RANGE_RATIO).filter((assumption) => !said.includes(assumption));
  if (worst === undefined) return [];
  const also = others.length === 0 ? [] : [`Much hangs, too, on ${listing(others.map(nameOf))}: see the assumptions.`];
  return [`Much hangs on the value assumed for ${rangeWords(worst)}.`, ...also];
}

/** What drives the yield, most costly cause first. */
export function driverSentences(result: Finding): string[] {
  return [...gainSentences(result), ...rangeSentences(result)];
}

function gainSentences(result: Finding): string[] {
  const gains = result.contributors.yieldGain.filter(({ gainRatio }) => Number.isFinite(gainRatio));
  if (gains.length === 0) return [];
  const worth = gains.filter(({ gainRatio }) => gainRatio >= WORTH_NAMING_RATIO).slice(0, 3);
  const yieldRatio = result.overall.goodInEveryState.shareRatio;
  if (worth.length === 0) {
    return yieldRatio < 0.5
      ? [
          "No single spread explains the losses: holding any one cause at its median would not bring the units back. The nominal values themselves miss the window.",
        ]
      : ["No single spread costs as much as half a point of yield."];
  }
  const [first, ...others] = worth;
  const start = `What costs most yield is ${first?.groupLabel}: were it exactly at its median in every unit, the yield would gain ${points(first?.gainRatio ?? 0)}.`;
  if (others.length === 0) return [start];
  return [
    start,
    `Next ${others.length === 1 ? "comes" : "come"} ${listing(others.map((row) => `${row.groupLabel} (${points(row.gainRatio)})`))}.`,
  ];
}
