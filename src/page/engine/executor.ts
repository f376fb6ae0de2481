import { executorOf } from "../../engine/local.ts";
import type { Runner } from "../../engine/runner.ts";
import type { Collected, Executor } from "../../engine/tasks.ts";
import { giveWay } from "../../engine/turns.ts";

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
    ...executorOf(runner, pause),
    pause,
    async collect() {
      collected = runner.collect();
      return [collected];
    },
    collected: () => collected,
  };
}
