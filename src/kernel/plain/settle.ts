import type { Kernel } from "../kernel.ts";
import { classify } from "../outcomes.ts";

/** What stands before and after the pair solver. Meaning of each: see `Kernel`. */

export const preparePairs: Kernel["preparePairs"] = (offset, slip, clearanceA, clearanceB, signed, pairs, count) => {
  const { offsetMm, distanceA, distanceB, wA, wB } = pairs;
  for (let i = 0; i < count; i += 1) {
    const left = offset[i] - slip[i];
    offset[i] = left;
    signed[i] = left;
    offsetMm[i] = Math.abs(left);
    const halfA = 0.5 * clearanceA[i];
    const halfB = 0.5 * clearanceB[i];
    wA[i] = halfA * (2 * distanceA[i] - halfA);
    wB[i] = halfB * (2 * distanceB[i] - halfB);
  }
};

export const anyAbove: Kernel["anyAbove"] = (force, limit, count) => {
  for (let i = 0; i < count; i += 1) if (force[i] > limit[i]) return true;
  return false;
};

export const settlePairs: Kernel["settlePairs"] = (offset, pairs, limits, limitA, limitB, out, count) => {
  const { forceN, distanceA, distanceB, wA, wB, xA, xB } = pairs;
  const { preloadN, playMm, outcome, flags } = out;
  const { pressureLimited, pressureFlag } = limits;
  for (let i = 0; i < count; i += 1) {
    const delta = offset[i];
    const force = forceN[i];
    const preload = delta < 0 && force > 0 ? -force : force;
    preloadN[i] = preload;
    playMm[i] = force === 0 ? axialPlay(delta, Math.sqrt(Math.max(wA[i], 0)), Math.sqrt(Math.max(wB[i], 0))) : 0;
    const pressed =
      pressureLimited &&
      (isPressed(xA[i], wA[i], distanceA[i], limitA[i]) || isPressed(xB[i], wB[i], distanceB[i], limitB[i]));
    if (pressed) flags[i] |= pressureFlag;
    outcome[i] = classify(preload, pressed, limits);
  }
};

/** Whether the contact deflection s − A at displacement x is beyond a limit L: s² > (A + L)², that is x² − w > L(2A + L). */
function isPressed(x: number, w: number, distance: number, limit: number): boolean {
  return x * x - w > limit * (2 * distance + limit);
}

/**
 * Axial play of the shaft end to end while nothing carries, mm. The shaft may move from where bearing a stops it to where
 * bearing b does, in either direction: min(p_a − δ/2, p_b + δ/2) + min(p_b − δ/2, p_a + δ/2) with p half the end-to-end
 * play of each bearing; (P_a + P_b)/2 − |δ| unless one bearing has so much less play that it stops the shaft both ways.
 */
export function axialPlay(offsetMm: number, halfPlayAMm: number, halfPlayBMm: number): number {
  const d = 0.5 * offsetMm;
  const forwardA = halfPlayAMm - d;
  const forwardB = halfPlayBMm + d;
  const backwardA = halfPlayAMm + d;
  const backwardB = halfPlayBMm - d;
  const play = Math.min(forwardB, forwardA) + Math.min(backwardA, backwardB);
  return Math.max(play, 0);
}
