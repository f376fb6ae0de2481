import { cbrt } from "../numeric/elementary.ts";
import type { StateColumns, Workspace } from "./columns.ts";
import { clearanceTerm, deflectionAt, deflectionForForce, displacementAt, halfPlay, solvePairs } from "./contact.ts";
import { BIND_BY_PRESSURE, CLAMP_EXCEEDED, classify, RING_WALK } from "./outcome.ts";
import type { ModelPlan } from "./plan.ts";
import { solveSprung, springGive } from "./spring.ts";

/**
 * Solves every pair of a block in one state: preload, play left, what the rings hold, class and flags. Expects offsets,
 * clearances and holds in place; takes what rings have slid so far off the offset and adds what slides now.
 */
export function evaluatePairs(plan: ModelPlan, count: number, workspace: Workspace, out: StateColumns): void {
  const [a, b] = workspace.bearings;
  const { offsetMm, clearanceAMm, clearanceBMm, preloadN, playMm, outcome, flags } = out;
  const { slipMm, clampHoldN, frictionHoldN, pairs, signedMm, spring } = workspace;
  const { complianceMmPerN, limits, pressureLimited } = plan;
  for (let i = 0; i < count; i += 1) {
    const offset = offsetMm[i] - slipMm[i];
    offsetMm[i] = offset;
    signedMm[i] = offset;
    pairs.offsetMm[i] = offset < 0 ? -offset : offset;
    pairs.wA[i] = clearanceTerm(a.grooveDistanceMm[i], clearanceAMm[i]);
    pairs.wB[i] = clearanceTerm(b.grooveDistanceMm[i], clearanceBMm[i]);
  }
  if (spring === null) solvePairs(pairs, count, complianceMmPerN);
  else solveSprung(complianceMmPerN, count, workspace, spring, out);
  for (let i = 0; i < count; i += 1) {
    const offset = signedMm[i];
    let force = pairs.forceN[i];
    let play = 0;
    if (force === 0) {
      const isFree = spring !== null && spring.stuck[i] === 0 && offset < 0;
      play = isFree ? freePlay(plan, workspace, i) : axialPlay(offset, halfPlay(pairs.wA[i]), halfPlay(pairs.wB[i]));
    } else if (offset > 0 && (force > clampHoldN[i] || force > frictionHoldN[i])) {
      const slides = frictionHoldN[i] <= clampHoldN[i];
      flags[i] |= slides ? RING_WALK : CLAMP_EXCEEDED;
      force = slides ? frictionHoldN[i] : clampHoldN[i];
      pairs.xA[i] = displacementFor(force, a.grooveDistanceMm[i], pairs.wA[i], a.stiffness[i]);
      pairs.xB[i] = displacementFor(force, b.grooveDistanceMm[i], pairs.wB[i], b.stiffness[i]);
      let give = 0;
      if (spring !== null && spring.stuck[i] === 0) {
        give = springGive(spring, i, force);
        spring.giveMm[i] = give;
      }
      if (slides) slipMm[i] += offset - (pairs.xA[i] + pairs.xB[i] + complianceMmPerN * force + give);
    }
    let pressureExceeded = false;
    if (pressureLimited) {
      pressureExceeded =
        deflectionAt(pairs.xA[i], a.grooveDistanceMm[i], pairs.wA[i]) > a.limitDeflectionMm[i] ||
        deflectionAt(pairs.xB[i], b.grooveDistanceMm[i], pairs.wB[i]) > b.limitDeflectionMm[i];
      if (pressureExceeded) flags[i] |= BIND_BY_PRESSURE;
    }
    const signed = offset < 0 && force > 0 ? -force : force;
    preloadN[i] = signed;
    playMm[i] = play;
    outcome[i] = classify(signed, pressureExceeded, limits);
  }
}

/** Axial play of a shaft whose spring hangs free, mm: the bearing that does not slide holds it alone. */
function freePlay(plan: ModelPlan, { pairs }: Workspace, i: number): number {
  return 2 * halfPlay(plan.spring?.slidingBearing === 0 ? pairs.wB[i] : pairs.wA[i]);
}

/**
 * Axial play of the shaft end to end while nothing carries, mm. The shaft may move from where bearing a stops it to where
 * bearing b does, in either direction: min(p_a − δ/2, p_b + δ/2) + min(p_b − δ/2, p_a + δ/2) with p half the end-to-end
 * play of each bearing; (P_a + P_b)/2 − |δ| unless one bearing has so much less play that it stops the shaft both ways.
 */
export function axialPlay(offsetMm: number, halfPlayAMm: number, halfPlayBMm: number): number {
  const d = 0.5 * offsetMm;
  const forward = Math.min(halfPlayAMm - d, halfPlayBMm + d);
  const backward = Math.min(halfPlayBMm - d, halfPlayAMm + d);
  return Math.max(0, forward + backward);
}

/**
 * Offset at which a pair carries a preload, mm: δ(F) = x_a(F) + x_b(F) + c·F; δ(0) is the onset (P_a + P_b)/2.
 */
export function pairOffsetFor(
  forceN: number,
  aA: number,
  wA: number,
  kA: number,
  aB: number,
  wB: number,
  kB: number,
  complianceMmPerN: number,
): number {
  return displacementFor(forceN, aA, wA, kA) + displacementFor(forceN, aB, wB, kB) + complianceMmPerN * forceN;
}

/** Axial displacement at which one bearing carries a force, mm. */
export function displacementFor(forceN: number, grooveDistanceMm: number, w: number, stiffness: number): number {
  const root = cbrt(forceN / stiffness);
  return displacementAt(deflectionForForce(root * root, grooveDistanceMm, w), grooveDistanceMm, w);
}
