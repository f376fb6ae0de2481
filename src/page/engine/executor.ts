import type { Runner } from "../../engine/runner.ts";
import type { Collected, Executor } from "../../engine/tasks.ts";

/** Thrown through a run whose question has been overtaken by a newer one. */
export class Overtaken extends Error {}

/** An executor that also shows what it has counted, for the preload's distribution over every unit. */
export interface PageExecutor extends Executor {
  readonly collected: () => Collected | null;
  /** Lets messages in; what they say may end the run. */
  readonly pause: () => Promise<void>;
}

/**
 * Runs tasks in this worker and lets messages in between them. The same results to the bit as any other executor.
 *
 * @param isOvertaken asked between pieces of work; true ends the run with {@link Overtaken}
 */
export function createPageExecutor(runner: Runner, isOvertaken: () => boolean): PageExecutor {
  let collected: Collected | null = null;
  const pause = async () => {
    await giveWay();
    if (isOvertaken()) throw new Overtaken();
  };
  return {
    workers: 1,
    pause,
    async run(tasks, onResult) {
      for (let place = 0; place < tasks.length; place += 1) {
        onResult(place, runner.runTask(tasks.at(place)!).result);
        await pause();
      }
    },
    async collect() {
      collected = runner.collect();
      return [collected];
    },
    async close() {},
    collected: () => collected,
  };
}

/** Lets waiting messages in. A timer would be held back by 4 ms each time; a message to oneself is not. */
export function giveWay(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(null);
  });
}
