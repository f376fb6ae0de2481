import { compileDraw, createInputs } from "../../engine/draw.ts";
import { drawScores } from "../../engine/scores.ts";
import { countedColumns } from "../../engine/tally.ts";
import { openKernel } from "../../kernel/open.ts";
import { createWorkspace, type StateColumns } from "../../model/columns.ts";
import { evaluateBlock } from "../../model/evaluate.ts";
import { createWindowColumns, type StateWindowColumns, type WindowColumns } from "../../model/window.ts";
import { BLOCK_SIZE } from "../../random/streams.ts";
import type { LimitFunction } from "../../reliability/limit-function.ts";
import type { YieldSetup } from "../yield.ts";
import type { Edge, Way } from "./ends.ts";

/** Evaluated units as the edges of an event look at them, one entry a counted state. */
export interface Sight {
  readonly states: readonly StateColumns[];
  readonly windows: readonly StateWindowColumns[];
  readonly machinedMm: Float64Array;
}

/** Units from normal scores, and what is asked of them. */
export interface Model {
  /** Drawn variables: one score each. */
  readonly dimensions: number;
  readonly states: number;
  /** Below 0 exactly where a unit is in one of the ways; how far, by the nearest way. */
  limit(ways: readonly Way[]): LimitFunction;
  /** -1 exactly where a unit is in one of the ways, else 1: the same sides without the work of telling how far. */
  sides(ways: readonly Way[]): LimitFunction;
  /** How far one edge is, whatever else holds. */
  edge(edge: Edge): LimitFunction;
}

/** The least that a unit is off a limit, so that its side can be told, mm. */
const LEAST_MM = 1e-15;

/** The model as a function of standard normal scores. */
export function createModel({ scenario, plan, kernel: choice }: YieldSetup): Model {
  const kernel = openKernel(choice);
  const draw = compileDraw(scenario, kernel);
  const inputs = createInputs(draw, BLOCK_SIZE);
  const workspace = createWorkspace(plan, BLOCK_SIZE, kernel);
  const windows = createWindowColumns(plan, BLOCK_SIZE, kernel);
  const sight: Sight = {
    states: countedColumns(workspace),
    windows: countedColumns(windows),
    machinedMm: workspace.machinedOffsetMm,
  };
  const evaluate = (
    scores: readonly Float64Array[],
    out: Float64Array,
    count: number,
    value: (i: number) => number,
    edges: WindowColumns | null = windows,
  ) => {
    for (let first = 0; first < count; first += BLOCK_SIZE) {
      const size = Math.min(BLOCK_SIZE, count - first);
      const part = count <= BLOCK_SIZE ? scores : scores.map((column) => column.subarray(first, first + size));
      drawScores(draw, part, inputs, size);
      evaluateBlock(plan, inputs, size, workspace, edges);
      for (let i = 0; i < size; i += 1) out[first + i] = value(i);
    }
  };
  return {
    dimensions: draw.drawn.length,
    states: sight.states.length,
    limit: (ways) => (scores, out, count) => evaluate(scores, out, count, (i) => nearest(ways, sight, i)),
    sides: (ways) => {
      const side = (i: number) => (ways.some(({ holds }) => holds(sight, i)) ? -1 : 1);
      return (scores, out, count) => evaluate(scores, out, count, side, null);
    },
    edge: (edge) => (scores, out, count) => evaluate(scores, out, count, (i) => edge.of(sight, i)),
  };
}

/** The edges say how far, the classes of the model on which side: that alone decides. */
function nearest(ways: readonly Way[], sight: Sight, i: number): number {
  let least = Number.POSITIVE_INFINITY;
  let isIn = false;
  for (const { edges, besides, holds } of ways) {
    let worst = Number.NEGATIVE_INFINITY;
    for (const edge of edges) worst = Math.max(worst, edge.of(sight, i));
    for (const edge of besides) worst = Math.max(worst, edge.of(sight, i));
    least = Math.min(least, worst);
    isIn ||= holds(sight, i);
  }
  const off = Math.max(LEAST_MM, Math.abs(least));
  return isIn ? -off : off;
}
