import { fillBearingConstants } from "./bearing-constants.ts";
import type { StateColumns, Workspace } from "./columns.ts";
import { fillMachinedOffset, fillOffset, fillZoneRises } from "./offset.ts";
import { evaluatePairs } from "./pair.ts";
import type { ModelPlan, StatePlan } from "./plan.ts";
import { fillClampHold, fillClearance, fillFrictionHold } from "./seats.ts";
import { fillWindow, resetWindows, type StateWindowColumns, type WindowColumns } from "./window.ts";

/**
 * Evaluates a block of samples in every state of the plan, in the order of the states, since a ring that slides in one
 * state stays where it slid to. Where rings can slide, the bench is looked at once more at the end.
 *
 * @param inputs one column a variable of the plan, `count` values each
 * @param workspace results and scratch; overwritten
 * @param windows where to leave the acceptance windows, or null to spare the work
 */
export function evaluateBlock(
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  windows: WindowColumns | null = null,
): void {
  fillConstants(plan, inputs, count, workspace);
  workspace.slipMm.fill(0, 0, count);
  if (windows !== null) resetWindows(windows);
  for (let index = 0; index < plan.states.length; index += 1) {
    const columns = workspace.states[index];
    fillState(plan, plan.states[index], inputs, count, workspace, columns);
    if (windows !== null) intersect(plan, count, workspace, columns, index, windows.states[index], windows);
    evaluatePairs(plan, count, workspace, columns);
  }
  if (workspace.afterService !== null) {
    const columns = workspace.afterService;
    fillState(plan, benchOf(plan), inputs, count, workspace, columns);
    if (windows?.afterService) {
      intersect(plan, count, workspace, columns, plan.states.length, windows.afterService, windows);
    }
    evaluatePairs(plan, count, workspace, columns);
  }
}

/**
 * Fills the acceptance windows of a block and nothing else: what `evaluateBlock` does without solving the pairs. The
 * offsets of the states stay as they are before anything slides.
 */
export function evaluateWindows(
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  windows: WindowColumns,
): void {
  fillConstants(plan, inputs, count, workspace);
  resetWindows(windows);
  for (let index = 0; index < plan.states.length; index += 1) {
    const columns = workspace.states[index];
    fillState(plan, plan.states[index], inputs, count, workspace, columns);
    intersect(plan, count, workspace, columns, index, windows.states[index], windows);
  }
  if (workspace.afterService !== null && windows.afterService !== null) {
    const columns = workspace.afterService;
    fillState(plan, benchOf(plan), inputs, count, workspace, columns);
    intersect(plan, count, workspace, columns, plan.states.length, windows.afterService, windows);
  }
}

function benchOf(plan: ModelPlan): StatePlan {
  return plan.states.find((state) => state.isBench) ?? plan.states[0];
}

/** Fills what is the same in every state: bearings, machined offset, clamp. */
function fillConstants(plan: ModelPlan, inputs: readonly Float64Array[], count: number, workspace: Workspace): void {
  for (let index = 0; index < 2; index += 1) {
    fillBearingConstants(
      workspace.kernel,
      plan.bearings[index],
      inputs,
      count,
      plan.pressureLimited,
      workspace.bearings[index],
    );
  }
  fillMachinedOffset(workspace.kernel, plan, inputs, count, workspace.machinedOffsetMm);
  fillClampHold(plan, inputs, count, workspace.clampHoldN);
}

function intersect(
  plan: ModelPlan,
  count: number,
  workspace: Workspace,
  state: StateColumns,
  stateIndex: number,
  out: StateWindowColumns,
  windows: WindowColumns,
): void {
  const { offsetMm, clearanceAMm, clearanceBMm } = state;
  fillWindow(plan, count, workspace, offsetMm, clearanceAMm, clearanceBMm, stateIndex, out, windows);
}

/** Fills what a state gives the pair solver: temperatures, raw offset, clearances, holds, and the flags of lost seats. */
function fillState(
  plan: ModelPlan,
  state: StatePlan,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  out: StateColumns,
): void {
  const { kernel, zoneRiseK } = workspace;
  out.flags.fill(0, 0, count);
  fillZoneRises(kernel, state, inputs, count, workspace.riseColumns, zoneRiseK);
  fillOffset(kernel, plan, inputs, count, zoneRiseK, out.offsetMm);
  fillClearance(kernel, plan.bearings[0], inputs, count, zoneRiseK, out.clearanceAMm, out.flags);
  fillClearance(kernel, plan.bearings[1], inputs, count, zoneRiseK, out.clearanceBMm, out.flags);
  fillFrictionHold(plan, inputs, count, zoneRiseK, workspace.frictionHoldN);
}
