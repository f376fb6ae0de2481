import { createWorkspace } from "./columns.ts";
import type { ShimPlan } from "./device-plan.ts";
import { evaluateBlock } from "./evaluate.ts";
import type { ModelPlan } from "./plan.ts";
import { createWindowColumns } from "./window.ts";

/**
 * What shims aim at when nothing is said: the middle of the window of the pair at its mean values, as a machined offset or, where
 * the play is measured, as what lies past the onset on the bench.
 *
 * @param plan the same plan without shims
 * @param means one value a variable
 */
export function nominalAimMm(plan: ModelPlan, { measure }: ShimPlan, means: readonly Float64Array[]): number {
  const workspace = createWorkspace(plan, 1);
  const windows = createWindowColumns(plan, 1);
  evaluateBlock(plan, means, 1, workspace, windows);
  const onset = windows.states[0].onsetMm[0];
  const ends = [windows.lowMm[0], windows.highMm[0]].filter(Number.isFinite);
  const middle = ends.length === 0 ? onset : ends.reduce((sum, end) => sum + end, 0) / ends.length;
  return measure === "play" ? middle - onset : middle;
}
