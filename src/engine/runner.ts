import { InternalError } from "../errors.ts";
import { openKernel } from "../kernel/open.ts";
import { createWorkspace } from "../model/columns.ts";
import { evaluateBlock } from "../model/evaluate.ts";
import { compileExtended } from "../model/extended-plan.ts";
import { compilePlan, type ModelPlan } from "../model/plan.ts";
import { createWindowColumns } from "../model/window.ts";
import { BLOCK_SIZE } from "../random/streams.ts";
import { runBatches } from "./batches.ts";
import { runContributors } from "./contributors.ts";
import { compileDraw, createInputs, type DrawPlan, drawBlock } from "./draw.ts";
import { runExtended } from "./extended.ts";
import { createIntegrator, type Integrator } from "./integrator.ts";
import { copyRows, type KeptRows } from "./kept.ts";
import { createMeasures } from "./measures.ts";
import { countedColumns, countedStates, createTally, tallyBlock } from "./tally.ts";
import {
  BLOCKS_PER_CHUNK,
  type ChunkResult,
  type Collected,
  type Task,
  type TaskResult,
  type WorkerSetup,
} from "./tasks.ts";

export interface Runner {
  /** Runs one task; `transfer` names the buffers of the result that may move to another thread. */
  runTask(task: Task): { result: TaskResult; transfer: ArrayBuffer[] };
  collect(): Collected;
}

/** What a runner is made of. */
export interface RunnerParts {
  readonly plan: ModelPlan;
  readonly draw: DrawPlan;
  /** Fills the columns of a block with its units: what `drawBlock` draws. */
  readonly fill: (block: number, inputs: readonly Float64Array[], count: number) => void;
  /** Rows of a block that may be kept with their acceptance windows, from the first; all where nothing is said. */
  readonly windowRows?: number;
}

function partsOf({ scenario, kernel }: WorkerSetup): RunnerParts {
  const draw = compileDraw(scenario, openKernel(kernel));
  return {
    plan: compilePlan(scenario),
    draw,
    fill: (block, inputs, count) => drawBlock(draw, block, inputs, count),
  };
}

/**
 * Everything one thread needs to run tasks of a scenario, set up once.
 *
 * @param parts of the same scenario, where they exist already
 */
export function createRunner(setup: WorkerSetup, parts: RunnerParts = partsOf(setup)): Runner {
  const { scenario, variations } = setup;
  const { plan, draw, fill, windowRows = BLOCK_SIZE } = parts;
  const { kernel } = draw;
  const inputs = createInputs(draw, BLOCK_SIZE);
  const workspace = createWorkspace(plan, BLOCK_SIZE, kernel);
  const windows = createWindowColumns(plan, windowRows, kernel);
  const tally = createTally(countedStates(plan));
  const benchIndex = plan.states.findIndex((state) => state.isBench);
  fill(0, inputs, BLOCK_SIZE);
  evaluateBlock(plan, inputs, BLOCK_SIZE, workspace);
  const measures = createMeasures(kernel, countedColumns(workspace));
  const extended = compileExtended(scenario);

  // Not every study integrates; what that takes is set up when first asked for.
  let integrating: Integrator | null = null;
  const integrator = (): Integrator => {
    integrating ??= createIntegrator(setup, plan, draw, workspace, windows);
    return integrating;
  };

  const runChunk = (task: Task & { kind: "chunk" }): ChunkResult => {
    const kept: KeptRows[] = [];
    const moments = measures.startMoments();
    let done = 0;
    for (let index = 0; index < BLOCKS_PER_CHUNK; index += 1) {
      const block = task.chunk * BLOCKS_PER_CHUNK + index;
      const first = block * BLOCK_SIZE;
      const count = Math.min(BLOCK_SIZE, task.samples - first);
      if (count <= 0) break;
      const keep = Math.min(count, task.keepRows - first);
      fill(block, inputs, count);
      evaluateBlock(plan, inputs, count, workspace, keep > 0 ? windows : null);
      const states = countedColumns(workspace);
      tallyBlock(workspace.kernel, tally, states, benchIndex, count);
      measures.addBlock(states, count, moments);
      if (keep > 0) kept.push(copyRows(scenario, plan, inputs, workspace, windows, first, keep));
      done += count;
    }
    return { kind: "chunk", moments, kept, count: done };
  };

  return {
    runTask(task) {
      switch (task.kind) {
        case "chunk": {
          const result = runChunk(task);
          const transfer = result.kept.flatMap((rows) => rows.values.map((column) => column.buffer as ArrayBuffer));
          return { result, transfer };
        }
        case "contributors": {
          const result = runContributors(plan, draw, variations, task.block, task.count, inputs, workspace);
          return { result, transfer: [] };
        }
        case "extended": {
          if (extended === null) throw new InternalError("extended outputs were not asked for");
          const result = runExtended(plan, extended, draw, task, inputs, workspace);
          const transfer = result.values.flatMap((state) => state.map((column) => column.buffer as ArrayBuffer));
          return { result, transfer };
        }
        case "conditional":
          return { result: integrator().overOffset(task), transfer: [] };
        case "lines":
          return { result: integrator().alongLines(task), transfer: [] };
        case "batches":
          return { result: runBatches(plan, draw, benchIndex, task, inputs, workspace), transfer: [] };
      }
    },
    collect: () => ({ tally, histograms: measures.histograms() }),
  };
}
