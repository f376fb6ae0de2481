import { joinCollected } from "../../engine/collected.ts";
import { runInOrder } from "../../engine/run.ts";
import type { Collected, Executor, TaskList, TaskResult } from "../../engine/tasks.ts";
import { giveWay } from "../../engine/turns.ts";
import { taskKey } from "../shards/plan.ts";

/** What an interrupted run has done: the results of its tasks in order, and the whole-number counts over them. */
export interface Recorded {
  readonly collected: Collected;
  /** The next task that was done; null behind the last. */
  next(): { readonly key: string; readonly result: TaskResult } | null;
  /** The record does not go with the tasks of this run: never returns. */
  refuse(got: string): never;
}

/** Where what is done is kept for a run that goes on later. */
export interface Recorder {
  /** How often to keep what is done, milliseconds. */
  readonly everyMs: number;
  /** A clock. It decides when something is kept and no number. */
  nowMs(): number;
  append(key: string, result: TaskResult): void;
  /** All that was appended counts from now on; `collected` holds the counts over it. */
  keep(collected: Collected): void;
}

/** Tasks a worker before anybody knows how long they take. */
const FIRST_LEG = 8;

/** Recorded tasks that are handed over before others get a turn. */
const TURN = 256;

/**
 * An executor that hands over what an interrupted run has done, has the rest done, and records that in turn. Tasks are
 * done in legs, each of them whole before the counts are asked for, so that results and counts are of the same tasks. A
 * study folds the same results in the same order as without it: it is the same to the bit.
 *
 * @param inner set up for the same scenario; it has done nothing yet
 */
export function recordingExecutor(inner: Executor, recorded: Recorded | null, recorder: Recorder): Executor {
  let waiting = recorded?.next() ?? null;
  let keptMs = recorder.nowMs();
  const collect = async () => [...(recorded === null ? [] : [recorded.collected]), ...(await inner.collect())];

  /** @returns how many tasks had been done */
  const replay = async (tasks: TaskList, onResult: (place: number, result: TaskResult) => void): Promise<number> => {
    let place = 0;
    for (; waiting !== null && place < tasks.length; place += 1) {
      const key = taskKey(tasks.at(place)!);
      if (waiting.key !== key) recorded?.refuse(`"${waiting.key}" where "${key}" belongs`);
      onResult(place, waiting.result);
      waiting = recorded?.next() ?? null;
      if (place % TURN === TURN - 1) await giveWay();
    }
    return place;
  };

  return {
    workers: inner.workers,
    collect,
    close: () => inner.close(),
    async run(tasks, onResult) {
      let done = await replay(tasks, onResult);
      let leg = FIRST_LEG * inner.workers;
      while (done < tasks.length) {
        const first = done;
        const count = Math.min(leg, tasks.length - first);
        const startMs = recorder.nowMs();
        await runInOrder(inner, { length: count, at: (place) => tasks.at(first + place) }, (result, place) => {
          recorder.append(taskKey(tasks.at(first + place)!), result);
          onResult(first + place, result);
        });
        done += count;
        const endMs = recorder.nowMs();
        // Two legs to each time that is kept.
        const wanted = (0.5 * recorder.everyMs * count) / Math.max(endMs - startMs, 1);
        leg = Math.ceil(Math.min(2 * leg, Math.max(wanted, 2 * inner.workers)));
        if (endMs - keptMs < recorder.everyMs) continue;
        recorder.keep(joinCollected(await collect()));
        keptMs = recorder.nowMs();
      }
    },
  };
}
