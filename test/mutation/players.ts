/** Threads that play tests, as many as asked for; one that hangs is ended and replaced. */
import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import type { Order, Played, PlayerData } from "./player.ts";

export interface Players {
  readonly count: number;
  /** @returns what was played; `failure` undefined where it took longer than the limit */
  play(
    order: Order,
    limitMs: number,
  ): Promise<Omit<Played, "failure"> & { readonly failure: string | null | undefined }>;
  close(): void;
}

interface Waiting {
  readonly order: Order;
  readonly limitMs: number;
  readonly done: (played: Awaited<ReturnType<Players["play"]>>) => void;
}

export function createPlayers(script: string, data: PlayerData): Players {
  const queue: Waiting[] = [];
  const idle: Worker[] = [];
  const all = new Set<Worker>();

  const open = () => {
    const worker = new Worker(script, { workerData: data });
    all.add(worker);
    idle.push(worker);
  };
  const next = () => {
    while (idle.length > 0 && queue.length > 0) give(idle.pop()!, queue.shift()!);
  };
  const give = (worker: Worker, { order, limitMs, done }: Waiting) => {
    const replace = (failure: string | undefined) => {
      finish();
      all.delete(worker);
      void worker.terminate();
      open();
      done({ failure, tests: 0, elapsedMs: limitMs, reached: new Uint8Array(0) });
      next();
    };
    const limit = setTimeout(() => replace(undefined), limitMs);
    const played = (result: Played) => {
      finish();
      idle.push(worker);
      done(result);
      next();
    };
    // Thrown past the tests, or out of memory: noticed as well.
    const broke = (error: unknown) => replace(String(error));
    const finish = () => {
      clearTimeout(limit);
      worker.off("message", played).off("error", broke);
    };
    worker.once("message", played).once("error", broke);
    worker.postMessage(order);
  };
  const count = Math.min(2, availableParallelism());
  for (let i = 0; i < count; i++) open();
  return {
    count,
    play: (order, limitMs) =>
      new Promise((done) => {
        queue.push({ order, limitMs, done });
        next();
      }),
    close: () => {
      for (const worker of all) void worker.terminate();
    },
  };
}
