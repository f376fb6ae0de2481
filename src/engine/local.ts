import { createRunner, type Runner } from "./runner.ts";
import type { Executor, WorkerSetup } from "./tasks.ts";
import { giveWay } from "./turns.ts";

/**
 * Runs tasks in this thread, giving way between them so that progress and interruption get their turn. The same results
 * to the bit as a pool of workers.
 */
export function createLocalExecutor(setup: WorkerSetup): Executor {
  return executorOf(createRunner(setup));
}

/** @param pause waited for between two tasks; what it throws ends the run */
export function executorOf(runner: Runner, pause: () => Promise<void> = giveWay): Executor {
  return {
    workers: 1,
    async run(tasks, onResult) {
      for (let place = 0; place < tasks.length; place += 1) {
        onResult(place, runner.runTask(tasks.at(place)!).result);
        await pause();
      }
    },
    async collect() {
      return [runner.collect()];
    },
    async close() {},
  };
}
