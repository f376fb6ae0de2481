import type { Workspace } from "../model/columns.ts";
import { evaluateBlock } from "../model/evaluate.ts";
import type { ModelPlan } from "../model/plan.ts";
import { BLOCK_SIZE } from "../random/streams.ts";
import { type DrawPlan, drawBatchBlock } from "./draw.ts";
import { countedColumns, countedStates, createTally, tallyBlock } from "./tally.ts";
import type { BatchesResult } from "./tasks.ts";

/** Draws whole batches, each with its shared spread drawn once, and counts how their units end. */
export function runBatches(
  plan: ModelPlan,
  draw: DrawPlan,
  benchIndex: number,
  task: { readonly firstBatch: number; readonly batches: number; readonly size: number },
  inputs: readonly Float64Array[],
  workspace: Workspace,
): BatchesResult {
  const good = new Float64Array(task.batches);
  const benchFailures = new Float64Array(task.batches);
  const serviceFailures = new Float64Array(task.batches);
  const blocksPerBatch = Math.ceil(task.size / BLOCK_SIZE);
  for (let index = 0; index < task.batches; index += 1) {
    const batch = task.firstBatch + index;
    const tally = createTally(countedStates(plan));
    for (let part = 0; part < blocksPerBatch; part += 1) {
      const count = Math.min(BLOCK_SIZE, task.size - part * BLOCK_SIZE);
      drawBatchBlock(draw, batch, batch * blocksPerBatch + part, inputs, count);
      evaluateBlock(plan, inputs, count, workspace);
      tallyBlock(workspace.kernel, tally, countedColumns(workspace), benchIndex, count);
    }
    good[index] = tally.goodInEveryState;
    benchFailures[index] = tally.failsAtBench;
    serviceFailures[index] = tally.failsInService;
  }
  return { kind: "batches", good, benchFailures, serviceFailures };
}
