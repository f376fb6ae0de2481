import type { StateColumns, Workspace } from "./columns.ts";
import { displacementFor, halfPlay } from "./contact.ts";
import { BIND_BY_PRESSURE, CLAMP_EXCEEDED, RING_WALK } from "./outcome.ts";
import type { ModelPlan } from "./plan.ts";
import { solveSprung, springGive } from "./spring.ts";
import type { SpringColumns } from "./spring-columns.ts";

/**
 * Solves every pair of a block in one state: preload, play left, what the rings hold, class and flags. Expects offsets,
 * clearances and holds in place; takes what rings have slid so far off the offset and adds what slides now.
 */
export function evaluatePairs(plan: ModelPlan, count: number, workspace: Workspace, out: StateColumns): void {
  const { kernel, pairs, bearings, slipMm, clampHoldN, frictionHoldN, signedMm, spring } = workspace;
  kernel.preparePairs(out.offsetMm, slipMm, out.clearanceAMm, out.clearanceBMm, signedMm, pairs, count);
  if (spring === null) kernel.solvePairs(pairs, count, plan.complianceMmPerN);
  else solveSprung(plan.complianceMmPerN, count, workspace, spring, out);
  if (plan.keepsEffective) out.effectiveMm.set(signedMm.subarray(0, count));
  if (
    (plan.clampHolds && kernel.anyAbove(pairs.forceN, clampHoldN, count)) ||
    (plan.canWalk && kernel.anyAbove(pairs.forceN, frictionHoldN, count))
  ) {
    slide(plan, count, workspace, out);
  }
  const limits = { ...plan.limits, pressureLimited: plan.pressureLimited, pressureFlag: BIND_BY_PRESSURE };
  const [a, b] = bearings;
  kernel.settlePairs(signedMm, pairs, limits, a.limitDeflectionMm, b.limitDeflectionMm, out, count);
  if (spring !== null) fillFreePlay(plan, count, workspace, spring, out.playMm);
}

/** Caps the preload where clamp or friction hold no more, and lets the rings slide that friction alone holds. */
function slide(plan: ModelPlan, count: number, workspace: Workspace, { flags, effectiveMm }: StateColumns): void {
  const { complianceMmPerN, keepsEffective } = plan;
  const [a, b] = workspace.bearings;
  const { slipMm, clampHoldN, frictionHoldN, pairs, signedMm, spring } = workspace;
  for (let i = 0; i < count; i += 1) {
    const offset = signedMm[i];
    const solved = pairs.forceN[i];
    if (!(offset > 0 && (solved > clampHoldN[i] || solved > frictionHoldN[i]))) continue;
    const slides = frictionHoldN[i] <= clampHoldN[i];
    flags[i] |= slides ? RING_WALK : CLAMP_EXCEEDED;
    const force = slides ? frictionHoldN[i] : clampHoldN[i];
    pairs.forceN[i] = force;
    pairs.xA[i] = displacementFor(force, a.grooveDistanceMm[i], pairs.wA[i], a.stiffness[i]);
    pairs.xB[i] = displacementFor(force, b.grooveDistanceMm[i], pairs.wB[i], b.stiffness[i]);
    let give = 0;
    if (spring !== null && spring.stuck[i] === 0) {
      give = springGive(spring, i, force);
      spring.giveMm[i] = give;
    }
    const held = pairs.xA[i] + pairs.xB[i] + complianceMmPerN * force + give;
    if (keepsEffective) effectiveMm[i] = held;
    if (slides) slipMm[i] += offset - held;
  }
}

/** Axial play of shafts whose spring hangs free: the bearing that does not slide holds them alone. */
function fillFreePlay(
  plan: ModelPlan,
  count: number,
  { pairs, signedMm }: Workspace,
  { stuck }: SpringColumns,
  playMm: Float64Array,
): void {
  const held = plan.spring?.slidingBearing === 0 ? pairs.wB : pairs.wA;
  for (let i = 0; i < count; i += 1) {
    if (pairs.forceN[i] === 0 && stuck[i] === 0 && signedMm[i] < 0) playMm[i] = 2 * halfPlay(held[i]);
  }
}
