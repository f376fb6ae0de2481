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
      const turns = openTurns();
      try {
        for (let place = 0; place < tasks.length; place += 1) {
          onResult(place, runner.runTask(tasks.at(place)!).result);
          await turns.next();
        }
      } finally {
        turns.close();
      }
    },
    async collect() {
      return [runner.collect()];
    },
    async close() {},
  };
}

/**
 * Turns of the event loop: what waits already comes first, and the next one at once, where a timer would wait for a millisecond
 * or four. Node hands over a thousand messages of a channel before it hears a signal, so it takes its own way.
 */
function openTurns(): { next(): Promise<void>; close(): void } {
  if (typeof setImmediate === "function") {
    return { next: () => new Promise((resolve) => setImmediate(resolve)), close() {} };
  }
  const { port1, port2 } = new MessageChannel();
  return {
    next: () =>
      new Promise((resolve) => {
        port1.onmessage = () => resolve();
        port2.postMessage(null);
      }),
    close: () => port1.close(),
  };
}
