import { BLOCK_SIZE } from "../random/streams.ts";
import { mergeBinnedOutput } from "../stats/sensitivity.ts";
import type { KeptRows } from "./kept.ts";
import { type MeasureMoments, mergeMeasures } from "./measures.ts";
import {
  type BatchesResult,
  BLOCKS_PER_CHUNK,
  type ContributorsResult,
  type Executor,
  type ExtendedBlockResult,
  type Task,
  type TaskList,
  type TaskResult,
} from "./tasks.ts";

/** Called as samples are done; `total` is the whole run's. */
export type Progress = (done: number, total: number) => void;

export const CHUNK_SIZE = BLOCK_SIZE * BLOCKS_PER_CHUNK;

/** The chunks of units `from` to `samples`; `from` is a multiple of `CHUNK_SIZE`. */
export function chunkTasks(from: number, samples: number, keepRows: number): TaskList {
  const firstChunk = from / CHUNK_SIZE;
  return {
    length: Math.ceil(samples / CHUNK_SIZE) - firstChunk,
    at: (place): Task => ({ kind: "chunk", chunk: firstChunk + place, samples, keepRows }),
  };
}

/**
 * Runs units `from` to `samples` in chunks and folds the results in the order of the chunks, so that they do not depend on
 * the number of workers.
 *
 * @param from whole chunks that are already done, in samples: a multiple of `CHUNK_SIZE`
 * @param earlier moments of those, added to; null when nothing is done yet
 * @param keepRows rows below this index are handed to `onRows`, in order
 * @returns moments of every quantity; the whole-number counts stay with the executor until `collect`
 */
export async function runSamples(
  executor: Executor,
  from: number,
  samples: number,
  earlier: MeasureMoments | null,
  keepRows: number,
  onRows: (rows: KeptRows) => void,
  onProgress: Progress,
): Promise<MeasureMoments> {
  let moments = earlier;
  let done = from;
  await runInOrder(executor, chunkTasks(from, samples, keepRows), (result) => {
    if (result.kind !== "chunk") return;
    if (moments === null) moments = result.moments;
    else mergeMeasures(moments, result.moments);
    for (const rows of result.kept) onRows(rows);
    done += result.count;
    onProgress(done, samples);
  });
  return moments!;
}

/** Runs tasks and hands their results over in the order of the tasks. */
export async function runInOrder(
  executor: Executor,
  tasks: TaskList,
  onResult: (result: TaskResult, place: number) => void,
): Promise<void> {
  const waiting = new Map<number, TaskResult>();
  let next = 0;
  await executor.run(tasks, (place, result) => {
    waiting.set(place, result);
    for (let ready = waiting.get(next); ready !== undefined; ready = waiting.get(next)) {
      waiting.delete(next);
      onResult(ready, next);
      next += 1;
    }
  });
}

/** The blocks of the first `samples` units, to look for causes on. */
export function contributorTasks(samples: number): Task[] {
  const tasks: Task[] = [];
  for (let block = 0; block * BLOCK_SIZE < samples; block += 1) {
    tasks.push({ kind: "contributors", block, count: Math.min(BLOCK_SIZE, samples - block * BLOCK_SIZE) });
  }
  return tasks;
}

/** Runs the contributors' tasks over the first `samples` units and adds them up in order. */
export async function runContributorTasks(executor: Executor, samples: number): Promise<ContributorsResult> {
  let sum: ContributorsResult | null = null;
  await runInOrder(executor, contributorTasks(samples), (result) => {
    if (result.kind === "contributors") sum = sum === null ? result : addContributors(sum, result);
  });
  return sum!;
}

function addContributors(a: ContributorsResult, b: ContributorsResult): ContributorsResult {
  a.bins.forEach((row, state) => {
    row.forEach((binned, place) => {
      mergeBinnedOutput(binned, b.bins[state][place]);
    });
  });
  const add = (x: Float64Array, y: Float64Array) => x.map((value, index) => value + y[index]);
  return {
    kind: "contributors",
    count: a.count + b.count,
    base: a.base + b.base,
    gained: add(a.gained, b.gained),
    lost: add(a.lost, b.lost),
    bins: a.bins,
  };
}

/** The blocks of the first `samples` units, for the extended outputs. */
export function extendedTasks(samples: number): Task[] {
  const tasks: Task[] = [];
  for (let first = 0; first < samples; first += BLOCK_SIZE) {
    tasks.push({ kind: "extended", block: first / BLOCK_SIZE, count: Math.min(BLOCK_SIZE, samples - first) });
  }
  return tasks;
}

/** Runs the extended task over the first `samples` units; results in order. */
export async function runExtendedTasks(executor: Executor, samples: number): Promise<ExtendedBlockResult[]> {
  const parts: ExtendedBlockResult[] = [];
  await runInOrder(executor, extendedTasks(samples), (result) => {
    if (result.kind === "extended") parts.push(result);
  });
  return parts;
}

/** Whole batches, as many to a task as make a chunk's units. */
export function batchTasks(batches: number, size: number): Task[] {
  const perTask = Math.max(1, Math.floor(CHUNK_SIZE / size));
  const tasks: Task[] = [];
  for (let first = 0; first < batches; first += perTask) {
    tasks.push({ kind: "batches", firstBatch: first, batches: Math.min(perTask, batches - first), size });
  }
  return tasks;
}

/** Draws `batches` whole batches of `size` units and returns their counts, one entry a batch, in order. */
export async function runBatchTasks(executor: Executor, batches: number, size: number): Promise<BatchesResult> {
  const parts: BatchesResult[] = [];
  await runInOrder(executor, batchTasks(batches, size), (result) => {
    if (result.kind === "batches") parts.push(result);
  });
  const join = (pick: (part: BatchesResult) => Float64Array) =>
    Float64Array.from(parts.flatMap((part) => Array.from(pick(part))));
  return {
    kind: "batches",
    good: join((part) => part.good),
    benchFailures: join((part) => part.benchFailures),
    serviceFailures: join((part) => part.serviceFailures),
  };
}
