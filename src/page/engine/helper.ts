import type { Runner } from "../../engine/runner.ts";
import type { Collected, Task, TaskResult } from "../../engine/tasks.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";

/** What a helper is told. Looks are numbered: what is said of an earlier one is late. */
export type HelperOrder =
  | { readonly kind: "set-up"; readonly look: number; readonly scenario: ResolvedScenario }
  | { readonly kind: "task"; readonly look: number; readonly place: number; readonly task: Task }
  | { readonly kind: "collect"; readonly look: number };

export type HelperReport =
  | { readonly kind: "ready" }
  | { readonly kind: "result"; readonly look: number; readonly place: number; readonly result: TaskResult }
  | { readonly kind: "collected"; readonly look: number; readonly collected: Collected }
  | { readonly kind: "failed"; readonly look: number; readonly message: string };

/**
 * Works in this worker for the one at the other end of the port.
 *
 * @param runnerOf what runs the tasks of a look here; it is good until the next look's is made
 */
export function help(port: MessagePort, runnerOf: (scenario: ResolvedScenario) => Runner): void {
  const report = (report: HelperReport, transfer: ArrayBuffer[] = []) => port.postMessage(report, transfer);
  let runner: () => Runner;
  port.onmessage = ({ data }: MessageEvent<HelperOrder>) => {
    const { look } = data;
    if (data.kind === "set-up") {
      runner = prepared(() => runnerOf(data.scenario));
      return;
    }
    try {
      if (data.kind === "collect") report({ kind: "collected", look, collected: runner().collect() });
      else {
        const { result, transfer } = runner().runTask(data.task);
        report({ kind: "result", look, place: data.place, result }, transfer);
      }
    } catch (error) {
      report({ kind: "failed", look, message: error instanceof Error ? error.message : String(error) });
    }
  };
  report({ kind: "ready" });
}

/** Made at once; what goes wrong with it is told to whoever asks for it. */
function prepared<T>(make: () => T): () => T {
  try {
    const made = make();
    return () => made;
  } catch (error) {
    return () => {
      throw error;
    };
  }
}
