import type { Kernel } from "../kernel/kernel.ts";
import { PLAIN_KERNEL } from "../kernel/plain.ts";
import type { Workspace } from "./columns.ts";
import { clearanceTerm, displacementAt, forceAt } from "./contact.ts";
import type { ModelPlan } from "./plan.ts";
import { machinedForStuck, springGive } from "./spring.ts";

/** The offsets that one state asks for, in terms of the machined offset at 20 °C, mm. */
export interface StateWindowColumns {
  /** What heat, clamp and stand-outs add to the machined offset in this state. */
  readonly shiftMm: Float64Array;
  /** Largest machined offset that friction lets through; a unit beyond it is as one at it. Infinity where nothing slides. */
  readonly limitMm: Float64Array;
  /** Where the pair starts to carry. */
  readonly onsetMm: Float64Array;
  /** Where the preload enters and leaves the target window; Infinity where the rings never let it rise that far. */
  readonly lowMm: Float64Array;
  readonly highMm: Float64Array;
  /** Where it binds, by force or by Hertz pressure. */
  readonly bindMm: Float64Array;
}

export interface WindowColumns {
  readonly states: readonly StateWindowColumns[];
  /** The bench again after walking, where rings can walk; its limits are those of the bench. */
  readonly afterService: StateWindowColumns | null;
  /** Intersection over all states; empty where low > high. */
  readonly lowMm: Float64Array;
  readonly highMm: Float64Array;
  /** Index of the state that sets each end; `states.length` stands for the bench after service. */
  readonly lowState: Uint8Array;
  readonly highState: Uint8Array;
  /** Largest machined offset that friction has let through so far, mm. */
  readonly walkLimitMm: Float64Array;
  /** Forces that the offsets of the state at work belong to, N. */
  readonly levelsN: {
    readonly onset: Float64Array;
    readonly low: Float64Array;
    readonly high: Float64Array;
    readonly bind: Float64Array;
  };
}

/**
 * Windows of a block, to be filled by `fillWindow` state by state.
 *
 * @param size units of a block whose windows are wanted, from the first; those behind are left out
 */
export function createWindowColumns(plan: ModelPlan, size: number, kernel: Kernel = PLAIN_KERNEL): WindowColumns {
  const column = () => kernel.column(size);
  const state = (): StateWindowColumns => ({
    shiftMm: column(),
    limitMm: column(),
    onsetMm: column(),
    lowMm: column(),
    highMm: column(),
    bindMm: column(),
  });
  const { lowN, highN, bindN } = plan.limits;
  return {
    states: plan.states.map(state),
    afterService: plan.canWalk ? state() : null,
    lowMm: column(),
    highMm: column(),
    lowState: kernel.bytes(size),
    highState: kernel.bytes(size),
    walkLimitMm: column(),
    levelsN: {
      onset: column(),
      low: column().fill(lowN),
      high: column().fill(Math.min(highN, bindN)),
      bind: column().fill(bindN),
    },
  };
}

/** Makes the windows ready for a new block. */
export function resetWindows(columns: WindowColumns): void {
  columns.lowMm.fill(Number.NEGATIVE_INFINITY);
  columns.highMm.fill(Number.POSITIVE_INFINITY);
  columns.lowState.fill(0);
  columns.highState.fill(0);
  columns.walkLimitMm.fill(Number.POSITIVE_INFINITY);
}

/**
 * Fills the acceptance window of one state and narrows the intersection.
 *
 * The preload is monotone in the offset, so a unit is in the target window exactly for the offsets δ(F_low) to δ(F_high),
 * δ(F) = x_a(F) + x_b(F) + c·F. Taking off the shift of this state (thermal growth, clamp, stand-outs) gives machined
 * offsets. Where the clamp or friction holds no more than a force inside the window, more offset adds no preload and the
 * window has no upper end; where they hold less than F_low, the window is empty. A ring that has walked in an earlier
 * state stays there, hence the running limit.
 *
 * A spring adds what it is pressed by. Where a heat balance gives the temperatures, the ends are those at the temperatures that
 * the unit comes to, so that they tell exactly whether its own offset is good.
 *
 * @param offsetMm raw offset of the state, before anything slides
 */
export function fillWindow(
  plan: ModelPlan,
  count: number,
  workspace: Workspace,
  offsetMm: Float64Array,
  clearanceAMm: Float64Array,
  clearanceBMm: Float64Array,
  stateIndex: number,
  out: StateWindowColumns,
  windows: WindowColumns,
): void {
  const { kernel, pairs, machinedOffsetMm, clampHoldN, frictionHoldN, spring } = workspace;
  const { complianceMmPerN, limits } = plan;
  const { levelsN } = windows;
  const wanted = Math.min(count, windows.lowMm.length);
  for (let i = 0; i < wanted; i += 1) {
    pairs.wA[i] = clearanceTerm(pairs.distanceA[i], clearanceAMm[i]);
    pairs.wB[i] = clearanceTerm(pairs.distanceB[i], clearanceBMm[i]);
  }
  if (plan.pressureLimited) fillBindLevels(plan, wanted, workspace, levelsN);
  const close = (forceN: Float64Array, into: Float64Array) =>
    kernel.fillPairOffsets(forceN, pairs, complianceMmPerN, into, wanted);
  close(levelsN.onset, out.onsetMm);
  close(levelsN.low, out.lowMm);
  close(levelsN.high, out.highMm);
  close(levelsN.bind, out.bindMm);
  if (plan.canWalk) close(frictionHoldN, out.limitMm);
  for (let i = 0; i < wanted; i += 1) {
    const shift = offsetMm[i] - machinedOffsetMm[i];
    const at = (forceN: number, closing: number) => {
      if (spring === null) return closing - shift;
      if (spring.stuck[i] === 1) return machinedForStuck(workspace, spring, i, closing, shift, complianceMmPerN);
      return closing + springGive(spring, i, forceN) - shift;
    };
    const bindN = levelsN.bind[i];
    const clamp = clampHoldN[i];
    const friction = frictionHoldN[i];
    const onset = at(0, out.onsetMm[i]);
    let low = at(limits.lowN, out.lowMm[i]);
    let high = at(levelsN.high[i], out.highMm[i]);
    let bind = at(bindN, out.bindMm[i]);
    if (bindN < limits.lowN) low = Number.POSITIVE_INFINITY;
    if (friction <= clamp) {
      const limit = plan.canWalk ? at(friction, out.limitMm[i]) : friction;
      if (limit < windows.walkLimitMm[i]) windows.walkLimitMm[i] = limit;
    } else {
      if (clamp < limits.lowN) low = Number.POSITIVE_INFINITY;
      else if (clamp <= limits.highN && clamp < bindN) high = Number.POSITIVE_INFINITY;
      if (clamp < bindN) bind = Number.POSITIVE_INFINITY;
    }
    const walkLimit = windows.walkLimitMm[i];
    if (walkLimit < low) low = Number.POSITIVE_INFINITY;
    else if (walkLimit <= high) high = Number.POSITIVE_INFINITY;
    if (walkLimit < bind) bind = Number.POSITIVE_INFINITY;
    out.shiftMm[i] = shift;
    out.limitMm[i] = walkLimit;
    out.onsetMm[i] = onset;
    out.lowMm[i] = low;
    out.highMm[i] = high;
    out.bindMm[i] = bind;
    if (low > windows.lowMm[i]) {
      windows.lowMm[i] = low;
      windows.lowState[i] = stateIndex;
    }
    if (high < windows.highMm[i]) {
      windows.highMm[i] = high;
      windows.highState[i] = stateIndex;
    }
  }
}

/** Forces at which each unit binds, and up to which it is on target: those of the plan, or where the contact pressure allows no more. */
function fillBindLevels(
  { limits }: ModelPlan,
  count: number,
  { bearings, pairs }: Workspace,
  { high, bind }: WindowColumns["levelsN"],
): void {
  const [a, b] = bearings;
  for (let i = 0; i < count; i += 1) {
    const aA = a.grooveDistanceMm[i];
    const aB = b.grooveDistanceMm[i];
    const bindN = Math.min(
      limits.bindN,
      forceAt(displacementAt(a.limitDeflectionMm[i], aA, pairs.wA[i]), aA, pairs.wA[i], a.stiffness[i]),
      forceAt(displacementAt(b.limitDeflectionMm[i], aB, pairs.wB[i]), aB, pairs.wB[i], b.stiffness[i]),
    );
    bind[i] = bindN;
    high[i] = Math.min(limits.highN, bindN);
  }
}
