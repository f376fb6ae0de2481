import type { StateColumns, Workspace } from "../model/columns.ts";
import { evaluateBlock } from "../model/evaluate.ts";
import { ExtendedEvaluator, type ExtendedValues } from "../model/extended.ts";
import { EXTENDED_COLUMNS, type ExtendedPlan } from "../model/extended-plan.ts";
import type { ModelPlan } from "../model/plan.ts";
import { type DrawPlan, drawBlock } from "./draw.ts";
import { countedColumns, createTally, tallyBlock } from "./tally.ts";
import type { ExtendedBlockResult } from "./tasks.ts";

/** Works out one block beyond the preload, and counts its units with the requirements on that as well. */
export function runExtended(
  plan: ModelPlan,
  extended: ExtendedPlan,
  draw: DrawPlan,
  task: { readonly block: number; readonly count: number },
  inputs: readonly Float64Array[],
  workspace: Workspace,
): ExtendedBlockResult {
  const { block, count } = task;
  drawBlock(draw, block, inputs, count);
  evaluateBlock(plan, inputs, count, workspace);
  const evaluator = new ExtendedEvaluator(plan, extended);
  const states = countedColumns(workspace);
  const values = states.map((state, place) => {
    const index = place < plan.states.length ? place : 0;
    const out: ExtendedValues = EXTENDED_COLUMNS.map(() => new Float64Array(count));
    evaluator.fill(index, place, inputs, count, workspace, state, out);
    narrowGood(extended, index, count, out, state);
    return out;
  });
  const tally = createTally(states.length);
  const benchIndex = plan.states.findIndex((state) => state.isBench);
  tallyBlock(workspace.kernel, tally, states, benchIndex, count);
  return { kind: "extended", count, values, tally, unsolved: evaluator.unsolved };
}

/** Takes the good mark off units that miss a requirement on what was worked out here. */
function narrowGood(
  extended: ExtendedPlan,
  index: number,
  count: number,
  values: ExtendedValues,
  { good, met }: StateColumns,
): void {
  if (extended.requirements.length > 0) met.fill(0, count);
  for (const { bit, columns, holds, low, high } of extended.requirements) {
    if (!holds[index]) continue;
    for (let i = 0; i < count; i += 1) {
      const isMet = columns.every((column) => values[column][i] >= low && values[column][i] <= high);
      if (isMet) met[i] |= bit;
      else good[i] = 0;
    }
  }
}
