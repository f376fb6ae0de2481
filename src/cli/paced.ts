import { setImmediate as nextTurn } from "node:timers/promises";
import type { Steps } from "../studies/steps.ts";
import type { ProgressLine } from "./progress.ts";

/** Does work in steps and shows how far it is. An interruption gets its turn after every step; it is not heard within one. */
export async function paced<Result>(steps: Steps<Result>, progress: ProgressLine): Promise<Result> {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    progress.update(step.value.done, step.value.total);
    await nextTurn();
  }
}
