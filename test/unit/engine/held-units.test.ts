import { expect, test } from "vitest";
import { compileDraw, createInputs, drawBlock } from "../../../src/engine/draw.ts";
import { createHeldUnits } from "../../../src/engine/held-units.ts";
import { createRunner } from "../../../src/engine/runner.ts";
import { PLAIN_KERNEL } from "../../../src/kernel/plain.ts";
import { BLOCK_SIZE } from "../../../src/random/streams.ts";
import type { ResolvedScenario } from "../../../src/scenario/types.ts";
import { compiledKernel } from "../../support/kernel.ts";
import { shipped } from "../../support/shipped.ts";

const CORRELATED = {
  correlations: [{ between: ["bearings.a.clearance", "bearings.b.clearance"], coefficient: 0.4 }],
};

/** Changes as a hand makes them one after the other: nominal, tolerance, group, temperature, law, seed, correlation, back. */
const CHANGES: readonly Readonly<Record<string, unknown>>[] = [
  CORRELATED,
  { ...CORRELATED, "chain.shim.length": "0.110 ±0.002" },
  { ...CORRELATED, "chain.shim.length": "0.110 ±0.004" },
  { ...CORRELATED, "bearings.both.clearanceGroup": "C4" },
  { ...CORRELATED, "bearings.a.clearance": "12 ±3 um" },
  { ...CORRELATED, "states.hot.housing": "90 ±6 degC" },
  { ...CORRELATED, "chain.shim.length": { measured: [0.099, 0.1, 0.1, 0.102] } },
  { ...CORRELATED, "chain.shim.length": { measured: [0.099, 0.1, 0.1, 0.102] }, "states.hot.housing": "91 ±6 degC" },
  { ...CORRELATED, "chain.shim.length": { measured: [0.099, 0.1, 0.101, 0.102] } },
  { ...CORRELATED, "chain.shim.length": { measured: [0.099, 0.1, 0.101] } },
  { ...CORRELATED, "chain.shim.length": "0.1" },
  { seed: "another" },
  CORRELATED,
];

const scenarios = CHANGES.map((changes) => shipped("laminating-roller.yaml", { samples: 6000, ...changes }));

function freshColumns(scenario: ResolvedScenario, block: number): Float64Array[] {
  const draw = compileDraw(scenario, PLAIN_KERNEL);
  const inputs = createInputs(draw, BLOCK_SIZE);
  drawBlock(draw, block, inputs, BLOCK_SIZE);
  return inputs;
}

function bytesOf({ buffer, byteOffset, byteLength }: Float64Array): Buffer {
  return Buffer.from(buffer, byteOffset, byteLength);
}

/** Columns byte for byte; numbers that JSON does not know by their names. */
function bitsOf(found: unknown): string {
  return JSON.stringify(found, (_, value) => {
    if (ArrayBuffer.isView(value))
      return Buffer.from(value.buffer, value.byteOffset, value.byteLength).toString("base64");
    return typeof value === "number" && !Number.isFinite(value) ? String(value) : value;
  });
}

test("what is held over from one scenario to the next is what would be drawn for it, to the bit", () => {
  const units = createHeldUnits("plain");
  for (const scenario of scenarios) {
    const { draw, fill } = units.partsOf(scenario);
    for (const block of [0, 3]) {
      const inputs = createInputs(draw, BLOCK_SIZE);
      // A shorter block first: what is held must be whole all the same.
      fill(block, inputs, 100);
      fill(block, inputs, BLOCK_SIZE);
      const differing = freshColumns(scenario, block).flatMap((column, index) =>
        bytesOf(column).equals(bytesOf(inputs[index]!)) ? [] : [scenario.variables[index]!.name],
      );
      expect(differing).toEqual([]);
    }
  }
});

test("one kernel over many scenarios counts what a runner of its own counts", () => {
  const kernel = compiledKernel();
  const units = createHeldUnits(kernel);
  const task = { kind: "chunk", chunk: 0, samples: 6000, keepRows: 500 } as const;
  for (const scenario of scenarios) {
    const setup = { kernel, scenario, offset: null, lines: null, variations: [] };
    const held = createRunner(setup, { ...units.partsOf(scenario), windowRows: 500 });
    const own = createRunner(setup);
    const [one, other] = [held, own].map((runner) => {
      const { result } = runner.runTask(task);
      return { result, ...runner.collect() };
    });
    expect(bitsOf(one) === bitsOf(other)).toBe(true);
  }
});

test("only what a change touches is worked out again", () => {
  const units = createHeldUnits("plain");
  const transforms = scenarios.slice(0, 2).map((scenario) => {
    const { draw } = units.partsOf(scenario);
    return new Map(draw.drawn.map(({ index, transform }) => [scenario.variables[index].name, transform]));
  });
  const [before, after] = transforms as [Map<string, unknown>, Map<string, unknown>];
  const moved = [...after].filter(([name, transform]) => before.get(name) !== transform).map(([name]) => name);
  expect(moved).toEqual(["chain.shim"]);
});
