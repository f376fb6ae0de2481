import type { Kernel } from "../kernel/kernel.ts";
import type { StateColumns, Workspace } from "./columns.ts";
import { TARGET } from "./outcome.ts";
import type { ModelPlan } from "./plan.ts";
import type { GapPlan } from "./request-plan.ts";

/**
 * Fills the gap in one state, Σ sign·L·(1 + α(T − 20)) plus the axial displacement in the bearing that locates the shaft, and how
 * far it has moved from the bench, mm. A shaft with play lies against that bearing.
 *
 * @param bench the columns of the bench, which may be those of the state itself
 */
export function fillGap(
  gap: GapPlan,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  bench: StateColumns,
  out: StateColumns,
): void {
  const { gapMm, movementMm } = out;
  const { pairs, signedMm, zoneRiseK } = workspace;
  const displacement = gap.locating === 0 ? pairs.xA : pairs.xB;
  for (let i = 0; i < count; i += 1) {
    const x = signedMm[i] < 0 ? -displacement[i] : displacement[i];
    gapMm[i] = gap.displacementSign * x;
  }
  for (const member of gap.members) {
    const length = inputs[member.length];
    const rise = zoneRiseK[member.zone];
    const factor = member.sign * member.measuredFactor;
    const { expansionPerK } = member;
    for (let i = 0; i < count; i += 1) gapMm[i] += factor * length[i] * (1 + expansionPerK * rise[i]);
  }
  for (let i = 0; i < count; i += 1) movementMm[i] = gapMm[i] - bench.gapMm[i];
}

/** Fills which requirements are met in one state, and whether a unit is good there: on target with all of them met. */
export function fillGood(kernel: Kernel, plan: ModelPlan, stateIndex: number, count: number, out: StateColumns): void {
  const { outcome, good, met } = out;
  if (plan.requirements.length === 0) {
    kernel.equalBytes(good, outcome, TARGET, count);
    met.fill(0, 0, count);
    return;
  }
  let asked = 0;
  met.fill(0, 0, count);
  for (const { bit, column, holds, low, high } of plan.requirements) {
    if (!holds[stateIndex]) continue;
    asked |= bit;
    const values = out[column];
    for (let i = 0; i < count; i += 1) if (values[i] >= low && values[i] <= high) met[i] |= bit;
  }
  for (let i = 0; i < count; i += 1) good[i] = outcome[i] === TARGET && met[i] === asked ? 1 : 0;
}
