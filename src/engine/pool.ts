import { Worker } from "node:worker_threads";
import { InternalError } from "../errors.ts";
import type { Collected, Executor, Task, TaskResult, WorkerSetup } from "./tasks.ts";

/** Messages to a worker and back. */
export type Request =
  | { readonly kind: "task"; readonly place: number; readonly task: Task }
  | { readonly kind: "collect" };
export type Reply =
  | { readonly kind: "result"; readonly place: number; readonly result: TaskResult }
  | { readonly kind: "collected"; readonly collected: Collected }
  | { readonly kind: "failed"; readonly message: string };

/**
 * Runs tasks on worker threads. Every worker has two tasks at most, so that what is in flight stays small at any number
 * of samples.
 *
 * @param script location of the bundled worker
 */
export function createPool(setup: WorkerSetup, workers: number, script: URL): Executor {
  const threads = startThreads(setup, workers, script);
  let closing = false;
  let failure: Error | null = null;
  let onFailure: (error: Error) => void = () => {};
  const fail = (error: Error) => {
    if (closing || failure !== null) return;
    failure = error;
    onFailure(error);
  };
  for (const thread of threads) {
    thread.on("error", (error) => fail(new InternalError(`a worker stopped: ${error.message}`)));
    thread.on("messageerror", (error) => fail(new InternalError(`a worker's answer cannot be read: ${error.message}`)));
    thread.on("exit", (code) => fail(new InternalError(`a worker ended before its work was done (exit code ${code})`)));
  }

  const exchange = (perThread: (thread: Worker, reply: Reply) => void, start: () => void, done: Promise<void>) => {
    const listeners = threads.map((thread) => {
      const listener = (reply: Reply) => {
        if (reply.kind === "failed") fail(new InternalError(`a worker failed: ${reply.message}`));
        else perThread(thread, reply);
      };
      thread.on("message", listener);
      return { thread, listener };
    });
    const failed = new Promise<never>((_, reject) => {
      onFailure = reject;
      if (failure !== null) reject(failure);
    });
    start();
    return Promise.race([done, failed]).finally(() => {
      onFailure = () => {};
      for (const { thread, listener } of listeners) thread.off("message", listener);
    });
  };

  return {
    workers,
    async run(tasks, onResult) {
      let next = 0;
      let finished = 0;
      if (tasks.length === 0) return;
      let resolveDone: () => void = () => {};
      let rejectDone: (error: unknown) => void = () => {};
      const done = new Promise<void>((resolve, reject) => {
        resolveDone = resolve;
        rejectDone = reject;
      });
      const give = (thread: Worker) => {
        if (next >= tasks.length) return;
        const request: Request = { kind: "task", place: next, task: tasks.at(next)! };
        next += 1;
        thread.postMessage(request);
      };
      await exchange(
        (thread, reply) => {
          if (reply.kind !== "result") return;
          give(thread);
          try {
            onResult(reply.place, reply.result);
          } catch (error) {
            rejectDone(error);
            return;
          }
          finished += 1;
          if (finished === tasks.length) resolveDone();
        },
        () => {
          for (let round = 0; round < 2; round += 1) for (const thread of threads) give(thread);
        },
        done,
      );
    },
    async collect() {
      const collected = new Map<Worker, Collected>();
      let resolveDone: () => void = () => {};
      const done = new Promise<void>((resolve) => {
        resolveDone = resolve;
      });
      await exchange(
        (thread, reply) => {
          if (reply.kind !== "collected") return;
          collected.set(thread, reply.collected);
          if (collected.size === threads.length) resolveDone();
        },
        () => {
          const request: Request = { kind: "collect" };
          for (const thread of threads) thread.postMessage(request);
        },
        done,
      );
      return threads.map((thread) => collected.get(thread)!);
    },
    async close() {
      closing = true;
      await Promise.all(threads.map((thread) => thread.terminate()));
    },
  };
}

/** Starts all workers, or none: one that cannot be started takes those before it along. */
function startThreads(setup: WorkerSetup, workers: number, script: URL): Worker[] {
  const threads: Worker[] = [];
  try {
    while (threads.length < workers) threads.push(new Worker(script, { workerData: setup }));
    return threads;
  } catch (error) {
    for (const thread of threads) thread.terminate();
    const reason = error instanceof Error ? error.message : String(error);
    throw new InternalError(`worker ${threads.length + 1} of ${workers} cannot be started: ${reason}`);
  }
}
