import { expect, test } from "vitest";
import { compileDraw, createInputs, drawBatchBlock, drawBlock } from "../../../src/engine/draw.ts";
import { createFastKernel } from "../../../src/kernel/fast.ts";
import type { Kernel } from "../../../src/kernel/kernel.ts";
import { PLAIN_KERNEL } from "../../../src/kernel/plain.ts";
import { createWorkspace } from "../../../src/model/columns.ts";
import { evaluateBlock } from "../../../src/model/evaluate.ts";
import { compilePlan } from "../../../src/model/plan.ts";
import { createWindowColumns } from "../../../src/model/window.ts";
import { BLOCK_SIZE } from "../../../src/random/streams.ts";
import type { ResolvedScenario } from "../../../src/scenario/types.ts";
import { compiledKernel } from "../../support/kernel.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

/**
 * The fast kernel against the plain one: every number of every column is the same double. That is more than the 1e-12 that a
 * reader may rely on, and what makes the page and the command line agree.
 */
const FAST = createFastKernel(compiledKernel());

/** The scenario with its seed changed and its normal, truncated and uniform spreads stretched, so that rare branches are met. */
function stretched(scenario: ResolvedScenario, seed: string, factor: number): ResolvedScenario {
  const variables = scenario.variables.map((variable) => {
    const d = variable.distribution;
    // Speeds, viscosities and the like must stay ones that exist.
    if (!["mm", "N", "degC", "K", "1"].includes(variable.unit)) return variable;
    if (d.kind === "normal") return { ...variable, distribution: { ...d, sd: d.sd * factor } };
    if (d.kind !== "truncated-normal" && d.kind !== "uniform") return variable;
    const middle = 0.5 * (d.low + d.high);
    // A conformity must stay above one half.
    const reach = variable.group === "conformity" ? 0.5 * (d.high - d.low) : 0.5 * factor * (d.high - d.low);
    const limits = { low: middle - reach, high: middle + reach };
    return { ...variable, distribution: "sd" in d ? { ...d, ...limits, sd: d.sd * factor } : { ...d, ...limits } };
  });
  return { ...scenario, seed, variables };
}

/** All columns of one block, by name. */
function columnsOf(scenario: ResolvedScenario, kernel: Kernel, block: number, count: number, batch: number | null) {
  const plan = compilePlan(scenario);
  const draw = compileDraw(scenario, kernel);
  return kernel.scoped(() => {
    const inputs = createInputs(draw, BLOCK_SIZE);
    const workspace = createWorkspace(plan, BLOCK_SIZE, kernel);
    const windows = createWindowColumns(plan, BLOCK_SIZE, kernel);
    if (batch === null) drawBlock(draw, block, inputs, count);
    else drawBatchBlock(draw, batch, block, inputs, count);
    evaluateBlock(plan, inputs, count, workspace, windows);
    const found: Record<string, Float64Array | Uint8Array | Uint16Array> = {};
    inputs.forEach((column, index) => {
      found[scenario.variables[index].name] = column.slice(0, count);
    });
    const states = workspace.afterService === null ? workspace.states : [...workspace.states, workspace.afterService];
    for (const [index, state] of states.entries()) {
      const { zoneC, ...columns } = state;
      for (const [name, column] of Object.entries(columns)) found[`${index} ${name}`] = column.slice(0, count);
      for (const [zone, column] of zoneC.entries()) found[`${index} zone ${zone}`] = column.slice(0, count);
    }
    found["machined offset"] = workspace.machinedOffsetMm.slice(0, count);
    found.slip = workspace.slipMm.slice(0, count);
    found["window low"] = windows.lowMm.slice(0, count);
    found["window high"] = windows.highMm.slice(0, count);
    return found;
  });
}

/** The first element that is not the same double, or null. */
function firstDifference(scenario: ResolvedScenario, block: number, count: number, batch: number | null = null) {
  const plain = columnsOf(scenario, PLAIN_KERNEL, block, count, batch);
  const fast = columnsOf(scenario, FAST, block, count, batch);
  expect(Object.keys(fast)).toEqual(Object.keys(plain));
  for (const [name, column] of Object.entries(plain)) {
    const at = column.findIndex((value, index) => !Object.is(value, fast[name][index]));
    if (at >= 0) return { name, at, plain: column[at], fast: fast[name][at] };
  }
  return null;
}

test.each(SHIPPED)("%s: a whole block, and blocks of odd and small lengths", (file) => {
  const scenario = shipped(file);
  for (const [block, count] of [
    [0, BLOCK_SIZE],
    [7, 4095],
    [3, 1],
    [3, 2],
    [5, 1001],
  ] as const) {
    expect(firstDifference(scenario, block, count)).toBeNull();
  }
  expect(firstDifference(scenario, 11, 777, 2)).toBeNull();
});

test.each(SHIPPED)("%s with spreads of 0.1 to 12 times its own", (file) => {
  const scenario = shipped(file);
  for (const factor of [0.1, 3, 6, 12]) {
    expect(firstDifference(stretched(scenario, `stretched ${factor}`, factor), 1, BLOCK_SIZE)).toBeNull();
  }
});

test("columns of another kernel are refused", () => {
  const alien = new Float64Array(8);
  expect(() => FAST.addScaled(alien, alien, 1, 8)).toThrow("another kernel");
});

test("what was allocated in a scope is given back, and new columns are zeros", () => {
  const first = FAST.scoped(() => FAST.column(5).fill(3).byteOffset);
  const again = FAST.column(5);
  expect(again.byteOffset).toBe(first);
  expect(Array.from(again)).toEqual([0, 0, 0, 0, 0]);
});
