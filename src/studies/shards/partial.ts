import { joinCollected } from "../../engine/collected.ts";
import type { Progress } from "../../engine/run.ts";
import type { Collected, Executor, TaskResult } from "../../engine/tasks.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import type { Provenance } from "../result.ts";
import { type Maker, provenanceOf, type YieldSetup } from "../yield.ts";
import { type ShardPlace, shardTasks, taskKey } from "./plan.ts";

/** What one shard of a study found: enough to be joined with the others to exactly what a single run finds. */
export interface ShardPartial extends ShardPlace {
  readonly provenance: Provenance;
  /** Rows that the study keeps, from the first. */
  readonly keepRows: number;
  readonly scenario: ResolvedScenario;
  /** Whole-number counts over the chunks of this shard. */
  readonly collected: Collected;
  /** Keys of the tasks done, and what each gave. */
  readonly keys: readonly string[];
  readonly result: (key: string) => TaskResult;
}

export interface ShardOptions extends ShardPlace {
  readonly keepRows: number;
  readonly maker: Maker;
  readonly onProgress: Progress;
}

/** Runs the tasks of one shard. `executor` is set up with the same `setup`. */
export async function runShard(setup: YieldSetup, executor: Executor, options: ShardOptions): Promise<ShardPartial> {
  const { scenario } = setup;
  const { shard, shards, keepRows, maker, onProgress } = options;
  const tasks = shardTasks(setup, keepRows, { shard, shards });
  const results = new Map<string, TaskResult>();
  let done = 0;
  await executor.run(tasks, (place, result) => {
    results.set(taskKey(tasks[place]), result);
    if (result.kind !== "chunk") return;
    done += result.count;
    onProgress(done, Math.ceil(scenario.samples / shards));
  });
  const collected = joinCollected(await executor.collect());
  return {
    provenance: provenanceOf(scenario, maker),
    shard,
    shards,
    keepRows,
    scenario,
    collected,
    keys: tasks.map(taskKey),
    result: (key) => results.get(key)!,
  };
}
