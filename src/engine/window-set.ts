import { mean } from "../distributions/moments.ts";
import { createWorkspace } from "../model/columns.ts";
import { evaluateWindows } from "../model/evaluate.ts";
import type { ModelPlan } from "../model/plan.ts";
import { createWindowColumns } from "../model/window.ts";
import { BLOCK_SIZE } from "../random/streams.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { compileDraw, compileSobol, createInputs, drawSobolBlock } from "./draw.ts";
import type { OffsetLaw } from "./offset-law.ts";
import { chanceBetween, type OffsetTable } from "./offset-table.ts";
import { countedColumns } from "./tally.ts";

/**
 * Acceptance windows of units drawn without their own offset, kept so that any other nominal and any other spread of the
 * offset can be judged on the same units without drawing again.
 *
 * Ends are deviations of the offset from its mean, mm, as the law of the offset counts them; `low >= high` is a unit that
 * nothing makes good. Points of a replicate stand behind one another.
 */
export interface WindowSet {
  readonly replicates: number;
  readonly pointsPerReplicate: number;
  /** Intersection over all counted states. */
  readonly lowMm: Float64Array;
  readonly highMm: Float64Array;
  /** Per counted state. */
  readonly states: readonly { readonly lowMm: Float64Array; readonly highMm: Float64Array }[];
  /** Which of them is the bench. */
  readonly bench: number;
  /** Mean machined offset, mm: what the deviations are counted from. */
  readonly meanOffsetMm: number;
}

/**
 * Draws scrambled Sobol' points of everything but the offset's own quantities and keeps their windows.
 *
 * @param points a replicate, a power of two
 */
export function collectWindows(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  law: OffsetLaw,
  replicates: number,
  points: number,
): WindowSet {
  const draw = compileDraw(scenario);
  const block = Math.min(BLOCK_SIZE, points);
  const sobol = compileSobol(draw, law.variables);
  const inputs = createInputs(draw, block);
  for (const index of law.variables) inputs[index].fill(mean(scenario.variables[index].distribution));
  const workspace = createWorkspace(plan, block);
  const windows = createWindowColumns(plan, block);
  const columns = countedColumns(windows);
  const total = replicates * points;
  const lowMm = new Float64Array(total).fill(Number.NEGATIVE_INFINITY);
  const highMm = new Float64Array(total).fill(Number.POSITIVE_INFINITY);
  const states = columns.map(() => ({ lowMm: new Float64Array(total), highMm: new Float64Array(total) }));
  for (let replicate = 0; replicate < replicates; replicate += 1) {
    for (let first = 0; first < points; first += block) {
      drawSobolBlock(draw, sobol, replicate, first, inputs, block);
      evaluateWindows(plan, inputs, block, workspace, windows);
      const start = replicate * points + first;
      for (let s = 0; s < columns.length; s += 1) {
        const scale = law.stateScale[s];
        const from = columns[s];
        const into = states[s];
        for (let i = 0; i < block; i += 1) {
          const machined = workspace.machinedOffsetMm[i];
          const low = (from.lowMm[i] - machined) / scale;
          const high = (from.highMm[i] - machined) / scale;
          const place = start + i;
          into.lowMm[place] = low;
          into.highMm[place] = high;
          if (low > lowMm[place]) lowMm[place] = low;
          if (high < highMm[place]) highMm[place] = high;
        }
      }
    }
  }
  return {
    replicates,
    pointsPerReplicate: points,
    lowMm,
    highMm,
    states,
    bench: plan.states.findIndex((state) => state.isBench),
    meanOffsetMm: workspace.machinedOffsetMm[0],
  };
}

/**
 * Mean chance, one a replicate, that the offset lies in the windows.
 *
 * @param shiftMm how far the nominal offset is moved
 */
export function windowChances(
  windows: WindowSet,
  ends: { readonly lowMm: Float64Array; readonly highMm: Float64Array },
  law: OffsetTable,
  shiftMm = 0,
): Float64Array {
  const { replicates, pointsPerReplicate } = windows;
  const { lowMm, highMm } = ends;
  const means = new Float64Array(replicates);
  for (let replicate = 0; replicate < replicates; replicate += 1) {
    let sum = 0;
    const start = replicate * pointsPerReplicate;
    for (let place = start; place < start + pointsPerReplicate; place += 1) {
      if (lowMm[place] < highMm[place]) sum += chanceBetween(law, lowMm[place] - shiftMm, highMm[place] - shiftMm);
    }
    means[replicate] = sum / pointsPerReplicate;
  }
  return means;
}
