import type { Workspace } from "../model/columns.ts";
import { evaluateWindows } from "../model/evaluate.ts";
import { OUTCOMES } from "../model/outcome.ts";
import type { ModelPlan } from "../model/plan.ts";
import type { StateWindowColumns, WindowColumns } from "../model/window.ts";

import type { OffsetLaw } from "./offset-law.ts";
import { cdfOf, chanceBetween, type OffsetTable, survivalOf } from "./offset-table.ts";
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

/** Sums over samples: of every quantity and its square, and of the yield along the curves. */
export interface ConditionalSums {
  readonly count: number;
  readonly sums: Float64Array;
  readonly squares: Float64Array;
  readonly shiftSums: Float64Array;
  readonly spreadSums: Float64Array;
}

/**
 * Integrates a block over the law of the offset: each sample, drawn without it, has a window of offsets in every state, and
 * the chance of that window is a difference of the law's CDF.
 *
 * @param shiftsMm shifts of the nominal offset that the yield is wanted for
 * @param inputs drawn columns with the law's variables at their means
 * @param meanOffsetMm machined offset at those means
 */
export function integrateBlock(
  plan: ModelPlan,
  offset: OffsetLaw,
  weights: readonly number[],
  shiftsMm: Float64Array,
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
  const shiftSums = new Float64Array(shiftsMm.length);
  const spreadSums = new Float64Array(offset.spreadLaws.length);
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
    const good = chanceBetween(law, low, high);
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
        const shift = shiftsMm[j];
        shiftSums[j] += chanceBetween(law, low - shift, high - shift);
      }
      for (let j = 0; j < spreadSums.length; j += 1) spreadSums[j] += chanceBetween(offset.spreadLaws[j], low, high);
    }
  }
  return { count, sums, squares, shiftSums, spreadSums };
}

const TARGET_PLACE = OUTCOMES.indexOf("target");

/** Fills the chances of the six outcomes of one sample in one state. */
function fillOutcomes(
  state: StateWindowColumns,
  i: number,
  machinedMm: number,
  scale: number,
  law: OffsetTable,
  low: number,
  high: number,
  values: Float64Array,
  start: number,
): void {
  const onset = (state.onsetMm[i] - machinedMm) / scale;
  const bind = (state.bindMm[i] - machinedMm) / scale;
  const end = Math.max(high, low);
  // The other way round everything is mirrored about an offset of zero in the state.
  const reversed = (-state.onsetMm[i] - 2 * state.shiftMm[i] - machinedMm) / scale;
  const reversedBind = (-state.bindMm[i] - 2 * state.shiftMm[i] - machinedMm) / scale;
  const belowReversedBind = cdfOf(law, reversedBind);
  const belowReversed = cdfOf(law, reversed);
  // Rings that hold nothing, or slid too far before, leave the pair without preload however great the offset.
  const belowOnset = state.limitMm[i] <= state.onsetMm[i] ? 1 : cdfOf(law, onset);
  const belowLow = cdfOf(law, low);
  const belowEnd = cdfOf(law, end);
  const belowBind = cdfOf(law, bind);
  values[start] = belowReversed - belowReversedBind;
  values[start + 1] = belowOnset - belowReversed;
  values[start + 2] = Math.max(0, Math.min(belowLow, belowBind) - belowOnset);
  values[start + 3] = chanceBetween(law, low, end);
  values[start + 4] = Math.max(0, belowBind - belowEnd);
  values[start + 5] = survivalOf(law, bind) + belowReversedBind;
}
