import type { StateColumns, Workspace } from "../model/columns.ts";
import { evaluateBlock } from "../model/evaluate.ts";
import type { ModelPlan } from "../model/plan.ts";
import { BLOCK_SIZE } from "../random/streams.ts";
import { addBinnedOutput, emptyBinnedOutput } from "../stats/sensitivity.ts";
import { type DrawPlan, drawBlock } from "./draw.ts";
import { countedColumns } from "./tally.ts";
import type { ContributorsResult, Variation } from "./tasks.ts";

/** Equiprobable bins of a variable for its first-order share of the variance of the preload. */
const SENSITIVITY_BINS = 32;

/**
 * Looks at one block for what drives the result: bins the preload of every state over every drawn variable, and evaluates
 * the same units again with the quantities of each variation frozen.
 */
export function runContributors(
  plan: ModelPlan,
  draw: DrawPlan,
  variations: readonly Variation[],
  block: number,
  count: number,
  inputs: Float64Array[],
  workspace: Workspace,
): ContributorsResult {
  const uniforms = inputs.map(() => new Float64Array(BLOCK_SIZE));
  drawBlock(draw, block, inputs, count, uniforms);
  evaluateBlock(plan, inputs, count, workspace);
  const states = countedColumns(workspace);
  const bins = states.map((state) =>
    draw.drawn.map(({ index }) => {
      const binned = emptyBinnedOutput(SENSITIVITY_BINS);
      addBinnedOutput(binned, uniforms[index], state.preloadN, count);
      return binned;
    }),
  );
  const wasGood = new Uint8Array(count);
  markGood(states, count, wasGood);
  const isGood = new Uint8Array(count);
  const gained = new Float64Array(variations.length);
  const lost = new Float64Array(variations.length);
  workspace.kernel.scoped(() => {
    const varied = inputs.slice();
    const frozen = new Map<number, Float64Array>();
    variations.forEach((variation, place) => {
      for (const { variable, value } of variation.replacements) {
        const column = frozen.get(variable) ?? workspace.kernel.column(BLOCK_SIZE);
        column.fill(value);
        frozen.set(variable, column);
        varied[variable] = column;
      }
      evaluateBlock(plan, varied, count, workspace);
      markGood(countedColumns(workspace), count, isGood);
      for (let i = 0; i < count; i += 1) {
        if (isGood[i] > wasGood[i]) gained[place] += 1;
        else if (isGood[i] < wasGood[i]) lost[place] += 1;
      }
      for (const { variable } of variation.replacements) varied[variable] = inputs[variable];
    });
  });
  let base = 0;
  for (let i = 0; i < count; i += 1) base += wasGood[i];
  return { kind: "contributors", count, base, gained, lost, bins };
}

function markGood(states: readonly StateColumns[], count: number, out: Uint8Array): void {
  out.fill(1, 0, count);
  for (const { good } of states) for (let i = 0; i < count; i += 1) if (good[i] === 0) out[i] = 0;
}
