import type { PairColumns } from "../kernel/columns.ts";
import type { Kernel } from "../kernel/kernel.ts";
import { PLAIN_KERNEL } from "../kernel/plain.ts";

export type { PairColumns } from "../kernel/columns.ts";
export { deflectionForForce, displacementAt, displacementFor, pairOffsetFor } from "../kernel/plain/offsets.ts";
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
