import { fitChebyshevMonomial } from "../numeric/chebyshev.ts";
import { cbrt } from "../numeric/elementary.ts";
import { type ContactMaterial, groovedContact } from "../physics/hertz.ts";

/**
 * How the Hertz contact of one race follows the conformity of its groove, as polynomials, so that a sample costs a few
 * multiplications instead of elliptic integrals. The contact angle is held at its nominal value, which is where the
 * curvatures are taken.
 */
export interface RaceCurve {
  readonly centreRatio: number;
  readonly halfWidthRatio: number;
  /** K^(−2/3) over the scaled conformity t in −1…1, mm/N^(2/3), lowest power first. */
  readonly compliance: Float64Array;
  /** (Ball load at the pressure limit)^(2/3) over t, N^(2/3); empty without a pressure limit. */
  readonly limitLoad: Float64Array;
}

const DEGREE = 8;

/**
 * Fits the two curves of a race over a range of conformities.
 *
 * Accuracy: the compliance to 1e-9 relative over ranges up to ±0.015 (tested), far below the 1e-6 that the model asks for.
 *
 * @param lowRatio, highRatio conformities that can be drawn, groove radius over ball diameter, above 0.5
 * @param limitPressureMPa peak pressure of bind, or null
 */
export function fitRaceCurve(options: {
  race: "inner" | "outer";
  ballDiameterMm: number;
  pitchDiameterMm: number;
  contactAngleRad: number;
  ball: ContactMaterial;
  ring: ContactMaterial;
  lowRatio: number;
  highRatio: number;
  limitPressureMPa: number | null;
}): RaceCurve {
  const { lowRatio, highRatio, limitPressureMPa } = options;
  const contactAt = (conformityRatio: number) => groovedContact({ ...options, conformityRatio });
  const compliance = fitChebyshevMonomial(
    (conformityRatio) => {
      const root = cbrt(contactAt(conformityRatio).stiffnessNPerMm15);
      return 1 / (root * root);
    },
    lowRatio,
    highRatio,
    DEGREE,
  );
  const limitLoad =
    limitPressureMPa === null
      ? new Float64Array(0)
      : fitChebyshevMonomial(
          (conformityRatio) => {
            const root = limitPressureMPa / contactAt(conformityRatio).pressureCoefficientMPa;
            return root * root;
          },
          lowRatio,
          highRatio,
          DEGREE,
        );
  return {
    centreRatio: 0.5 * (lowRatio + highRatio),
    halfWidthRatio: 0.5 * (highRatio - lowRatio),
    compliance,
    limitLoad,
  };
}

/** Value of a curve's polynomial at a conformity (Horner). */
export function evaluateCurve(curve: RaceCurve, coefficients: Float64Array, conformityRatio: number): number {
  const t = (conformityRatio - curve.centreRatio) / curve.halfWidthRatio;
  let value = coefficients[coefficients.length - 1];
  for (let power = coefficients.length - 2; power >= 0; power -= 1) value = value * t + coefficients[power];
  return value;
}
