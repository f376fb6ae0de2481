/**
 * A spring that sets the preload through a sliding ring: x_a + x_b + c·F + g(F) = δ, with δ the offset with the spring at its
 * free length as if it were solid and g(F) = min(F/k, travel) what it is pressed by. Solid, only the structure gives.
 *
 * Where the seat of the sliding ring closes the ring is stuck: the spring keeps the length it had in the last state in which
 * the ring slid, and the pair behaves as one by position. On the bench the ring has been slid into place, whatever its fit.
 */
import type { StateColumns, Workspace } from "./columns.ts";
import { type PairColumns, solvePairs } from "./contact.ts";
import type { SpringPlan } from "./device-plan.ts";
import { SPRING_SOLID, SPRING_STUCK } from "./outcome.ts";
import type { SpringColumns } from "./spring-columns.ts";

/** Fills what the spring of each unit is like; its ring has not slid yet. */
export function fillSprings(
  plan: SpringPlan,
  inputs: readonly Float64Array[],
  count: number,
  springs: SpringColumns,
): void {
  const { perRateMmPerN, travelMm, lastGiveMm } = springs;
  const rate = inputs[plan.rate];
  const from = plan.travelFrom === null ? null : inputs[plan.travelFrom];
  const less = plan.travelLess === null ? null : inputs[plan.travelLess];
  for (let i = 0; i < count; i += 1) {
    perRateMmPerN[i] = 1 / (plan.rateRatio * rate[i]);
    travelMm[i] =
      from === null
        ? Number.POSITIVE_INFINITY
        : Math.max(0, plan.travelRatio * (from[i] - (less === null ? 0 : less[i])));
    lastGiveMm[i] = 0;
  }
}

/**
 * Sets which rings are stuck in a state, from the flags of lost seats: a ring that slides must be loose, so that its flag is
 * taken back and the opposite one raised where it is not.
 */
export function markStuck(
  plan: SpringPlan,
  isBench: boolean,
  count: number,
  springs: SpringColumns,
  flags: Uint16Array,
): void {
  const { stuck } = springs;
  const { looseFlag } = plan;
  for (let i = 0; i < count; i += 1) {
    const isLoose = (flags[i] & looseFlag) !== 0;
    if (isLoose) flags[i] &= ~looseFlag;
    else flags[i] |= SPRING_STUCK;
    stuck[i] = isLoose || isBench ? 0 : 1;
  }
}

/** Solves the pairs of a block in one state. Expects signed offsets and clearance terms in place; sets what the spring gives. */
export function solveSprung(
  complianceMmPerN: number,
  count: number,
  workspace: Workspace,
  springs: SpringColumns,
  out: StateColumns,
): void {
  const { kernel, pairs, signedMm } = workspace;
  const { perRateMmPerN, travelMm, giveMm, lastGiveMm, stuck, solid, solidRow } = springs;
  const extra = pairs.extraMmPerN!;
  for (let i = 0; i < count; i += 1) {
    if (stuck[i] === 1) {
      const rest = signedMm[i] - lastGiveMm[i];
      signedMm[i] = rest;
      pairs.offsetMm[i] = rest < 0 ? -rest : rest;
      extra[i] = 0;
    } else {
      // A spring pushes and never pulls.
      pairs.offsetMm[i] = Math.max(signedMm[i], 0);
      extra[i] = perRateMmPerN[i];
    }
  }
  kernel.solvePairs(pairs, count, complianceMmPerN);
  let solids = 0;
  for (let i = 0; i < count; i += 1) {
    if (stuck[i] === 1) {
      giveMm[i] = lastGiveMm[i];
      continue;
    }
    const give = pairs.forceN[i] * perRateMmPerN[i];
    giveMm[i] = give;
    if (give > travelMm[i]) {
      giveMm[i] = travelMm[i];
      out.flags[i] |= SPRING_SOLID;
      pick(pairs, i, solid, solids, travelMm[i]);
      solidRow[solids] = i;
      solids += 1;
    }
  }
  if (solids === 0) return;
  solvePairs(solid, solids, complianceMmPerN);
  for (let place = 0; place < solids; place += 1) {
    const i = solidRow[place];
    pairs.forceN[i] = solid.forceN[place];
    pairs.xA[i] = solid.xA[place];
    pairs.xB[i] = solid.xB[place];
  }
}

function pick(from: PairColumns, i: number, to: PairColumns, place: number, travelMm: number): void {
  to.offsetMm[place] = from.offsetMm[i] - travelMm;
  to.distanceA[place] = from.distanceA[i];
  to.distanceB[place] = from.distanceB[i];
  to.wA[place] = from.wA[i];
  to.wB[place] = from.wB[i];
  to.stiffnessA[place] = from.stiffnessA[i];
  to.stiffnessB[place] = from.stiffnessB[i];
}

/** Keeps where the rings stand that slid in this state, for the states in which they are stuck. */
export function rememberSprings(
  count: number,
  workspace: Workspace,
  springs: SpringColumns,
  rawOffsetMm: Float64Array,
): void {
  const { stuck, giveMm, lastGiveMm, lastWA, lastWB, lastShiftMm } = springs;
  const { pairs, machinedOffsetMm } = workspace;
  for (let i = 0; i < count; i += 1) {
    if (stuck[i] === 1) continue;
    lastGiveMm[i] = giveMm[i];
    lastWA[i] = pairs.wA[i];
    lastWB[i] = pairs.wB[i];
    lastShiftMm[i] = rawOffsetMm[i] - machinedOffsetMm[i];
  }
}

/** What a spring is pressed by under a force, g(F) = min(F/k, travel), mm. */
export function springGive(springs: SpringColumns, i: number, forceN: number): number {
  return Math.min(forceN * springs.perRateMmPerN[i], springs.travelMm[i]);
}

/**
 * Machined offset that gives a stuck pair a closing of its bearings, mm. The spring's length was set when the ring slid last, by
 * the same machined offset: solved there for the preload F with x_a + x_b + c·F = closing − (shift now − shift then), then
 * machined offset = that + g(F) − shift then.
 *
 * @param closingMm x_a + x_b + c·F that is wanted in the state at work
 */
export function machinedForStuck(
  workspace: Workspace,
  springs: SpringColumns,
  i: number,
  closingMm: number,
  shiftMm: number,
  complianceMmPerN: number,
): number {
  const { single, lastShiftMm } = springs;
  const then = closingMm - (shiftMm - lastShiftMm[i]);
  const [a, b] = workspace.bearings;
  single.offsetMm[0] = Math.max(then, 0);
  single.distanceA[0] = a.grooveDistanceMm[i];
  single.distanceB[0] = b.grooveDistanceMm[i];
  single.stiffnessA[0] = a.stiffness[i];
  single.stiffnessB[0] = b.stiffness[i];
  single.wA[0] = springs.lastWA[i];
  single.wB[0] = springs.lastWB[i];
  solvePairs(single, 1, complianceMmPerN);
  return then + springGive(springs, i, single.forceN[0]) - lastShiftMm[i];
}
