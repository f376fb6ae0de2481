import type { CurveNumbers } from "../columns.ts";
import type { Kernel } from "../kernel.ts";

/** The loops that fill temperatures, offsets, bearing constants and clearances. Meaning of each: see `Kernel`. */

export const addColumns: Kernel["addColumns"] = (out, a, b, count) => {
  for (let i = 0; i < count; i += 1) out[i] = a[i] + b[i];
};

export const addScaled: Kernel["addScaled"] = (out, column, factor, count) => {
  for (let i = 0; i < count; i += 1) out[i] += factor * column[i];
};

export const addMember: Kernel["addMember"] = (out, length, factor, expansionPerK, rise, count) => {
  for (let i = 0; i < count; i += 1) out[i] += factor * length[i] * (1 + expansionPerK * rise[i]);
};

export const addClampedMember: Kernel["addClampedMember"] = (
  out,
  length,
  factor,
  expansionPerK,
  rise,
  clampPerN,
  clamp,
  count,
) => {
  for (let i = 0; i < count; i += 1) {
    out[i] += factor * length[i] * (1 + expansionPerK * rise[i] - clampPerN * clamp[i]);
  }
};

export const bearingConstants: Kernel["bearingConstants"] = (
  curves,
  innerRatio,
  outerRatio,
  distanceMm,
  stiffness,
  limitMm,
  count,
) => {
  const { innerCurve, outerCurve, ballCount, ballDiameterMm } = curves;
  for (let i = 0; i < count; i += 1) {
    const inner = innerRatio[i];
    const outer = outerRatio[i];
    const compliance =
      evaluate(innerCurve, innerCurve.compliance, inner) + evaluate(outerCurve, outerCurve.compliance, outer);
    distanceMm[i] = (inner + outer - 1) * ballDiameterMm;
    stiffness[i] = ballCount / (compliance * Math.sqrt(compliance));
    if (limitMm !== null) {
      const innerLimit = evaluate(innerCurve, innerCurve.limitLoad, inner);
      const outerLimit = evaluate(outerCurve, outerCurve.limitLoad, outer);
      // t = Q^(2/3)·K^(−2/3), and both races carry the same ball load.
      limitMm[i] = Math.min(outerLimit, innerLimit) * compliance;
    }
  }
};

/** Value of a polynomial of the scaled conformity (Horner). */
function evaluate(curve: CurveNumbers, coefficients: Float64Array, conformityRatio: number): number {
  const t = (conformityRatio - curve.centreRatio) / curve.halfWidthRatio;
  let value = coefficients[coefficients.length - 1];
  for (let power = coefficients.length - 2; power >= 0; power -= 1) value = value * t + coefficients[power];
  return value;
}

export const startClearance: Kernel["startClearance"] = (
  out,
  free,
  outerGrowth,
  outerRise,
  innerGrowth,
  innerRise,
  ballGrowth,
  ballRise,
  count,
) => {
  for (let i = 0; i < count; i += 1) {
    out[i] = free[i] + outerGrowth * outerRise[i] - innerGrowth * innerRise[i] - ballGrowth * ballRise[i];
  }
};

export const takeFit: Kernel["takeFit"] = (fit, ring, ringRise, mate, mateRise, smoothing, clearance, flags, count) => {
  const { sense, ringExpansionPerK, mateExpansionPerK, measuredFactor, racewayRatio, lostFlag } = fit;
  for (let i = 0; i < count; i += 1) {
    const mateMm = mate[i] * measuredFactor * (1 + mateExpansionPerK * mateRise[i]);
    const ringMm = ring[i] * (1 + ringExpansionPerK * ringRise[i]);
    const interference = sense * (mateMm - ringMm) - smoothing[i];
    if (interference > 0) clearance[i] -= racewayRatio * interference;
    else flags[i] |= lostFlag;
  }
};
