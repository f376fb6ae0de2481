import type { Workspace } from "../model/columns.ts";
import { evaluateWindows } from "../model/evaluate.ts";
import { OUTCOMES } from "../model/outcome.ts";
import type { ModelPlan } from "../model/plan.ts";
import type { StateWindowColumns, WindowColumns } from "../model/window.ts";

import type { OffsetLaw } from "./offset-law.ts";
import { cdfOf, chanceBetween, type OffsetTable, survivalOf } from "./offset-table.ts";
import { countedColumns, countedStates } from "./tally.ts";

/**
 * What is estimated from windows, in order: for every counted state the six outcomes, then good in every state, failing at
 * the bench, failing in service, and the mean over states by their share of duty.
 */
export function conditionalCount(plan: ModelPlan): number {
  return countedStates(plan) * OUTCOMES.length + 4;
}

/** Places of the four quantities that stand behind the states'. */
export const OVERALL = { good: 0, bench: 1, service: 2, averaged: 3 } as const;

/** Place of the yield. */
export function goodPlace(plan: ModelPlan): number {
  return conditionalCount(plan) - Object.keys(OVERALL).length + OVERALL.good;
}

/** Sums over samples: of every quantity, and of the yield along the curves. */
export interface ConditionalSums {
  readonly count: number;
  readonly sums: Float64Array;
  readonly shiftSums: Float64Array;
  readonly spreadSums: Float64Array;
}

/** Reads what the windows of one sample say, without allocating. */
export interface ChanceReader {
  /** Chances of the sample read last, in the order of `conditionalCount`. */
  readonly values: Float64Array;
  /** Ends of its window over all states, as deviations of the offset from its mean, mm. */
  lowMm: number;
  highMm: number;
  read(i: number): void;
}

/**
 * The chances of a sample drawn without its own offset: in every state it has a window of offsets, and the chance of that window
 * is a difference of the CDF of the offset's law.
 *
 * @param workspace with the machined offset at the means of the law's variables
 * @param windows filled for the block
 */
export function createChances(
  plan: ModelPlan,
  { law, stateScale }: OffsetLaw,
  weights: readonly number[],
  workspace: Workspace,
  windows: WindowColumns,
): ChanceReader {
  const states = countedColumns(windows);
  const benchIndex = plan.states.findIndex((state) => state.isBench);
  const overall = states.length * OUTCOMES.length;
  const values = new Float64Array(conditionalCount(plan));
  return {
    values,
    lowMm: Number.NEGATIVE_INFINITY,
    highMm: Number.POSITIVE_INFINITY,
    read(i) {
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
      this.lowMm = low;
      this.highMm = high;
    },
  };
}

/**
 * Integrates a block over the law of the offset and sums up its samples.
 *
 * @param shiftsMm shifts of the nominal offset that the yield is wanted for
 * @param inputs drawn columns with the law's variables at their means
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
  const chances = createChances(plan, offset, weights, workspace, windows);
  const { values } = chances;
  const sums = new Float64Array(values.length);
  const shiftSums = new Float64Array(shiftsMm.length);
  const spreadSums = new Float64Array(offset.spreadLaws.length);
  for (let i = 0; i < count; i += 1) {
    chances.read(i);
    for (let q = 0; q < values.length; q += 1) sums[q] += values[q];
    const { lowMm, highMm } = chances;
    if (!(lowMm < highMm)) continue;
    for (let j = 0; j < shiftSums.length; j += 1) {
      const shift = shiftsMm[j];
      shiftSums[j] += chanceBetween(offset.law, lowMm - shift, highMm - shift);
    }
    for (let j = 0; j < spreadSums.length; j += 1) spreadSums[j] += chanceBetween(offset.spreadLaws[j], lowMm, highMm);
  }
  return { count, sums, shiftSums, spreadSums };
}

export const TARGET_PLACE = OUTCOMES.indexOf("target");

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
