import type { Executor } from "../../engine/tasks.ts";
import type { ShardPartial } from "./partial.ts";
import { taskKey } from "./plan.ts";

/**
 * An executor that hands over what shards have already done. A study run on it folds the same parts in the same order as
 * one that works them out, so that its result is the same to the bit. Tasks that no shard has done are worked out here.
 *
 * @param parts checked to be whole (`checkShards`)
 * @param fallback set up for the same scenario; it never sees a chunk, since the parts hold them all
 */
export function mergingExecutor(parts: readonly ShardPartial[], fallback: Executor): Executor {
  const holders = new Map<string, ShardPartial>();
  for (const part of parts) for (const key of part.keys) holders.set(key, part);
  return {
    workers: fallback.workers,
    async run(tasks, onResult) {
      for (let place = 0; place < tasks.length; place += 1) {
        const task = tasks.at(place)!;
        const key = taskKey(task);
        const holder = holders.get(key);
        if (holder === undefined) await fallback.run([task], (_, result) => onResult(place, result));
        else onResult(place, holder.result(key));
      }
    },
    collect: async () => parts.map((part) => part.collected),
    close: () => fallback.close(),
  };
}
