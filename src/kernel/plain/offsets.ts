import { cbrt } from "../../numeric/elementary.ts";
import type { Kernel } from "../kernel.ts";

/** The way back: from the preload of a pair to the offset that gives it. Equation and letters: see the model's contact. */

/**
 * Contact deflection at which one bearing carries an axial force: the root of t³(w + 2At + t²) = τ³(A + t)²,
 * τ = (F/(Z·K))^(2/3), found by Newton from above, where the left side less the right is convex.
 *
 * @param tau (F/(Z·K))^(2/3), mm, not negative
 * @returns t, mm; for F = 0 the deflection at which the bearing starts to carry (0, or R − A with radial interference)
 */
export function deflectionForForce(tau: number, grooveDistanceMm: number, w: number): number {
  const a = grooveDistanceMm;
  // x² = w + 2At + t² must not be negative: with radial interference the balls are squeezed by at least R − A.
  const least = w < 0 ? -w / (Math.sqrt(a * a - w) + a) : 0;
  if (tau <= 0) return least;
  if (tau === Number.POSITIVE_INFINITY) return tau;
  const tau3 = tau * tau * tau;
  // Upper bound: x² ≥ 2At (+ w), so t³·(larger of w and 2At) ≤ τ³(A + t)².
  let t = least + tau;
  while (t * t * t * (w + t * (2 * a + t)) < tau3 * (a + t) * (a + t)) t *= 2;
  for (let iteration = 0; iteration < 60; iteration += 1) {
    const x2 = w + t * (2 * a + t);
    const s = a + t;
    const value = t * t * t * x2 - tau3 * s * s;
    const slope = t * t * (3 * x2 + 2 * t * s) - 2 * tau3 * s;
    const step = value / slope;
    const next = t - step;
    if (!(next > least)) {
      t = 0.5 * (t + least);
      continue;
    }
    t = next;
    if (Math.abs(step) <= 1e-9 * t) return t;
  }
  return t;
}

/** Axial displacement x that belongs to a contact deflection t, mm: √(w + 2At + t²). */
export function displacementAt(deflectionMm: number, grooveDistanceMm: number, w: number): number {
  const x2 = w + deflectionMm * (2 * grooveDistanceMm + deflectionMm);
  return x2 > 0 ? Math.sqrt(x2) : 0;
}

/** Axial displacement at which one bearing carries a force, mm. */
export function displacementFor(forceN: number, grooveDistanceMm: number, w: number, stiffness: number): number {
  const root = cbrt(forceN / stiffness);
  return displacementAt(deflectionForForce(root * root, grooveDistanceMm, w), grooveDistanceMm, w);
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

export const fillPairOffsets: Kernel["fillPairOffsets"] = (forceN, pairs, commonMmPerN, out, count) => {
  const { distanceA, wA, stiffnessA, distanceB, wB, stiffnessB } = pairs;
  for (let i = 0; i < count; i += 1) {
    const a = distanceA[i];
    const b = distanceB[i];
    out[i] = pairOffsetFor(forceN[i], a, wA[i], stiffnessA[i], b, wB[i], stiffnessB[i], commonMmPerN);
  }
};
