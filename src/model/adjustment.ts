/** What an adjuster or a shim does to each unit on the bench, as an amount that is added to its machined offset. */
import { exp, log } from "../numeric/elementary.ts";
import type { StateColumns, Workspace } from "./columns.ts";
import { clearanceTerm, pairOffsetFor } from "./contact.ts";
import type { AdjusterPlan, ShimPlan, TorquePlan } from "./device-plan.ts";
import type { ModelPlan } from "./plan.ts";

/** Fills the adjustment of every unit from its bench state, which must be filled but for the adjustment. */
export function fillAdjustment(
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  bench: StateColumns,
): void {
  if (plan.adjuster !== null) fillAdjuster(plan, plan.adjuster, inputs, count, workspace, bench);
  else if (plan.shim !== null) fillShim(plan, plan.shim, inputs, count, workspace, bench);
}

/** An adjuster is turned until zero play and on, or to a torque: dimensions do not matter, the unit's own onset does. */
function fillAdjuster(
  plan: ModelPlan,
  adjuster: AdjusterPlan,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  bench: StateColumns,
): void {
  const { adjustmentMm } = workspace;
  const value = inputs[adjuster.value];
  const idle = adjuster.noLoadTorque === null ? null : inputs[adjuster.noLoadTorque];
  for (let i = 0; i < count; i += 1) {
    const wanted =
      idle === null
        ? offsetAt(plan, workspace, bench, i, 0) + value[i]
        : offsetAt(plan, workspace, bench, i, preloadForTorque(plan.torques, value[i] - idle[i]));
    adjustmentMm[i] = wanted - bench.offsetMm[i];
  }
}

/**
 * Shims are taken from a stock with a step: step·round((aim − measured)/step), within what the stock allows. Measured are the
 * dimensions, or where the pair begins to carry too; the error of the measurement goes into the choice.
 */
function fillShim(
  plan: ModelPlan,
  shim: ShimPlan,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  bench: StateColumns,
): void {
  const { adjustmentMm, machinedOffsetMm } = workspace;
  const error = inputs[shim.error];
  const { stepMm } = shim;
  // The stock holds whole steps only; its ends are the outermost of them.
  const least = Math.ceil(shim.lowMm / stepMm - 1e-9);
  const most = Math.floor(shim.highMm / stepMm + 1e-9);
  for (let i = 0; i < count; i += 1) {
    const missing =
      shim.measure === "play"
        ? offsetAt(plan, workspace, bench, i, 0) + shim.aimMm - bench.offsetMm[i]
        : shim.aimMm - machinedOffsetMm[i];
    const steps = Math.round((missing + error[i]) / stepMm);
    adjustmentMm[i] = stepMm * Math.min(most, Math.max(least, steps));
  }
}

/** Offset on the bench at which a unit carries a preload, mm. */
function offsetAt(plan: ModelPlan, workspace: Workspace, bench: StateColumns, i: number, forceN: number): number {
  const [a, b] = workspace.bearings;
  const aA = a.grooveDistanceMm[i];
  const aB = b.grooveDistanceMm[i];
  const wA = clearanceTerm(aA, bench.clearanceAMm[i]);
  const wB = clearanceTerm(aB, bench.clearanceBMm[i]);
  return pairOffsetFor(forceN, aA, wA, a.stiffness[i], aB, wB, b.stiffness[i], plan.complianceMmPerN);
}

/**
 * Preload at which the load part of both bearings' friction is a torque: s_a·F^p_a + s_b·F^p_b = M, N; 0 for M ≤ 0.
 *
 * In closed form for equal exponents, else by Newton on ln F, where the logarithm of the left side is nearly straight.
 */
function preloadForTorque(torques: readonly [TorquePlan, TorquePlan], torqueNmm: number): number {
  if (!(torqueNmm > 0)) return 0;
  const [a, b] = torques;
  const wanted = log(torqueNmm);
  let logForce = (wanted - log(a.loadScale + b.loadScale)) / (0.5 * (a.exponent + b.exponent));
  if (a.exponent === b.exponent) return exp(logForce);
  for (let step = 0; step < 50; step += 1) {
    const partA = a.loadScale * exp(a.exponent * logForce);
    const partB = b.loadScale * exp(b.exponent * logForce);
    const sum = partA + partB;
    const change = ((wanted - log(sum)) * sum) / (a.exponent * partA + b.exponent * partB);
    logForce += change;
    if (Math.abs(change) < 1e-13) break;
  }
  return exp(logForce);
}
