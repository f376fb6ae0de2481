import { createHeldUnits, type HeldUnits } from "../../engine/held-units.ts";
import { createRunner, type Runner } from "../../engine/runner.ts";
import type { ModelPlan } from "../../model/plan.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { checkRunnable } from "../../studies/limits-of-a-run.ts";
import { pageKernel } from "./page-kernel.ts";

/** Units whose acceptance windows are worked out in a quick look: enough for a smooth curve. */
export const WINDOW_UNITS = 2048;

let heldUnits: HeldUnits | null = null;

/** What runs the tasks of a quick look in this worker, on the columns that earlier looks have drawn here. */
export function quickRunner(scenario: ResolvedScenario): { readonly plan: ModelPlan; readonly runner: Runner } {
  const kernel = pageKernel();
  heldUnits ??= createHeldUnits(kernel);
  const parts = heldUnits.partsOf(scenario);
  checkRunnable(parts.plan);
  const setup = { kernel, scenario, offset: null, lines: null, variations: [] };
  return { plan: parts.plan, runner: createRunner(setup, { ...parts, windowRows: WINDOW_UNITS }) };
}
