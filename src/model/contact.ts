import type { PairColumns } from "../kernel/columns.ts";
import type { Kernel } from "../kernel/kernel.ts";
import { PLAIN_KERNEL } from "../kernel/plain.ts";

export type { PairColumns } from "../kernel/columns.ts";
export { solvePairs } from "../kernel/plain/pairs.ts";

/**
 * Contact of a pair of ball bearings along its axis, one sample at a time, in a form that needs only square roots.
 *
 * A bearing in a state is given by four numbers:
 *  - A, the unloaded groove-centre distance, mm
 *  - w = A² − R² with R = A − G/2, that is w = (G/2)(2A − G/2), mm²; negative with radial interference
 *  - Z·K, ball count times the load–deflection constant, N/mm^1.5
 *  - half its end-to-end axial play, √w where w > 0 and 0 otherwise, mm
 *
 * Equation: F(x) = Z·K·t^1.5·x/s, s = √(R² + x²), t = s − A = (x² − w)/(s + A), F = 0 where t ≤ 0. Writing the contact
 * deflection t as a quotient keeps its digits close to the onset, where s and A nearly cancel.
 * Source: T. A. Harris, Rolling Bearing Analysis (thrust-loaded ball bearings), rearranged.
 */

/** w = (G/2)(2A − G/2), mm². */
export function clearanceTerm(grooveDistanceMm: number, clearanceMm: number): number {
  const half = 0.5 * clearanceMm;
  return half * (2 * grooveDistanceMm - half);
}

/** Half the end-to-end axial play, mm: √w, 0 with radial interference. */
export function halfPlay(w: number): number {
  return w > 0 ? Math.sqrt(w) : 0;
}

/** Contact deflection t at axial displacement x ≥ 0, mm; not above 0 when nothing touches. */
export function deflectionAt(xMm: number, grooveDistanceMm: number, w: number): number {
  const s = Math.sqrt(grooveDistanceMm * grooveDistanceMm - w + xMm * xMm);
  return (xMm * xMm - w) / (s + grooveDistanceMm);
}

/** Axial force of one bearing at displacement x ≥ 0, N. */
export function forceAt(xMm: number, grooveDistanceMm: number, w: number, stiffness: number): number {
  const s = Math.sqrt(grooveDistanceMm * grooveDistanceMm - w + xMm * xMm);
  const t = (xMm * xMm - w) / (s + grooveDistanceMm);
  return t > 0 ? (stiffness * t * Math.sqrt(t) * xMm) / s : 0;
}

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

/** The constants of one bearing that a pair is given by. */
export interface ContactConstants {
  readonly grooveDistanceMm: Float64Array;
  readonly stiffness: Float64Array;
}

/** Columns for the solver over the constants of two bearings. */
export function createPairColumns(
  kernel: Kernel,
  size: number,
  a: ContactConstants,
  b: ContactConstants,
  hasExtra = false,
): PairColumns {
  const column = () => kernel.column(size);
  return {
    offsetMm: column(),
    ...(hasExtra ? { extraMmPerN: column() } : {}),
    distanceA: a.grooveDistanceMm,
    wA: column(),
    stiffnessA: a.stiffness,
    distanceB: b.grooveDistanceMm,
    wB: column(),
    stiffnessB: b.stiffness,
    forceN: column(),
    xA: column(),
    xB: column(),
  };
}

/** Columns of their own for pairs that are picked out of a block, to be solved by the plain loop. */
export function createLoosePairColumns(size: number): PairColumns {
  const bearing = () => ({ grooveDistanceMm: new Float64Array(size), stiffness: new Float64Array(size) });
  return createPairColumns(PLAIN_KERNEL, size, bearing(), bearing());
}
