import { mean } from "../distributions/moments.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { createWorkspace } from "./columns.ts";
import { evaluateBlock } from "./evaluate.ts";
import { hoistPlan, type ModelPlan } from "./plan.ts";
import { createWindowColumns } from "./window.ts";

/** A resolved scenario ready for blocks of samples. Pure: the same scenario gives the same plan. */
export function compilePlan(scenario: ResolvedScenario): ModelPlan {
  const plan = hoistPlan(scenario);
  if (plan.shim === null || !Number.isNaN(plan.shim.aimMm)) return plan;
  return { ...plan, shim: { ...plan.shim, aimMm: nominalAimMm(plan, scenario) } };
}

/**
 * What shims aim at when nothing is said: the middle of the window of the pair at its mean values, as a machined offset or, where
 * the play is measured, as what lies past the onset on the bench.
 */
function nominalAimMm(plan: ModelPlan, scenario: ResolvedScenario): number {
  const inputs = scenario.variables.map((variable) => Float64Array.of(mean(variable.distribution)));
  const bare: ModelPlan = { ...plan, shim: null };
  const workspace = createWorkspace(bare, 1);
  const windows = createWindowColumns(bare, 1);
  evaluateBlock(bare, inputs, 1, workspace, windows);
  const low = windows.lowMm[0];
  const high = windows.highMm[0];
  const bench = windows.states[0];
  const ends = [low, high].filter(Number.isFinite);
  const middle = ends.length === 0 ? bench.onsetMm[0] : ends.reduce((sum, end) => sum + end, 0) / ends.length;
  return plan.shim?.measure === "play" ? middle - bench.onsetMm[0] : middle;
}
