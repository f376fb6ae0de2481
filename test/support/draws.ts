import type { Distribution } from "../../src/distributions/types.ts";
import { compileDraw, createInputs, type DrawPlan, drawBlock } from "../../src/engine/draw.ts";
import { BLOCK_SIZE } from "../../src/random/streams.ts";

/** A list of variables to draw, without a bearing anywhere. `SEATSPREAD_TEST_SEED` sweeps other seeds. */
export function drawPlan(
  distributions: Readonly<Record<string, Distribution>>,
  options: { readonly matrix?: readonly number[]; readonly batchShare?: number } = {},
): DrawPlan {
  const names = Object.keys(distributions);
  return compileDraw({
    seed: process.env.SEATSPREAD_TEST_SEED ?? "statistical checks",
    variables: names.map((name) => ({
      name,
      distribution: distributions[name],
      batchShare: options.batchShare ?? 0,
    })),
    correlations:
      options.matrix === undefined ? [] : [{ variables: names.map((_, index) => index), matrix: options.matrix }],
  });
}

/** A function of the drawn variables over `samples` units. */
export function drawValues(plan: DrawPlan, samples: number, value: (row: readonly number[]) => number): Float64Array {
  const inputs = createInputs(plan, BLOCK_SIZE);
  const values = new Float64Array(samples);
  const row = new Array<number>(plan.variableCount);
  for (let first = 0; first < samples; first += BLOCK_SIZE) {
    const count = Math.min(BLOCK_SIZE, samples - first);
    drawBlock(plan, first / BLOCK_SIZE, inputs, count);
    for (let i = 0; i < count; i += 1) {
      for (let index = 0; index < row.length; index += 1) row[index] = inputs[index][i];
      values[first + i] = value(row);
    }
  }
  return values;
}
