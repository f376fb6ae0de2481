import { InputError } from "../errors.ts";
import { cbrt, cos } from "../numeric/elementary.ts";
import { contactCompliancePerMPa, type ElasticMaterial, requireElasticMaterial } from "./elastic.ts";
import { axisRatioFromCurvatureDifferenceComplement, completeEllipticIntegrals } from "./elliptic.ts";
import { requireBetween, requirePositive } from "./guards.ts";

export type { ElasticMaterial as ContactMaterial } from "./elastic.ts";

export type Race = "inner" | "outer";

/** A ball in the groove of one ring. */
export interface GroovedContactGeometry {
  /** Dw, mm, above 0. */
  readonly ballDiameterMm: number;
  /** Dpw, mm, above Dw. */
  readonly pitchDiameterMm: number;
  /** f, groove radius over ball diameter, above 0.5 and up to 1. */
  readonly conformityRatio: number;
  /** α, rad, 0 to below ½π. */
  readonly contactAngleRad: number;
  readonly race: Race;
  readonly ball: ElasticMaterial;
  readonly ring: ElasticMaterial;
}

/** The Hertz solution of one contact, ready to be scaled by a ball load. */
export interface GroovedContact {
  /** γ = Dw·cos α/Dpw. */
  readonly gammaRatio: number;
  /** Σρ, 1/mm. */
  readonly curvatureSumPerMm: number;
  /** F(ρ). */
  readonly curvatureDifferenceRatio: number;
  /** κ, long over short axis of the contact ellipse. */
  readonly axisRatio: number;
  /** a*, dimensionless long semi-axis. */
  readonly semiMajorRatio: number;
  /** b*, dimensionless short semi-axis. */
  readonly semiMinorRatio: number;
  /** δ*, dimensionless approach. */
  readonly approachRatio: number;
  /** K in Q = K·δ^1.5, N/mm^1.5. */
  readonly stiffnessNPerMm15: number;
  /** Peak pressure = this · Q^(1/3), MPa per N^(1/3). */
  readonly pressureCoefficientMPa: number;
  /** Long semi-axis = this · Q^(1/3), mm per N^(1/3). */
  readonly semiMajorCoefficientMm: number;
  /** Short semi-axis = this · Q^(1/3), mm per N^(1/3). */
  readonly semiMinorCoefficientMm: number;
}

/**
 * Elastic contact of a ball in a ring groove, by the exact elliptic-integral solution.
 *
 * γ = Dw cos α/Dpw; g = 2γ/(1 − γ) at the inner race, g = −2γ/(1 + γ) at the outer race.
 * Σρ = (4 − 1/f + g)/Dw, F(ρ) = (1/f + g)/(4 − 1/f + g).
 * a* = (2κ²E/π)^⅓, b* = (2E/(πκ))^⅓, δ* = (2K/π)(π/(2κ²E))^⅓.
 * a = a*·(3Qη/(2Σρ))^⅓, b likewise, δ = δ*·½Σρ·(3Qη/(2Σρ))^⅔, p_max = 3Q/(2πab).
 * f → `conformityRatio`, Q the ball load, η the compliance of the two materials, κ → `axisRatio`, K, E the complete
 * elliptic integrals at k² = 1 − 1/κ².
 *
 * @returns the contact's constants with units in their names
 * @throws InputError for a conformity of 0.5 or less (the groove would pinch the ball), a ball as large as its pitch
 *   circle, an angle outside the range, impossible material constants
 *
 * Source: H. Hertz 1881; curvatures and dimensionless factors as in T. A. Harris, Rolling Bearing Analysis, "Contact
 * stress and deformation". Valid for elastic half spaces: ellipses small against ball and groove, not cut off by a shoulder.
 * Accuracy: relative 1e-13 of the formula.
 */
export function groovedContact(geometry: GroovedContactGeometry): GroovedContact {
  requireGroove(geometry);
  const f = geometry.conformityRatio;
  const gammaRatio = (geometry.ballDiameterMm * cos(geometry.contactAngleRad)) / geometry.pitchDiameterMm;
  const g = geometry.race === "inner" ? (2 * gammaRatio) / (1 - gammaRatio) : (-2 * gammaRatio) / (1 + gammaRatio);
  const scaledSum = 4 - 1 / f + g;
  const curvatureSumPerMm = scaledSum / geometry.ballDiameterMm;
  const complement = (4 * f - 2) / (f * scaledSum);
  const kappa = axisRatioFromCurvatureDifferenceComplement(complement);
  const { first, second } = completeEllipticIntegrals(1 / (kappa * kappa));
  const semiMajorRatio = cbrt((2 * kappa * kappa * second) / Math.PI);
  const semiMinorRatio = semiMajorRatio / kappa;
  const approachRatio = (2 * first) / (Math.PI * semiMajorRatio);
  const scaleMm = cbrt((1.5 * contactCompliancePerMPa(geometry.ball, geometry.ring)) / curvatureSumPerMm);
  const approachMm = approachRatio * 0.5 * curvatureSumPerMm * scaleMm * scaleMm;
  const semiMajorCoefficientMm = semiMajorRatio * scaleMm;
  const semiMinorCoefficientMm = semiMinorRatio * scaleMm;
  return {
    gammaRatio,
    curvatureSumPerMm,
    curvatureDifferenceRatio: 1 - complement,
    axisRatio: kappa,
    semiMajorRatio,
    semiMinorRatio,
    approachRatio,
    stiffnessNPerMm15: 1 / (approachMm * Math.sqrt(approachMm)),
    pressureCoefficientMPa: 1.5 / (Math.PI * semiMajorCoefficientMm * semiMinorCoefficientMm),
    semiMajorCoefficientMm,
    semiMinorCoefficientMm,
  };
}

/**
 * Two Hertz point contacts in series, as a ball between two rings.
 *
 * K = (Kᵢ^(−2/3) + Kₒ^(−2/3))^(−3/2): the approaches of both contacts add up under one ball load.
 *
 * @param innerNPerMm15 Kᵢ, N/mm^1.5, above 0
 * @param outerNPerMm15 Kₒ, N/mm^1.5, above 0
 * @returns K, N/mm^1.5
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Internal load distribution". Accuracy: relative 1e-15.
 */
export function seriesStiffness(innerNPerMm15: number, outerNPerMm15: number): number {
  const inner = cbrt(innerNPerMm15);
  const outer = cbrt(outerNPerMm15);
  const approach = 1 / (inner * inner) + 1 / (outer * outer);
  return 1 / (approach * Math.sqrt(approach));
}

/**
 * Peak pressure of a contact under a ball load, p_max = c·Q^⅓ with c → `pressureCoefficientMPa`, Q → `ballLoadN`.
 *
 * @param pressureCoefficientMPa from `groovedContact`, MPa per N^(1/3)
 * @param ballLoadN N, 0 or more
 * @returns MPa
 *
 * Source: H. Hertz 1881. Accuracy: relative 1e-15.
 */
export function peakPressureMPa(pressureCoefficientMPa: number, ballLoadN: number): number {
  return pressureCoefficientMPa * cbrt(ballLoadN);
}

function requireGroove(geometry: GroovedContactGeometry): void {
  requirePositive(geometry.ballDiameterMm, "ballDiameterMm", "mm");
  requirePositive(geometry.pitchDiameterMm, "pitchDiameterMm", "mm");
  if (geometry.pitchDiameterMm <= geometry.ballDiameterMm) {
    throw new InputError({
      code: "impossible-geometry",
      path: "pitchDiameterMm",
      expected: `a pitch diameter above the ball diameter of ${geometry.ballDiameterMm} mm`,
      got: `${geometry.pitchDiameterMm} mm`,
    });
  }
  if (!(geometry.conformityRatio > 0.5 && geometry.conformityRatio <= 1)) {
    throw new InputError({
      code: "impossible-geometry",
      path: "conformityRatio",
      expected: "a groove radius above 0.5 and up to 1 times the ball diameter",
      got: String(geometry.conformityRatio),
      hint: "At 0.5 or below the groove would pinch the ball; usual values are 0.51 to 0.54",
    });
  }
  requireBetween(geometry.contactAngleRad, 0, 1.57, "contactAngleRad", "a contact angle from 0 to 1.57 rad");
  requireElasticMaterial(geometry.ball, "ball");
  requireElasticMaterial(geometry.ring, "ring");
}
