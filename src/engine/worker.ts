import { parentPort, workerData } from "node:worker_threads";
import type { Reply, Request } from "./pool.ts";
import { createRunner } from "./runner.ts";
import type { WorkerSetup } from "./tasks.ts";

/** Entry of a worker thread: runs what it is sent and answers, one message each. */
const port = parentPort;
if (port !== null) {
  const runner = createRunner(workerData as WorkerSetup);
  port.on("message", (request: Request) => {
    try {
      if (request.kind === "collect") {
        port.postMessage({ kind: "collected", collected: runner.collect() } satisfies Reply);
        return;
      }
      const { result, transfer } = runner.runTask(request.task);
      port.postMessage({ kind: "result", place: request.place, result } satisfies Reply, transfer);
    } catch (error) {
      const message = error instanceof Error ? (error.stack ?? error.message) : String(error);
      port.postMessage({ kind: "failed", message } satisfies Reply);
    }
  });
}
