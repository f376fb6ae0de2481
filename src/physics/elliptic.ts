import { InputError, InternalError } from "../errors.ts";

/** The two complete elliptic integrals of one modulus, and their difference without loss of digits. */
export interface EllipticIntegrals {
  /** K, first kind. */
  readonly first: number;
  /** E, second kind. */
  readonly second: number;
  /** (K − E)/K, which tends to 0 with the modulus. */
  readonly deficitRatio: number;
}

/**
 * Complete elliptic integrals of the first and second kind by the arithmetic-geometric mean.
 *
 * K = ∫₀^½π dφ/√(1 − k² sin²φ), E = ∫₀^½π √(1 − k² sin²φ) dφ, with k² = 1 − n and n → `complementRatio`.
 * a₀ = 1, b₀ = √n, aₙ₊₁ = (aₙ + bₙ)/2, bₙ₊₁ = √(aₙbₙ), cₙ₊₁ = (aₙ − bₙ)/2: K = π/(2a∞), E = K(1 − Σ 2ⁿ⁻¹cₙ²).
 *
 * @param complementRatio n = 1 − k², the squared complementary modulus, in (0, 1]
 * @returns K, E and (K − E)/K, all without unit
 * @throws InputError outside the range (K is infinite at n = 0)
 *
 * Source: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 1964, 17.6.
 * Accuracy: relative 1e-15 in K and E.
 */
export function completeEllipticIntegrals(complementRatio: number): EllipticIntegrals {
  if (!(complementRatio > 0 && complementRatio <= 1)) {
    throw new InputError({
      code: "out-of-range",
      path: "complementRatio",
      expected: "a squared complementary modulus above 0 and up to 1",
      got: String(complementRatio),
    });
  }
  let arithmetic = 1;
  let geometric = Math.sqrt(complementRatio);
  let weight = 0.5;
  let deficit = weight * (1 - complementRatio);
  // The gap squares at every step; 40 steps are far more than any double needs.
  for (let step = 0; step < 40; step++) {
    const halfGap = 0.5 * (arithmetic - geometric);
    const next = 0.5 * (arithmetic + geometric);
    geometric = Math.sqrt(arithmetic * geometric);
    arithmetic = next;
    weight *= 2;
    deficit += weight * halfGap * halfGap;
    if (halfGap <= 1e-9 * arithmetic) break;
  }
  const first = Math.PI / (2 * arithmetic);
  return { first, second: first * (1 - deficit), deficitRatio: deficit };
}

/**
 * Axis ratio κ = a/b of a Hertz contact from the curvature difference.
 *
 * F(ρ) = [(κ² + 1)E − 2K]/[(κ² − 1)E], k² = 1 − 1/κ²; solved as 1 − F(ρ) = 2n(K − E)/[(1 − n)E] in n = 1/κ².
 * Newton's method on the logarithms (slope between 3/8 and 1), which converges from anywhere.
 *
 * @param complementRatio 1 − F(ρ), in (0, 1]; given as the complement since F(ρ) of a ball in a groove is close to 1
 * @returns κ, from 1 (a circle) upwards, without unit
 * @throws InputError outside the range
 *
 * Source: equation in T. A. Harris, Rolling Bearing Analysis, "Contact stress and deformation" (curvature difference).
 * Accuracy: relative 1e-14.
 */
export function axisRatioFromCurvatureDifferenceComplement(complementRatio: number): number {
  if (!(complementRatio > 0 && complementRatio <= 1)) {
    throw new InputError({
      code: "impossible-geometry",
      path: "curvatureDifferenceRatio",
      expected: "a curvature difference from 0 to below 1",
      got: String(1 - complementRatio),
    });
  }
  if (complementRatio > 1 - 4e-16) return 1;
  let n = Math.min(1, 0.5 * complementRatio);
  for (let step = 0; step < 60; step++) {
    const { first, second, deficitRatio } = completeEllipticIntegrals(n);
    if (n === 1) {
      n = 0.999;
      continue;
    }
    const value = (2 * n * deficitRatio) / ((1 - n) * (1 - deficitRatio));
    // d ln(value)/d ln(n); cancellation near the circle is cut off at its known limit 3/8.
    const slope =
      1 + n / (1 - n) - (0.5 * second) / (first * deficitRatio) - (0.5 * n * first * deficitRatio) / (second * (1 - n));
    const change = (complementRatio / value - 1) / Math.min(1, Math.max(0.375, slope));
    const next = Math.min(1, n * (1 + Math.max(-0.9, change)));
    // Convergence is quadratic: a step of 1e-9 leaves an error at the rounding level.
    if (Math.abs(next - n) <= 1e-9 * n) return 1 / Math.sqrt(next);
    n = next;
  }
  throw new InternalError(`axis ratio did not settle for 1 − F = ${complementRatio}`);
}
