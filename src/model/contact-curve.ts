import { chebyshevToMonomial, fitChebyshev, largestFitError } from "../numeric/chebyshev.ts";
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

/** The fits take the lowest degree that holds this relative error over their range. */
const FIT_ERROR = 1e-11;
const HIGHEST_DEGREE = 12;

/** Curves that were fitted already: the bearings of a pair are mostly alike, and few changes of a scenario touch them. */
const fitted = new Map<string, RaceCurve>();
const MOST_REMEMBERED = 200;

/**
 * Fits the two curves of a race over a range of conformities. The same options give the same curve: it is not fitted twice.
 *
 * Accuracy: 1e-11 relative over ranges up to ±0.015 (tested), far below the 1e-6 that the model asks for.
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
  const key = JSON.stringify(options);
  const known = fitted.get(key);
  if (known !== undefined) return known;
  const curve = fitCurve(options);
  if (fitted.size >= MOST_REMEMBERED) fitted.clear();
  fitted.set(key, curve);
  return curve;
}

function fitCurve(options: Parameters<typeof fitRaceCurve>[0]): RaceCurve {
  const { lowRatio, highRatio, limitPressureMPa } = options;
  const contactAt = (conformityRatio: number) => groovedContact({ ...options, conformityRatio });
  const compliance = fitLowest(
    (conformityRatio) => {
      const root = cbrt(contactAt(conformityRatio).stiffnessNPerMm15);
      return 1 / (root * root);
    },
    lowRatio,
    highRatio,
  );
  const limitLoad =
    limitPressureMPa === null
      ? new Float64Array(0)
      : fitLowest(
          (conformityRatio) => {
            const root = limitPressureMPa / contactAt(conformityRatio).pressureCoefficientMPa;
            return root * root;
          },
          lowRatio,
          highRatio,
        );
  return {
    centreRatio: 0.5 * (lowRatio + highRatio),
    halfWidthRatio: 0.5 * (highRatio - lowRatio),
    compliance,
    limitLoad,
  };
}

/** Coefficients of the polynomial of lowest degree that follows a function closely enough. */
export function fitLowest(f: (conformityRatio: number) => number, lowRatio: number, highRatio: number): Float64Array {
  const scale = Math.abs(f(0.5 * (lowRatio + highRatio)));
  for (let degree = 2; ; degree += 1) {
    const fit = fitChebyshev(f, lowRatio, highRatio, degree);
    if (degree === HIGHEST_DEGREE || largestFitError(f, fit) <= FIT_ERROR * scale) {
      return chebyshevToMonomial(fit.coefficients);
    }
  }
}
