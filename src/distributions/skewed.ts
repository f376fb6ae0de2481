import { exp, log, log1p } from "../numeric/elementary.ts";
import { inverseRegularisedBeta, logGamma, regularisedBetaBothSides } from "../numeric/special.ts";
import { type InverseTable, LEAST_TABULATED, lookUp, tabulate } from "./inverse-table.ts";
import { clamp, type PreparedDistribution } from "./prepared.ts";

/** Beta distribution with shapes α, β stretched to low … high: mean low + w·α/(α + β), variance w²·αβ/((α + β)²(α + β + 1)). */
export function prepareSkewed(low: number, high: number, alpha: number, beta: number): PreparedDistribution {
  const width = high - low;
  const sum = alpha + beta;
  const standardDeviation = (width * Math.sqrt((alpha * beta) / (sum + 1))) / sum;
  const spread = standardDeviation / width;
  const lower = (x: number) => regularisedBetaBothSides((x - low) / width, (high - x) / width, alpha, beta);
  const upper = (x: number) => regularisedBetaBothSides((high - x) / width, (x - low) / width, beta, alpha);
  const at = (p: number, rest: number) =>
    p <= rest
      ? clamp(low + width * inverseRegularisedBeta(p, alpha, beta), low, high)
      : clamp(high - width * inverseRegularisedBeta(rest, beta, alpha), low, high);
  let fromLow: InverseTable | null = null;
  let fromHigh: InverseTable | null = null;
  return {
    low,
    high,
    mean: low + (width * alpha) / sum,
    standardDeviation,
    quantile: (p) => at(p, 1 - p),
    upperQuantile: (q) => at(1 - q, q),
    cdf: (x) => (x <= low ? 0 : x >= high ? 1 : lower(x)),
    survival: (x) => (x <= low ? 1 : x >= high ? 0 : upper(x)),
    pdf: (x) => (x < low || x > high ? 0 : unitDensity((x - low) / width, (high - x) / width, alpha, beta) / width),
    transform: (column, count) => {
      fromLow ??= tabulate((v) => inverseRegularisedBeta(v, alpha, beta), 1e-11 * spread);
      fromHigh ??= tabulate((v) => inverseRegularisedBeta(v, beta, alpha), 1e-11 * spread);
      for (let i = 0; i < count; i++) {
        const u = column[i];
        const isLow = u < 0.5;
        const v = isLow ? u : 1 - u;
        let x = v >= LEAST_TABULATED ? lookUp(isLow ? fromLow : fromHigh, v) : Number.NaN;
        if (Number.isNaN(x))
          x = isLow ? inverseRegularisedBeta(v, alpha, beta) : inverseRegularisedBeta(v, beta, alpha);
        column[i] = Math.min(Math.max(isLow ? low + width * x : high - width * x, low), high);
      }
    },
  };
}

/** Density of the beta distribution on 0 … 1, y = 1 − x given apart. */
function unitDensity(x: number, y: number, alpha: number, beta: number): number {
  if (x === 0) return endDensity(alpha, beta);
  if (y === 0) return endDensity(beta, alpha);
  const logBeta = logGamma(alpha) + logGamma(beta) - logGamma(alpha + beta);
  const logX = y < 0.5 ? log1p(-y) : log(x);
  const logY = x < 0.5 ? log1p(-x) : log(y);
  return exp((alpha - 1) * logX + (beta - 1) * logY - logBeta);
}

function endDensity(shapeHere: number, shapeThere: number): number {
  return shapeHere > 1 ? 0 : shapeHere < 1 ? Number.POSITIVE_INFINITY : shapeThere;
}
