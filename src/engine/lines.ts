import type { Workspace } from "../model/columns.ts";
import { evaluateWindows } from "../model/evaluate.ts";
import { OUTCOMES } from "../model/outcome.ts";
import type { ModelPlan } from "../model/plan.ts";
import type { WindowColumns } from "../model/window.ts";
import { createColumns } from "../reliability/limit-function.ts";
import { type Crossings, findCrossings, type LineOptions } from "../reliability/line-crossings.ts";
import { createShareOfAll, shareBelow, type Wanted } from "../reliability/line-shares.ts";
import { conditionalCount, OVERALL, TARGET_PLACE } from "./conditional.ts";
import { createInputs, type DrawPlan } from "./draw.ts";
import { EDGES_PER_STATE, fillEdges, HIGH_EDGE, LOW_EDGE } from "./edges.ts";
import { type ScoreFrame, sumAlong } from "./frame.ts";
import { drawScores, fillSobolScores } from "./scores.ts";
import { countedColumns } from "./tally.ts";

/** Lines end at ± this many standard deviations: 6 in 10^7 units lie beyond, and count as those at the end. */
const REACH_RATIO = 5;

/** Crossings are known so well that no share is off by more than about 1e-6. */
const LINE: LineOptions = { reachRatio: REACH_RATIO, spacingRatio: 1, toleranceRatio: 1e-6, toleranceShare: 5e-7 };

/** Replicates of the points that lines go through are numbered from here. */
const LINE_REPLICATES = 6144;

/** Lines worked on at a time. */
export const LINES_PER_BLOCK = 512;

export interface LineSums {
  readonly sums: Float64Array;
  /** Evaluations of the model. */
  readonly evaluations: number;
  /** Edges on lines by how often they are crossed; the last bin holds more. */
  readonly byCrossings: readonly number[];
}

/** Integrates units along lines through their normal scores, in closed form between the crossings of the edges. */
export interface LineIntegrator {
  /** Lines `first` … of one replicate, at most `LINES_PER_BLOCK`. */
  run(replicate: number, first: number, count: number): LineSums;
}

/**
 * @param frame directions of the scores of everything that is drawn; the lines run along the first
 * @param weights share of duty of each state
 */
export function createLineIntegrator(
  plan: ModelPlan,
  draw: DrawPlan,
  frame: ScoreFrame,
  weights: readonly number[],
  workspace: Workspace,
  windows: WindowColumns,
  options: LineOptions = LINE,
): LineIntegrator {
  const [direction, ...rest] = frame.axes;
  const states = countedColumns(windows);
  const inputs = createInputs(draw, workspace.size);
  const edges = states.length * EDGES_PER_STATE;
  const limits = (scores: readonly Float64Array[], out: readonly Float64Array[], count: number) => {
    for (let first = 0; first < count; first += workspace.size) {
      const size = Math.min(workspace.size, count - first);
      const part = (column: Float64Array) => column.subarray(first, first + size);
      drawScores(draw, scores.map(part), inputs, size);
      evaluateWindows(plan, inputs, size, workspace, windows);
      fillEdges(states, workspace.machinedOffsetMm, size, out.map(part));
    }
  };
  const along = createColumns(rest.length, LINES_PER_BLOCK);
  const feet = createColumns(draw.drawn.length, LINES_PER_BLOCK);
  return {
    run(replicate, first, count) {
      fillSobolScores(draw, LINE_REPLICATES + replicate, first, count, along);
      feet.forEach((foot, j) => {
        sumAlong(rest, along, j, foot, count);
      });
      const crossings = findCrossings(limits, edges, { direction, feet, count }, options);
      return { ...addUp(plan, crossings, weights, states.length), evaluations: crossings.evaluations };
    },
  };
}

/** Shares of a block of lines, in the order of `conditionalCount`. */
function addUp(
  plan: ModelPlan,
  crossings: Crossings,
  weights: readonly number[],
  states: number,
): Omit<LineSums, "evaluations"> {
  const outcomes = OUTCOMES.length;
  const benchIndex = plan.states.findIndex((state) => state.isBench);
  const overall = states * outcomes;
  const values = new Float64Array(conditionalCount(plan));
  const sums = new Float64Array(values.length);
  const below = new Float64Array(EDGES_PER_STATE);
  const wanted: Wanted[] = Array.from({ length: states }, (_, s) => s * EDGES_PER_STATE).flatMap((edge) => [
    { limit: edge + LOW_EDGE, isBelow: false },
    { limit: edge + HIGH_EDGE, isBelow: true },
  ]);
  const goodOf = createShareOfAll(crossings, wanted);
  for (let line = 0; line < crossings.count; line += 1) {
    let averaged = 0;
    for (let s = 0; s < states; s += 1) {
      for (let e = 0; e < EDGES_PER_STATE; e += 1) below[e] = shareBelow(crossings, line, s * EDGES_PER_STATE + e);
      const start = s * outcomes;
      for (let e = 1; e < EDGES_PER_STATE; e += 1) values[start + e - 1] = Math.max(0, below[e] - below[e - 1]);
      values[start + outcomes - 1] = 1 - below[EDGES_PER_STATE - 1] + below[0];
      if (s < weights.length) averaged += weights[s] * values[start + TARGET_PLACE];
    }
    const good = goodOf(line);
    const benchGood = values[benchIndex * outcomes + TARGET_PLACE];
    values[overall + OVERALL.good] = good;
    values[overall + OVERALL.bench] = 1 - benchGood;
    values[overall + OVERALL.service] = benchGood - good;
    values[overall + OVERALL.averaged] = averaged;
    for (let q = 0; q < values.length; q += 1) sums[q] += values[q];
  }
  return { sums, byCrossings: crossings.byCrossings };
}
