import { createRunner } from "./runner.ts";
import type { Executor, WorkerSetup } from "./tasks.ts";

/**
 * Runs tasks in this thread, giving way between them so that progress and interruption get their turn. The same results
 * to the bit as a pool of workers.
 */
export function createLocalExecutor(setup: WorkerSetup): Executor {
  const runner = createRunner(setup);
  return {
    workers: 1,
    async run(tasks, onResult) {
      for (let place = 0; place < tasks.length; place += 1) {
        onResult(place, runner.runTask(tasks.at(place)!).result);
        await new Promise((resolve) => setTimeout(resolve, 0));
      }
    },
    async collect() {
      return [runner.collect()];
    },
    async close() {},
  };
}
