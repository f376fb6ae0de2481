import { batchTasks, chunkTasks, contributorTasks, extendedTasks } from "../../engine/run.ts";
import type { Task } from "../../engine/tasks.ts";
import { nestedSize } from "../batch-counts.ts";
import { conditionalTasks, FIRST_EXPONENT, FIRST_LINE_EXPONENT, lineTasks } from "../conditional.ts";
import {
  CONTRIBUTOR_UNITS,
  drawsBatches,
  extendedDecides,
  extendedUnits,
  FIGURE_ROWS,
  NESTED_BATCHES,
  type YieldSetup,
} from "../yield.ts";

/** More shards than anybody has machines for. */
export const MOST_SHARDS = 10_000;

/** One of several runs that together do a study: shard 1 to `shards`. */
export interface ShardPlace {
  readonly shard: number;
  readonly shards: number;
}

/** What a task is known by in a partial result. */
export function taskKey(task: Task): string {
  switch (task.kind) {
    case "chunk":
      return `chunk ${task.chunk}`;
    case "contributors":
      return `contributors ${task.block}`;
    case "extended":
      return `extended ${task.block}`;
    case "conditional":
      return `conditional ${task.replicate} ${task.first}`;
    case "lines":
      return `lines ${task.replicate} ${task.first}`;
    case "batches":
      return `batches ${task.firstBatch}`;
  }
}

/**
 * The tasks of one shard: of all tasks of the study, in the order that a single run has them, every `shards`-th. Chunks come
 * first, so that each shard has its share of them within one.
 *
 * @param keepRows rows that the study keeps, from the first
 */
export function shardTasks(setup: YieldSetup, keepRows: number, { shard, shards }: ShardPlace): Task[] {
  const { scenario, offset, lines } = setup;
  const { samples } = scenario;
  const rows = Math.min(samples, Math.max(FIGURE_ROWS, keepRows));
  const tasks: Task[] = [];
  const chunks = chunkTasks(0, samples, rows);
  for (let place = shard - 1; place < chunks.length; place += shards) tasks.push(chunks.at(place)!);
  const others = [
    ...contributorTasks(Math.min(CONTRIBUTOR_UNITS, samples)),
    ...extendedTasks(extendedUnits(scenario)),
    ...(drawsBatches(scenario) ? batchTasks(NESTED_BATCHES, nestedSize(scenario)) : []),
    ...(offset === null || extendedDecides(scenario) ? [] : conditionalTasks(0, 1 << FIRST_EXPONENT)),
    ...(lines === null || extendedDecides(scenario) ? [] : lineTasks(0, 1 << FIRST_LINE_EXPONENT)),
  ];
  others.forEach((task, place) => {
    if ((chunks.length + place) % shards === shard - 1) tasks.push(task);
  });
  return tasks;
}
