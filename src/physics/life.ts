/** Rating life of ball bearings: from an equivalent load, and from the loads of the single balls. */
import { InputError } from "../errors.ts";
import { cbrt, cos, pow } from "../numeric/elementary.ts";
import { requirePositive } from "./guards.ts";

/** Life modification factor a₁ over the reliability. Source: ISO 281:2007, Table 12. */
const RELIABILITY_FACTORS: readonly (readonly [reliabilityPercent: number, a1: number])[] = [
  [90, 1],
  [95, 0.64],
  [96, 0.55],
  [97, 0.47],
  [98, 0.37],
  [99, 0.25],
];

/**
 * a₁ of one of the tabulated reliabilities; the standard gives nothing between them.
 *
 * @param reliabilityRatio 0.90, 0.95, 0.96, 0.97, 0.98 or 0.99
 * @throws InputError for any other
 *
 * Source: ISO 281:2007, Table 12.
 */
export function reliabilityFactor(reliabilityRatio: number): number {
  const row = RELIABILITY_FACTORS.find(([percent]) => Math.abs(100 * reliabilityRatio - percent) < 1e-9);
  if (row === undefined) {
    throw new InputError({
      code: "out-of-range",
      path: "reliabilityRatio",
      expected: "a reliability of 90, 95, 96, 97, 98 or 99 %",
      got: `${100 * reliabilityRatio} %`,
    });
  }
  return row[1];
}

/**
 * Basic rating life, L₁₀ = (C/P)³.
 *
 * @param dynamicRatingN C, N, above 0
 * @param equivalentLoadN P, N, 0 or more
 * @returns L₁₀, million revolutions; Infinity without load
 *
 * Source: ISO 281:2007, 5.3. Valid for P up to C/2.
 */
export function basicRatingLifeMrev(dynamicRatingN: number, equivalentLoadN: number): number {
  requirePositive(dynamicRatingN, "dynamicRatingN", "N");
  const ratio = dynamicRatingN / equivalentLoadN;
  return ratio * ratio * ratio;
}

/** Million revolutions as hours at a speed, L_h = 10⁶·L/(60·n), n in 1/min above 0. */
export function lifeHours(lifeMrev: number, speedPerMin: number): number {
  requirePositive(speedPerMin, "speedPerMin", "1/min");
  return (lifeMrev * 1e6) / (60 * speedPerMin);
}

/**
 * Life of several bearings of which none may fail, L = (Σ L_j^(−10/9))^(−9/10).
 *
 * @param livesMrev L_j, million revolutions, above 0; Infinity for a bearing without load
 *
 * Source: W. Weibull's product rule with the slope 10/9 of ball bearings (ISO/TR 1281-1).
 */
export function systemLifeMrev(livesMrev: readonly number[]): number {
  let sum = 0;
  for (const life of livesMrev) sum += pow(life, -10 / 9);
  return pow(sum, -0.9);
}

/** Dynamic load ratings of one ball against each race. */
export interface BallRatings {
  readonly innerN: number;
  readonly outerN: number;
}

/**
 * Basic dynamic load ratings of one ball for the inner and the outer contact, from the bearing's rating.
 *
 * Q_ci = C_r/[0.407·Z·(cos α)^0.7·i^0.7]·[1 + t^(10/3)]^(3/10), Q_ce = C_r/[0.389·Z·(cos α)^0.7·i^0.7]·[1 + t^(−10/3)]^(3/10),
 * t = 1.044·[(1 − γ)/(1 + γ)]^1.72·[(fᵢ/fₒ)·(2fₒ − 1)/(2fᵢ − 1)]^0.41.
 *
 * @param bearing C_r in N, Z, Dw and Dpw in mm, fᵢ and fₒ above 0.5, nominal contact angle in rad (0 for deep groove), one row
 * @returns Q_ci and Q_ce, N
 *
 * Source: ISO/TS 16281:2008, 4.3 (from memory). Accuracy: relative 1e-13 of the formula.
 */
export function ballRatings(bearing: {
  readonly dynamicRatingN: number;
  readonly ballCount: number;
  readonly ballDiameterMm: number;
  readonly pitchDiameterMm: number;
  readonly conformityInnerRatio: number;
  readonly conformityOuterRatio: number;
  readonly contactAngleRad: number;
}): BallRatings {
  const { conformityInnerRatio: inner, conformityOuterRatio: outer } = bearing;
  requirePositive(bearing.dynamicRatingN, "dynamicRatingN", "N");
  requirePositive(inner - 0.5, "conformityInnerRatio − 0.5", "");
  requirePositive(outer - 0.5, "conformityOuterRatio − 0.5", "");
  const cosine = cos(bearing.contactAngleRad);
  const gamma = (bearing.ballDiameterMm * cosine) / bearing.pitchDiameterMm;
  const grooves = ((inner / outer) * (2 * outer - 1)) / (2 * inner - 1);
  const t = 1.044 * pow((1 - gamma) / (1 + gamma), 1.72) * pow(grooves, 0.41);
  const share = bearing.dynamicRatingN / (bearing.ballCount * pow(cosine, 0.7));
  const power = pow(t, 10 / 3);
  return {
    innerN: (share / 0.407) * pow(1 + power, 0.3),
    outerN: (share / 0.389) * pow(1 + 1 / power, 0.3),
  };
}

/**
 * Basic reference rating life from the loads of the balls, which carries preload, clearance and tilt.
 *
 * L₁₀ᵣ = [(Q_ci/Q_ei)^(−10/3) + (Q_ce/Q_ee)^(−10/3)]^(−9/10). The ring that turns against the load has
 * Q_e = (ΣQ_j³/Z)^(1/3), the ring that stands has Q_e = (ΣQ_j^(10/3)/Z)^(3/10).
 *
 * @param ratings Q_ci and Q_ce, N
 * @param ballLoadsN Q_j, N, 0 or more, of every ball of the bearing
 * @param rotatingRing the ring that turns against the load
 * @returns million revolutions; Infinity without load
 *
 * Source: ISO/TS 16281:2008, 4.3 (from memory). Accuracy: relative 1e-13 of the formula.
 */
export function ballLoadLifeMrev(
  ratings: BallRatings,
  ballLoadsN: Float64Array,
  rotatingRing: "inner" | "outer" = "inner",
): number {
  const count = ballLoadsN.length;
  let largest = 0;
  for (let ball = 0; ball < count; ball++) largest = Math.max(largest, ballLoadsN[ball]);
  if (!(largest > 0)) return Number.POSITIVE_INFINITY;
  let cubes = 0;
  let tenThirds = 0;
  for (let ball = 0; ball < count; ball++) {
    // Scaled to the largest, so that neither tiny nor huge loads leave the range of numbers.
    const ratio = ballLoadsN[ball] / largest;
    const cube = ratio * ratio * ratio;
    cubes += cube;
    tenThirds += cube * cbrt(ratio);
  }
  const rotating = largest * cbrt(cubes / count);
  const standing = largest * pow(tenThirds / count, 0.3);
  const inner = (rotatingRing === "inner" ? rotating : standing) / ratings.innerN;
  const outer = (rotatingRing === "inner" ? standing : rotating) / ratings.outerN;
  return pow(pow(inner, 10 / 3) + pow(outer, 10 / 3), -0.9);
}
