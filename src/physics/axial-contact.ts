/**
 * One ball bearing under a central axial displacement.
 *
 * A → `grooveCentreDistanceMm`, distance of the two groove centres with the ball just touching both; G → `clearanceMm`,
 * radial clearance (negative: radial interference), below 2A; x → `displacementMm`, axial displacement of the inner
 * groove from the middle; R = A − G/2; s = √(R² + x²), distance of the groove centres; C → `ballSetStiffnessNPerMm15`,
 * number of balls times the stiffness of one ball between the rings.
 *
 * The functions of the hot path take plain numbers and check nothing: what stands in a scenario is checked before.
 */
import { InputError, InternalError } from "../errors.ts";
import { atan2, cbrt, cos } from "../numeric/elementary.ts";

/**
 * Distance of the groove centres with the ball just touching both grooves, A = (fᵢ + fₒ − 1)·Dw.
 *
 * @param conformityInnerRatio fᵢ, above 0.5
 * @param conformityOuterRatio fₒ, above 0.5
 * @param ballDiameterMm Dw, mm
 * @returns A, mm
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Ball bearings: macrogeometry".
 */
export function grooveCentreDistanceMm(
  conformityInnerRatio: number,
  conformityOuterRatio: number,
  ballDiameterMm: number,
): number {
  return (conformityInnerRatio + conformityOuterRatio - 1) * ballDiameterMm;
}

/**
 * Axial displacement from the middle at which the balls begin to carry, x₀ = √(A² − R²) = √(G·(A − G/4)).
 *
 * @param grooveDistanceMm A, mm, above 0
 * @param clearanceMm G, mm, below 2A; at 0 and below (radial interference) the bearing carries at once and x₀ = 0
 * @returns x₀, mm: half of the axial play
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Free contact angle and endplay". Accuracy: relative 1e-15.
 */
export function halfAxialPlayMm(grooveDistanceMm: number, clearanceMm: number): number {
  return clearanceMm > 0 ? Math.sqrt(clearanceMm * (grooveDistanceMm - 0.25 * clearanceMm)) : 0;
}

/**
 * Axial play from end to end, P_e = 2·A·sin α₀ = 2·x₀.
 *
 * @param grooveDistanceMm A, mm, above 0
 * @param clearanceMm G, mm, below 2A
 * @returns P_e, mm. The bearing starts to carry at half of it from its middle.
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Free contact angle and endplay". Accuracy: relative 1e-15.
 */
export function axialPlayMm(grooveDistanceMm: number, clearanceMm: number): number {
  return 2 * halfAxialPlayMm(grooveDistanceMm, clearanceMm);
}

/**
 * Contact angle with all play taken up and no load, cos α₀ = 1 − G/(2A).
 *
 * @param grooveDistanceMm A, mm, above 0
 * @param clearanceMm G, mm, below 2A; at 0 and below the angle is 0
 * @returns α₀, rad, 0 to below ½π
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Free contact angle and endplay". Accuracy: relative 1e-15, small angles too.
 */
export function freeContactAngleRad(grooveDistanceMm: number, clearanceMm: number): number {
  return atan2(halfAxialPlayMm(grooveDistanceMm, clearanceMm), grooveDistanceMm - 0.5 * clearanceMm);
}

/**
 * Radial clearance that gives a free contact angle, G = 2A(1 − cos α₀): an angular-contact bearing as a clearance.
 *
 * @param grooveDistanceMm A, mm, above 0
 * @param freeAngleRad α₀, rad, 0 to below ½π
 * @returns G, mm
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Free contact angle and endplay".
 */
export function clearanceForFreeAngleMm(grooveDistanceMm: number, freeAngleRad: number): number {
  return 2 * grooveDistanceMm * (1 - cos(freeAngleRad));
}

/**
 * Approach of ball and rings, δ = s − A, over both contacts together; negative while there is a gap.
 *
 * Written as (x² − G(A − G/4))/(s + A), which keeps its digits where s and A are nearly equal.
 *
 * @returns δ, mm
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Ball bearings under thrust load".
 */
export function contactDeflectionMm(displacementMm: number, grooveDistanceMm: number, clearanceMm: number): number {
  const radialMm = grooveDistanceMm - 0.5 * clearanceMm;
  const squared = displacementMm * displacementMm;
  const distanceMm = Math.sqrt(radialMm * radialMm + squared);
  return (squared - clearanceMm * (grooveDistanceMm - 0.25 * clearanceMm)) / (distanceMm + grooveDistanceMm);
}

/**
 * Axial force of one bearing, F(x) = C·(s − A)^1.5·x/s where the balls touch, else 0. Odd in x.
 *
 * @param displacementMm x, mm, any sign
 * @param ballSetStiffnessNPerMm15 C = Z·K, N/mm^1.5
 * @param grooveDistanceMm A, mm
 * @param clearanceMm G, mm, below 2A, negative allowed
 * @returns F, N, with the sign of x
 *
 * Valid for: quasi-static, equal balls, rigid rings, one contact angle at both races. Source: T. A. Harris, Rolling
 * Bearing Analysis, "Ball bearings under thrust load", with the Hertz exponent 1.5. Accuracy: relative 1e-14.
 */
export function axialForceN(
  displacementMm: number,
  ballSetStiffnessNPerMm15: number,
  grooveDistanceMm: number,
  clearanceMm: number,
): number {
  const radialMm = grooveDistanceMm - 0.5 * clearanceMm;
  const squared = displacementMm * displacementMm;
  const excess = squared - clearanceMm * (grooveDistanceMm - 0.25 * clearanceMm);
  if (!(excess > 0)) return 0;
  const distanceMm = Math.sqrt(radialMm * radialMm + squared);
  const deflectionMm = excess / (distanceMm + grooveDistanceMm);
  return (ballSetStiffnessNPerMm15 * deflectionMm * Math.sqrt(deflectionMm) * displacementMm) / distanceMm;
}

/**
 * Axial stiffness of one bearing, dF/dx = C·[1.5·√δ·x²/s² + δ^1.5·R²/s³] where the balls touch, else 0. Even in x.
 *
 * @returns N/mm; parameters as for `axialForceN`
 *
 * Source: derivative of the force above (derivation). Accuracy: relative 1e-14.
 */
export function axialStiffnessNPerMm(
  displacementMm: number,
  ballSetStiffnessNPerMm15: number,
  grooveDistanceMm: number,
  clearanceMm: number,
): number {
  const radialMm = grooveDistanceMm - 0.5 * clearanceMm;
  const squared = displacementMm * displacementMm;
  const excess = squared - clearanceMm * (grooveDistanceMm - 0.25 * clearanceMm);
  if (!(excess > 0)) return 0;
  const distanceSquared = radialMm * radialMm + squared;
  const distanceMm = Math.sqrt(distanceSquared);
  const deflectionMm = excess / (distanceMm + grooveDistanceMm);
  return (
    (ballSetStiffnessNPerMm15 *
      Math.sqrt(deflectionMm) *
      (1.5 * squared + (deflectionMm * radialMm * radialMm) / distanceMm)) /
    distanceSquared
  );
}

/**
 * Contact angle under load, tan α = x/R.
 *
 * @returns α, rad, with the sign of x
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Ball bearings under thrust load".
 */
export function contactAngleRad(displacementMm: number, grooveDistanceMm: number, clearanceMm: number): number {
  return atan2(displacementMm, grooveDistanceMm - 0.5 * clearanceMm);
}

/**
 * Load of one ball, Q = K·δ^1.5, which is F/(Z·sin α) and holds at x = 0 with radial interference too.
 *
 * @param displacementMm x, mm
 * @param ballStiffnessNPerMm15 K of one ball between both rings, N/mm^1.5
 * @param grooveDistanceMm A, mm
 * @param clearanceMm G, mm
 * @returns Q, N
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Ball bearings under thrust load".
 */
export function ballLoadN(
  displacementMm: number,
  ballStiffnessNPerMm15: number,
  grooveDistanceMm: number,
  clearanceMm: number,
): number {
  const deflectionMm = contactDeflectionMm(displacementMm, grooveDistanceMm, clearanceMm);
  return deflectionMm > 0 ? ballStiffnessNPerMm15 * deflectionMm * Math.sqrt(deflectionMm) : 0;
}

/**
 * Axial displacement at which a bearing carries a given force: the inverse of `axialForceN`.
 *
 * Newton's method from above the root, held inside a bracket; the force is convex in x beyond the onset.
 *
 * @param forceN F, N, any sign; 0 gives the onset x₀ (positive)
 * @param ballSetStiffnessNPerMm15 C, N/mm^1.5, above 0
 * @param grooveDistanceMm A, mm
 * @param clearanceMm G, mm, below 2A
 * @returns x, mm, with the sign of the force
 *
 * Source: own solution of the equation above. Accuracy: relative 1e-13 in the force.
 */
export function axialDisplacementMm(
  forceN: number,
  ballSetStiffnessNPerMm15: number,
  grooveDistanceMm: number,
  clearanceMm: number,
): number {
  const onsetMm = halfAxialPlayMm(grooveDistanceMm, clearanceMm);
  if (forceN === 0) return onsetMm;
  const target = Math.abs(forceN);
  const root = cbrt(target / ballSetStiffnessNPerMm15);
  // Grows with both the deflection and the way the rings must slide to reach it; doubled where it still falls short.
  let high = onsetMm + 2 * root * root + Math.sqrt(4 * grooveDistanceMm * root * root);
  while (axialForceN(high, ballSetStiffnessNPerMm15, grooveDistanceMm, clearanceMm) < target) high *= 2;
  let low = onsetMm;
  let x = high;
  for (let step = 0; step < 100; step++) {
    const excess = axialForceN(x, ballSetStiffnessNPerMm15, grooveDistanceMm, clearanceMm) - target;
    if (excess >= 0) high = x;
    else low = x;
    const slope = axialStiffnessNPerMm(x, ballSetStiffnessNPerMm15, grooveDistanceMm, clearanceMm);
    const newton = x - excess / slope;
    if (Math.abs(newton - x) <= 4e-16 * x) return forceN < 0 ? -x : x;
    x = newton >= low && newton <= high ? newton : 0.5 * (low + high);
  }
  if (high - low <= 1e-12 * high) return forceN < 0 ? -x : x;
  throw new InternalError(`axial displacement for ${forceN} N did not settle`);
}

/** Refuse a clearance that lets the balls fall between the rings: G must be below 2A (contact angle below ½π). */
export function requirePossibleClearance(grooveDistanceMm: number, clearanceMm: number, path: string): void {
  if (!(grooveDistanceMm > 0 && clearanceMm < 2 * grooveDistanceMm && clearanceMm > -2 * grooveDistanceMm)) {
    throw new InputError({
      code: "impossible-geometry",
      path,
      expected: `a radial clearance below ${2 * grooveDistanceMm} mm, twice the distance of the groove centres`,
      got: `${clearanceMm} mm`,
    });
  }
}
