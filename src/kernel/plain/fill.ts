import type { BearingCurves, CurveNumbers, FitConstants } from "../columns.ts";

/** The loops that fill temperatures, offsets, bearing constants and clearances. Meaning of each: see `Kernel`. */

export function addColumns(out: Float64Array, a: Float64Array, b: Float64Array, count: number): void {
  for (let i = 0; i < count; i += 1) out[i] = a[i] + b[i];
}

export function addScaled(out: Float64Array, column: Float64Array, factor: number, count: number): void {
  for (let i = 0; i < count; i += 1) out[i] += factor * column[i];
}

export function addMember(
  out: Float64Array,
  length: Float64Array,
  factor: number,
  expansionPerK: number,
  rise: Float64Array,
  count: number,
): void {
  for (let i = 0; i < count; i += 1) out[i] += factor * length[i] * (1 + expansionPerK * rise[i]);
}

export function addClampedMember(
  out: Float64Array,
  length: Float64Array,
  factor: number,
  expansionPerK: number,
  rise: Float64Array,
  clampPerN: number,
  clamp: Float64Array,
  count: number,
): void {
  for (let i = 0; i < count; i += 1) {
    out[i] += factor * length[i] * (1 + expansionPerK * rise[i] - clampPerN * clamp[i]);
  }
}

export function bearingConstants(
  curves: BearingCurves,
  innerRatio: Float64Array,
  outerRatio: Float64Array,
  distanceMm: Float64Array,
  stiffness: Float64Array,
  limitMm: Float64Array | null,
  count: number,
): void {
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
}

/** Value of a polynomial of the scaled conformity (Horner). */
function evaluate(curve: CurveNumbers, coefficients: Float64Array, conformityRatio: number): number {
  const t = (conformityRatio - curve.centreRatio) / curve.halfWidthRatio;
  let value = coefficients[coefficients.length - 1];
  for (let power = coefficients.length - 2; power >= 0; power -= 1) value = value * t + coefficients[power];
  return value;
}

export function startClearance(
  out: Float64Array,
  free: Float64Array,
  outerGrowth: number,
  outerRise: Float64Array,
  innerGrowth: number,
  innerRise: Float64Array,
  ballGrowth: number,
  ballRise: Float64Array,
  count: number,
): void {
  for (let i = 0; i < count; i += 1) {
    out[i] = free[i] + outerGrowth * outerRise[i] - innerGrowth * innerRise[i] - ballGrowth * ballRise[i];
  }
}

export function takeFit(
  fit: FitConstants,
  ring: Float64Array,
  ringRise: Float64Array,
  mate: Float64Array,
  mateRise: Float64Array,
  smoothing: Float64Array,
  clearance: Float64Array,
  flags: Uint16Array,
  count: number,
): void {
  const { sense, ringExpansionPerK, mateExpansionPerK, measuredFactor, racewayRatio, lostFlag } = fit;
  for (let i = 0; i < count; i += 1) {
    const mateMm = mate[i] * measuredFactor * (1 + mateExpansionPerK * mateRise[i]);
    const ringMm = ring[i] * (1 + ringExpansionPerK * ringRise[i]);
    const interference = sense * (mateMm - ringMm) - smoothing[i];
    if (interference > 0) clearance[i] -= racewayRatio * interference;
    else flags[i] |= lostFlag;
  }
}
