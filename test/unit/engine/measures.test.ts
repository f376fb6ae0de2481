import { expect, test } from "vitest";
import { compileDraw, createInputs, drawBlock } from "../../../src/engine/draw.ts";
import { createMeasures } from "../../../src/engine/measures.ts";
import { countedColumns } from "../../../src/engine/tally.ts";
import { createFastKernel } from "../../../src/kernel/fast.ts";
import { PLAIN_KERNEL } from "../../../src/kernel/plain.ts";
import { createWorkspace } from "../../../src/model/columns.ts";
import { evaluateBlock } from "../../../src/model/evaluate.ts";
import { compilePlan } from "../../../src/model/plan.ts";
import { BLOCK_SIZE } from "../../../src/random/streams.ts";
import { linearHistogramCount } from "../../../src/stats/histogram.ts";
import { compiledKernel } from "../../support/kernel.ts";
import { shipped } from "../../support/shipped.ts";

const scenario = shipped("laminating-roller.yaml");
const plan = compilePlan(scenario);

test.each([
  ["plain", PLAIN_KERNEL],
  ["fast", createFastKernel(compiledKernel())],
])(
  "%s kernel: a value beyond the first block's range, and a preload that is no number, are counted and not lost",
  (_, kernel) => {
    const draw = compileDraw(scenario, kernel);
    const inputs = createInputs(draw, BLOCK_SIZE);
    const workspace = createWorkspace(plan, BLOCK_SIZE, kernel);
    drawBlock(draw, 0, inputs, BLOCK_SIZE);
    evaluateBlock(plan, inputs, BLOCK_SIZE, workspace);
    const states = countedColumns(workspace);
    const measures = createMeasures(kernel, states);
    const moments = measures.startMoments();
    states[0].offsetMm[5] = 7;
    states[1].preloadN[3] = Number.POSITIVE_INFINITY;
    const [largest] = states[2].preloadN.toSorted().reverse();
    measures.addBlock(states, BLOCK_SIZE, moments);
    const [bench, warm, hot] = measures.histograms();
    expect(linearHistogramCount(bench.offsetMm)).toBe(BLOCK_SIZE);
    expect(bench.offsetMm.over).toBe(1);
    expect(bench.offsetMm.max).toBe(7);
    expect(warm.preloadN.notFinite).toBe(1);
    expect(warm.preloadN.zeros + warm.preloadN.counts.reduce((sum, count) => sum + count, 0)).toBe(BLOCK_SIZE - 1);
    expect(hot.preloadN.notFinite).toBe(0);
    expect(hot.preloadN.max).toBe(largest);
  },
);
