import type { RunResult } from "../../studies/result.ts";
import { quantileOf } from "../quantile.ts";
import { capital, inState, isSetByDevice, micrometres, roundPercent } from "../words.ts";

type Finding = Omit<RunResult, "verdict">;

/** Where the nominal offset ought to be moved. */
export interface Aim {
  readonly machinedMm: number;
  readonly windowLowMm: number;
  readonly windowHighMm: number;
  /** From the machined offset to the middle of the typical window, mm: positive is more offset. */
  readonly moveMm: number;
  /** False where the machined offset is as good as central. */
  readonly isWorthMoving: boolean;
}

const ALL_INSIDE_RATIO = 0.9995;

/** Null where no unit has a window. */
export function aimOf({ window, states }: Finding): Aim | null {
  const machinedMm = quantileOf(window.machinedOffsetMm, 0.5);
  const windowLowMm = quantileOf(window.lowMm, 0.5);
  const windowHighMm = quantileOf(window.highMm, 0.5);
  const moveMm = (windowLowMm + windowHighMm) / 2 - machinedMm;
  if (!Number.isFinite(moveMm)) return null;
  const slack = Math.max(0.001, 0.15 * Math.max(quantileOf(window.widthMm, 0.5), 0));
  // Where next to no preload misses the window there is nothing to be gained by moving it.
  const isInside = states.every(({ outcomes }) => outcomes.target.shareRatio > ALL_INSIDE_RATIO);
  return { machinedMm, windowLowMm, windowHighMm, moveMm, isWorthMoving: !isInside && Math.abs(moveMm) > slack };
}

/** What the drawing change is called: which spacing to make longer. */
export function moveWords(arrangement: string, moveMm: number): string {
  const housingLonger = /face/.test(arrangement) ? moveMm < 0 : moveMm > 0;
  return `${housingLonger ? "increase" : "reduce"} the housing spacing (or ${housingLonger ? "reduce" : "increase"} the shaft spacing) by about ${micrometres(Math.abs(moveMm))}`;
}

/** The same for any method of preload: what is set is moved where a device sets it. */
function moveAdvice({ arrangement, method }: Pick<Finding, "arrangement" | "method">, moveMm: number): string {
  const much = micrometres(Math.abs(moveMm));
  if (method === "adjuster") return `set the adjuster ${much} ${moveMm > 0 ? "further on" : "back"}`;
  if (method === "shim") return `aim the shims ${much} ${moveMm > 0 ? "higher" : "lower"}`;
  if (method === "spring")
    return `${moveWords(arrangement, moveMm)}, or take a ${moveMm > 0 ? "longer" : "shorter"} spring`;
  return moveWords(arrangement, moveMm);
}

/** What to change on the drawing, in one sentence. */
export function drawingWords(result: Finding): string {
  const aim = aimOf(result);
  if (aim === null || isMostlyEmpty(result)) {
    return "No spacing serves most units: change the material, the method of preload or the bearings first.";
  }
  return aim.isWorthMoving ? `${capital(moveAdvice(result, aim.moveMm))}.` : "Leave the nominal offset where it is.";
}

/** What to change: the nominal offset, its spread, or something that machining cannot mend. */
export function changeSentences(result: Finding): string[] {
  // Where most units have no window, moving or tightening spacings is no advice.
  if (isMostlyEmpty(result)) return emptySentences(result);
  return [...nominalSentences(result), ...spreadSentences(result), ...emptySentences(result)];
}

/** Whether most units have no offset at which they are good in every state. */
function isMostlyEmpty({ window }: Finding): boolean {
  return window.empty.shareRatio > 0.5;
}

function nominalSentences(result: Finding): string[] {
  const aim = aimOf(result);
  if (aim === null) return ["No unit has an offset at which it is in the window in every state."];
  const good = result.requirements.length > 0 ? "has a good preload" : "is good";
  const ends = `a typical unit ${good} from ${micrometres(aim.windowLowMm)} to ${micrometres(aim.windowHighMm)}`;
  const isSet = isSetByDevice(result.method);
  const now = `the ${isSet ? "offset as set" : "machined offset"} lies around ${micrometres(aim.machinedMm)}`;
  const where = isSet ? "At assembly" : "On the drawing";
  return aim.isWorthMoving
    ? [`${where}, ${moveAdvice(result, aim.moveMm)}: ${now}, and ${ends}.`]
    : [`The nominal offset is well placed: ${now}, and ${ends}.`];
}

/** Advice on the spread of what is machined; a device that follows each unit makes it moot. */
function spreadSentences({ window, method }: Finding): string[] {
  if (isSetByDevice(method)) return [];
  const width = quantileOf(window.widthMm, 0.5);
  const spread = quantileOf(window.machinedOffsetMm, 0.95) - quantileOf(window.machinedOffsetMm, 0.05);
  const wander = quantileOf(window.lowMm, 0.95) - quantileOf(window.lowMm, 0.05);
  if (![width, spread, wander].every((value) => Number.isFinite(value))) return [];
  const figures = `the window of a unit is typically ${micrometres(width)} wide`;
  if (spread <= width && wander <= width) return [];
  if (spread >= wander) {
    return [
      `The machined offset spreads over ${micrometres(spread)} (nine units in ten), while ${figures}: tighter spacings, or shims chosen for each unit, are where the yield is.`,
    ];
  }
  return [
    `The window moves from unit to unit by ${micrometres(wander)} (nine units in ten), while ${figures}: tighter spacings alone cannot follow it; measured or sorted bearings, or shims set by each unit's own play, can.`,
  ];
}

function emptySentences({ window, states }: Finding): string[] {
  if (window.empty.shareRatio < 0.001) return [];
  const [pair] = window.collisions;
  const why =
    pair === undefined
      ? "their states ask for offsets that exclude each other"
      : pair.states[0] === pair.states[1]
        ? `${inState(states, pair.states[0])} alone no offset puts them in the window`
        : `the offset they need ${inState(states, pair.states[0])} is not the one they need ${inState(states, pair.states[1])}`;
  const mostly = window.collisions.length > 1 ? "mostly, " : "";
  const much =
    window.empty.shareRatio > 0.9995
      ? "Practically none of the units can be made good by machining"
      : `${roundPercent(window.empty.shareRatio)} of the units cannot be made good by any machining`;
  return [`${much}: ${mostly}${why}. They need another material, another method of preload or sorted bearings.`];
}
