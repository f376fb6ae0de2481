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
      const { port1, port2 } = new MessageChannel();
      try {
        for (let place = 0; place < tasks.length; place += 1) {
          onResult(place, runner.runTask(tasks.at(place)!).result);
          // A message comes behind what waits already, and at once: a timer would wait for a millisecond or four.
          await new Promise<void>((resolve) => {
            port1.onmessage = () => resolve();
            port2.postMessage(null);
          });
        }
      } finally {
        port1.close();
      }
    },
    async collect() {
      return [runner.collect()];
    },
    async close() {},
  };
}
