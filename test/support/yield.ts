import { expect } from "vitest";
import { createLocalExecutor } from "../../src/engine/local.ts";
import { createPool } from "../../src/engine/pool.ts";
import type { ResolvedScenario } from "../../src/scenario/types.ts";
import type { Target } from "../../src/studies/conditional.ts";
import type { SampleTable } from "../../src/studies/result.ts";
import { type Finding, runYield, yieldSetup } from "../../src/studies/yield.ts";
import { compiledKernel } from "./kernel.ts";

/** The bundled worker; `npm test` builds it first. */
const WORKER = new URL("../../.build/worker.js", import.meta.url);

export interface Ran {
  readonly finding: Finding;
  /** The first rows for the figures. */
  readonly samples: SampleTable;
  /** What was kept, put together again. */
  readonly kept: SampleTable;
}

/** Runs a yield study on the compiled kernel: in this thread with `workers` 0, else on as many threads. */
export async function runStudy(
  scenario: ResolvedScenario,
  options: {
    readonly workers?: number;
    readonly keepRows?: number;
    readonly target?: Target | null;
    readonly rare?: boolean;
    readonly isOver?: () => boolean;
  } = {},
): Promise<Ran> {
  const { workers = 0, keepRows = 0 } = options;
  const setup = yieldSetup(scenario, compiledKernel());
  const executor = workers === 0 ? createLocalExecutor(setup) : createPool(setup, workers, WORKER);
  const parts: SampleTable[] = [];
  try {
    const { finding, samples } = await runYield(setup, executor, {
      maker: { version: "test", platform: "test" },
      target: options.target ?? null,
      rare: options.rare,
      isOver: options.isOver ?? (() => false),
      keepRows,
      onRows: (rows) => parts.push(rows),
      onProgress: () => {},
    });
    return { finding, samples, kept: joined(setup.columns.length, parts) };
  } finally {
    await executor.close();
  }
}

function joined(columnCount: number, parts: readonly SampleTable[]): SampleTable {
  const count = parts.reduce((sum, part) => sum + part.count, 0);
  const columns = Array.from({ length: parts.length === 0 ? 0 : columnCount }, (_, place) => {
    const values = new Float64Array(count);
    let first = 0;
    for (const part of parts) {
      values.set(part.columns[place].values, first);
      first += part.count;
    }
    return { ...parts[0].columns[place], values };
  });
  return { count, columns };
}

export function columnOf(table: SampleTable, name: string): SampleTable["columns"][number]["values"] {
  const found = table.columns.find((column) => column.name === name);
  if (found === undefined) throw new Error(`no column ${name}`);
  return found.values;
}

/** Compares tables by their bytes: to the bit, and a hundred times as fast as number by number. */
export function expectSameBits(table: SampleTable, reference: SampleTable): void {
  expect(table.count).toBe(reference.count);
  expect(table.columns.map(({ name }) => name)).toEqual(reference.columns.map(({ name }) => name));
  const differing = reference.columns.filter(({ name, values }) => {
    const other = columnOf(table, name);
    return !Buffer.from(values.buffer, values.byteOffset, values.byteLength).equals(
      Buffer.from(other.buffer, other.byteOffset, other.byteLength),
    );
  });
  expect(differing.map(({ name }) => name)).toEqual([]);
}
