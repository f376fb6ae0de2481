import type { Workspace } from "../model/columns.ts";
import { evaluateWindows } from "../model/evaluate.ts";
import { OUTCOMES } from "../model/outcome.ts";
import type { ModelPlan } from "../model/plan.ts";
import type { StateWindowColumns, WindowColumns } from "../model/window.ts";
import type { SumLaw } from "../reliability/sum-law.ts";
import type { OffsetLaw } from "./offset-law.ts";
import { countedStates } from "./tally.ts";

/**
 * What is estimated from windows, in order: for every counted state the six outcomes, then good in every state, failing at
 * the bench, failing in service, and the mean over states by their share of duty.
 */
export function conditionalCount(plan: ModelPlan): number {
  return countedStates(plan) * OUTCOMES.length + 4;
}

/** Places of the four quantities that stand behind the states'. */
export const OVERALL = { good: 0, bench: 1, service: 2, averaged: 3 } as const;

/** Shifts of the nominal offset (mm) and laws of other tolerances that the yield is wanted for. */
export interface CurveGrid {
  readonly shiftsMm: Float64Array;
  readonly laws: readonly SumLaw[];
}

/** Sums over samples: of every quantity and its square, and of the yield along the curves. */
export interface ConditionalSums {
  readonly count: number;
  readonly sums: Float64Array;
  readonly squares: Float64Array;
  readonly shiftSums: Float64Array;
  readonly lawSums: Float64Array;
}

/**
 * Integrates a block over the law of the offset: each sample, drawn without it, has a window of offsets in every state, and
 * the chance of that window is a difference of the law's CDF.
 *
 * @param inputs drawn columns with the law's variables at their means
 * @param meanOffsetMm machined offset at those means
 */
export function integrateBlock(
  plan: ModelPlan,
  offset: OffsetLaw,
  weights: readonly number[],
  grid: CurveGrid,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  windows: WindowColumns,
): ConditionalSums {
  evaluateWindows(plan, inputs, count, workspace, windows);
  const states = windows.afterService === null ? windows.states : [...windows.states, windows.afterService];
  const benchIndex = plan.states.findIndex((state) => state.isBench);
  const quantities = conditionalCount(plan);
  const overall = states.length * OUTCOMES.length;
  const values = new Float64Array(quantities);
  const sums = new Float64Array(quantities);
  const squares = new Float64Array(quantities);
  const shiftSums = new Float64Array(grid.shiftsMm.length);
  const lawSums = new Float64Array(grid.laws.length);
  const { law, stateScale } = offset;
  for (let i = 0; i < count; i += 1) {
    const machined = workspace.machinedOffsetMm[i];
    let low = Number.NEGATIVE_INFINITY;
    let high = Number.POSITIVE_INFINITY;
    let averaged = 0;
    for (let s = 0; s < states.length; s += 1) {
      const scale = stateScale[s];
      const stateLow = (states[s].lowMm[i] - machined) / scale;
      const stateHigh = (states[s].highMm[i] - machined) / scale;
      fillOutcomes(states[s], i, machined, scale, law, stateLow, stateHigh, values, s * OUTCOMES.length);
      if (stateLow > low) low = stateLow;
      if (stateHigh < high) high = stateHigh;
      if (s < weights.length) averaged += weights[s] * values[s * OUTCOMES.length + TARGET_PLACE];
    }
    const good = chance(law, low, high);
    const benchGood = values[benchIndex * OUTCOMES.length + TARGET_PLACE];
    values[overall + OVERALL.good] = good;
    values[overall + OVERALL.bench] = 1 - benchGood;
    values[overall + OVERALL.service] = benchGood - good;
    values[overall + OVERALL.averaged] = averaged;
    for (let q = 0; q < quantities; q += 1) {
      sums[q] += values[q];
      squares[q] += values[q] * values[q];
    }
    if (low < high) {
      for (let j = 0; j < shiftSums.length; j += 1) {
        const shift = grid.shiftsMm[j];
        shiftSums[j] += chance(law, low - shift, high - shift);
      }
      for (let j = 0; j < lawSums.length; j += 1) lawSums[j] += chance(grid.laws[j], low, high);
    }
  }
  return { count, sums, squares, shiftSums, lawSums };
}

const TARGET_PLACE = OUTCOMES.indexOf("target");

/** Fills the chances of the six outcomes of one sample in one state. */
function fillOutcomes(
  state: StateWindowColumns,
  i: number,
  machinedMm: number,
  scale: number,
  law: SumLaw,
  low: number,
  high: number,
  values: Float64Array,
  start: number,
): void {
  const onset = (state.onsetMm[i] - machinedMm) / scale;
  const bind = (state.bindMm[i] - machinedMm) / scale;
  const end = high > low ? high : low;
  // The other way round everything is mirrored about an offset of zero in the state.
  const reversed = (-state.onsetMm[i] - 2 * state.shiftMm[i] - machinedMm) / scale;
  const reversedBind = (-state.bindMm[i] - 2 * state.shiftMm[i] - machinedMm) / scale;
  const belowReversedBind = reversedBind === Number.NEGATIVE_INFINITY ? 0 : law.cdf(reversedBind);
  const belowReversed = law.cdf(reversed);
  const belowOnset = law.cdf(onset);
  const belowLow = low === Number.POSITIVE_INFINITY ? 1 : law.cdf(low);
  const belowEnd = end === Number.POSITIVE_INFINITY ? 1 : law.cdf(end);
  const belowBind = bind === Number.POSITIVE_INFINITY ? 1 : law.cdf(bind);
  const above = bind === Number.POSITIVE_INFINITY ? 0 : law.survival(bind);
  values[start] = belowReversed - belowReversedBind;
  values[start + 1] = belowOnset - belowReversed;
  values[start + 2] = Math.max(0, Math.min(belowLow, belowBind) - belowOnset);
  values[start + 3] = chance(law, low, end);
  values[start + 4] = Math.max(0, belowBind - belowEnd);
  values[start + 5] = above + belowReversedBind;
}

/** Chance that the offset lies between two ends, from the tail in which the difference keeps its digits. */
function chance(law: SumLaw, low: number, high: number): number {
  if (!(low < high)) return 0;
  if (low > 0) {
    return law.survival(low) - (high === Number.POSITIVE_INFINITY ? 0 : law.survival(high));
  }
  const below = low === Number.NEGATIVE_INFINITY ? 0 : law.cdf(low);
  return (high === Number.POSITIVE_INFINITY ? 1 : law.cdf(high)) - below;
}
