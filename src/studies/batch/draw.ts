import { compileDraw, createInputs, drawBatchBlock } from "../../engine/draw.ts";
import { countedColumns } from "../../engine/tally.ts";
import { createWorkspace } from "../../model/columns.ts";
import { evaluateBlock } from "../../model/evaluate.ts";
import { compilePlan } from "../../model/plan.ts";
import { pow } from "../../numeric/elementary.ts";
import { BLOCK_SIZE, DRAW_DOMAIN, fillUniform, variableId } from "../../random/streams.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";

/** Counts of whole batches, one entry a batch. */
export interface DrawnBatches {
  readonly batches: number;
  readonly size: number;
  readonly good: Float64Array;
  readonly benchFailures: Float64Array;
  readonly serviceFailures: Float64Array;
  readonly warrantyFailures: Float64Array;
}

/** Units a batch that are drawn one by one. */
export const LARGEST_DRAWN = 8192;
const MOST_BATCHES = 4000;
const LEAST_BATCHES = 200;

/** As many batches as the scenario's samples make, within reason. */
export function batchCount(samples: number, size: number): number {
  return Math.max(LEAST_BATCHES, Math.min(MOST_BATCHES, Math.floor(samples / size)));
}

/**
 * Draws whole batches, each with what its units share drawn once.
 *
 * A unit fails under warranty when it passes the bench, is not good in some state, and sees that state within the warranty: state s is seen
 * by a share 1 − (1 − q_s)^years of the units, each unit and state drawn for itself. What a ring that walked leaves at the bench is seen
 * by all.
 *
 */
export function drawBatches(scenario: ResolvedScenario, batches: number, size: number): DrawnBatches {
  const plan = compilePlan(scenario);
  const draw = compileDraw(scenario);
  const inputs = createInputs(draw, BLOCK_SIZE);
  const workspace = createWorkspace(plan, BLOCK_SIZE);
  const { seenPerYearRatio, warrantyYears } = scenario.batchPlans;
  const seen = scenario.states.flatMap(({ name, isBench }, index) => {
    const ratio = 1 - pow(1 - seenPerYearRatio[index], warrantyYears);
    return isBench || ratio >= 1
      ? []
      : [{ index, ratio, id: variableId(`batch.seen.${name}`), column: new Float64Array(BLOCK_SIZE) }];
  });
  const bench = plan.states.findIndex(({ isBench }) => isBench);
  const counts = () => new Float64Array(batches);
  const result = {
    batches,
    size,
    good: counts(),
    benchFailures: counts(),
    serviceFailures: counts(),
    warrantyFailures: counts(),
  };
  const blocks = Math.ceil(size / BLOCK_SIZE);
  for (let batch = 0; batch < batches; batch += 1) {
    for (let part = 0; part < blocks; part += 1) {
      const block = batch * blocks + part;
      const count = Math.min(BLOCK_SIZE, size - part * BLOCK_SIZE);
      drawBatchBlock(draw, batch, block, inputs, count);
      evaluateBlock(plan, inputs, count, workspace);
      for (const { id, column } of seen) fillUniform(draw.key, id, block, column, count, DRAW_DOMAIN.batchUnit);
      const states = countedColumns(workspace);
      for (let i = 0; i < count; i += 1) {
        if (states[bench].good[i] !== 1) {
          result.benchFailures[batch] += 1;
          continue;
        }
        let fails = false;
        let comesUp = false;
        for (let s = 0; s < states.length; s += 1) {
          if (s === bench || states[s].good[i] === 1) continue;
          fails = true;
          let isSeen = true;
          for (const { index, ratio, column } of seen) if (index === s && column[i] >= ratio) isSeen = false;
          if (isSeen) comesUp = true;
        }
        if (!fails) result.good[batch] += 1;
        else result.serviceFailures[batch] += 1;
        if (comesUp) result.warrantyFailures[batch] += 1;
      }
    }
  }
  return result;
}
