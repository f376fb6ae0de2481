import { fillAdjustment } from "./adjustment.ts";
import { fillBearingConstants } from "./bearing-constants.ts";
import type { StateColumns, Workspace } from "./columns.ts";
import { fillGap, fillGood } from "./gap.ts";
import { fillNetwork, fillNetworkResults, fillNetworkRises, settleNetwork } from "./network.ts";
import { fillMachinedOffset, fillOffset, fillZoneRises } from "./offset.ts";
import { evaluatePairs } from "./pair.ts";
import type { ModelPlan } from "./plan.ts";
import { fillClampHold, fillClearance, fillFrictionHold } from "./seats.ts";
import { fillSprings, markStuck, rememberSprings } from "./spring.ts";
import { fillWindow, resetWindows, type StateWindowColumns, type WindowColumns } from "./window.ts";

/**
 * Evaluates a block of samples in every state of the plan, in the order of the states, since a ring that slides in one
 * state stays where it slid to. The bench comes first: what is set there holds in the others. Where rings can slide, the
 * bench is looked at once more at the end.
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
  startBlock(plan, inputs, count, workspace, windows);
  evaluateStates(plan, inputs, count, workspace, windows, true);
}

/**
 * Fills the acceptance windows of a block and nothing else: what `evaluateBlock` does without solving the pairs, unless a
 * spring or a heat balance asks for their solution. The offsets of the states stay as they are before anything slides.
 */
export function evaluateWindows(
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  windows: WindowColumns,
): void {
  startBlock(plan, inputs, count, workspace, windows);
  const needsPairs = plan.spring !== null || plan.states.some((state) => state.network !== null);
  evaluateStates(plan, inputs, count, workspace, windows, needsPairs);
}

/** Fills what is the same in every state, and forgets the block before. */
function startBlock(
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  windows: WindowColumns | null,
): void {
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
  workspace.slipMm.fill(0, 0, count);
  workspace.adjustmentMm.fill(0, 0, count);
  if (plan.spring !== null && workspace.spring !== null) fillSprings(plan.spring, inputs, count, workspace.spring);
  if (windows !== null) resetWindows(windows);
}

function evaluateStates(
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  windows: WindowColumns | null,
  solves: boolean,
): void {
  for (let index = 0; index < plan.states.length; index += 1) {
    const windowState = windows === null ? null : windows.states[index];
    evaluateState(plan, index, index, inputs, count, workspace, workspace.states[index], windowState, windows, solves);
  }
  const { afterService } = workspace;
  if (afterService !== null) {
    const windowState = windows?.afterService ?? null;
    const place = plan.states.length;
    evaluateState(plan, 0, place, inputs, count, workspace, afterService, windowState, windows, solves);
  }
}

/**
 * One state from its temperatures to the class of every unit.
 *
 * @param index the state of the plan
 * @param place its place among the states counted: the bench after service comes behind all others
 */
function evaluateState(
  plan: ModelPlan,
  index: number,
  place: number,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  out: StateColumns,
  windowState: StateWindowColumns | null,
  windows: WindowColumns | null,
  solves: boolean,
): void {
  const state = plan.states[index];
  const { network } = workspace;
  if (state.network !== null && network !== null) {
    fillNetwork(plan, state.network, inputs, count, network);
    for (let zone = 0; zone < workspace.zoneRiseK.length; zone += 1) {
      workspace.zoneRiseK[zone] = workspace.riseColumns[zone];
    }
    settleNetwork(plan, count, workspace, network, out, () => {
      fillNetworkRises(count, network, workspace.zoneRiseK);
      fillAtTemperature(plan, place, inputs, count, workspace, out);
      evaluatePairs(plan, count, workspace, out);
    });
    fillNetworkRises(count, network, workspace.zoneRiseK);
  } else {
    fillZoneRises(workspace.kernel, state, inputs, count, workspace.riseColumns, workspace.zoneRiseK);
  }
  fillAtTemperature(plan, place, inputs, count, workspace, out);
  if (windowState !== null && windows !== null) {
    const { offsetMm, clearanceAMm, clearanceBMm } = out;
    fillWindow(plan, count, workspace, offsetMm, clearanceAMm, clearanceBMm, place, windowState, windows);
  }
  if (!solves) return;
  evaluatePairs(plan, count, workspace, out);
  if (workspace.spring !== null) rememberSprings(count, workspace, workspace.spring, out.offsetMm);
  if (plan.gap !== null) fillGap(plan.gap, inputs, count, workspace, workspace.states[0], out);
  if (state.network !== null && network !== null) fillNetworkResults(count, workspace, network, out);
  fillGood(workspace.kernel, plan, index, count, out);
}

/**
 * Fills what a state gives the pair solver at its temperatures: raw offset, clearances, holds, and the flags of lost seats. On
 * the bench, which comes first, adjusters and shims are set to what is found there.
 */
function fillAtTemperature(
  plan: ModelPlan,
  place: number,
  inputs: readonly Float64Array[],
  count: number,
  workspace: Workspace,
  out: StateColumns,
): void {
  const { kernel, zoneRiseK, bearings, adjustmentMm, machinedOffsetMm } = workspace;
  out.flags.fill(0, 0, count);
  fillOffset(plan, inputs, count, zoneRiseK, workspace, out.offsetMm);
  fillClearance(
    kernel,
    plan.bearings[0],
    inputs,
    count,
    zoneRiseK,
    bearings[0].freeClearanceMm,
    out.clearanceAMm,
    out.flags,
  );
  fillClearance(
    kernel,
    plan.bearings[1],
    inputs,
    count,
    zoneRiseK,
    bearings[1].freeClearanceMm,
    out.clearanceBMm,
    out.flags,
  );
  fillFrictionHold(plan, inputs, count, zoneRiseK, workspace.frictionHoldN);
  if (plan.spring !== null && workspace.spring !== null) {
    markStuck(plan.spring, place === 0, count, workspace.spring, out.flags);
  }
  if (plan.adjuster === null && plan.shim === null) return;
  if (place === 0) {
    fillMachinedOffset(kernel, plan, inputs, count, machinedOffsetMm);
    fillAdjustment(plan, inputs, count, workspace, out);
    for (let i = 0; i < count; i += 1) machinedOffsetMm[i] += adjustmentMm[i];
  }
  for (let i = 0; i < count; i += 1) out.offsetMm[i] += adjustmentMm[i];
}
