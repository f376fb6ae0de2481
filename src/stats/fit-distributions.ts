/** Distributions fitted to measured values, the likeliest of each family, told apart by their likelihood. */
import { lognormalFromMoments, prepare, skewedFromMoments } from "../distributions/index.ts";
import type { Distribution } from "../distributions/types.ts";
import { exp, log } from "../numeric/elementary.ts";
import { minimise } from "../numeric/nelder-mead.ts";
import { logGamma, normalCdf } from "../numeric/special.ts";
import { andersonDarling } from "./anderson-darling.ts";
import { momentsOf, skewness, standardDeviation } from "./moments.ts";

export type FittedFamily = "normal" | "truncated-normal" | "skewed" | "lognormal";

export interface FittedDistribution {
  readonly family: FittedFamily;
  readonly distribution: Distribution;
  readonly logLikelihood: number;
  /** Bayesian information criterion, k·ln n − 2·ln L: the lower the better. */
  readonly bic: number;
  /** A² of the sample against the fitted distribution; only that of the normal has a table of chances. */
  readonly andersonDarlingRatio: number;
}

/**
 * Fits every family that the sample admits. The normal has the sample's mean and sd (divisor n − 1); truncated normal and skewed need
 * limits that hold all values; the lognormal needs a sample that is skewed to the right.
 *
 * @param sorted ascending, eight or more values with spread
 * @param limits the inspected limits, or null
 */
export function fitDistributions(
  sorted: Float64Array,
  limits: { readonly low: number; readonly high: number } | null,
): FittedDistribution[] {
  const moments = momentsOf(sorted);
  const mean = moments.mean;
  const sd = standardDeviation(moments);
  const n = sorted.length;
  const fits: FittedDistribution[] = [];
  const add = (family: FittedFamily, distribution: Distribution | null, parameters: number) => {
    if (distribution === null) return;
    const prepared = prepare(distribution);
    let logLikelihood = 0;
    const lower = new Float64Array(n);
    const upper = new Float64Array(n);
    for (let i = 0; i < n; i += 1) {
      logLikelihood += log(prepared.pdf(sorted[i]));
      lower[i] = prepared.cdf(sorted[i]);
      upper[i] = prepared.survival(sorted[i]);
    }
    if (!Number.isFinite(logLikelihood)) return;
    const bic = parameters * log(n) - 2 * logLikelihood;
    fits.push({ family, distribution, logLikelihood, bic, andersonDarlingRatio: andersonDarling(lower, upper) });
  };
  add("normal", { kind: "normal", mean, sd }, 2);
  if (limits !== null && sorted[0] > limits.low && sorted[n - 1] < limits.high) {
    add("truncated-normal", fitTruncated(sorted, mean, sd, limits.low, limits.high), 2);
    add("skewed", fitSkewed(sorted, mean, sd, limits.low, limits.high), 2);
  }
  add("lognormal", fitLognormal(sorted, mean, sd, skewness(moments)), 3);
  return fits;
}

/**
 * Truncated normal on known limits: the likelihood depends on the sample through its mean and variance alone,
 * ln L/n = −ln σ − (s² + (x̄ − μ)²)/(2σ²) − ln(Φ((U − μ)/σ) − Φ((L − μ)/σ)). Null where the best one is no bell (σ beyond twice the width).
 */
function fitTruncated(sorted: Float64Array, mean: number, sd: number, low: number, high: number): Distribution | null {
  const n = sorted.length;
  const variance = (sd * sd * (n - 1)) / n;
  const width = high - low;
  const objective = ([shift, logWidth]: readonly number[]) => {
    const mu = mean + shift * width;
    const sigma = sd * exp(logWidth);
    if (!(sigma < 2 * width && Math.abs(shift) < 2)) return Number.POSITIVE_INFINITY;
    const mass = normalCdf((high - mu) / sigma) - normalCdf((low - mu) / sigma);
    if (!(mass > 1e-12)) return Number.POSITIVE_INFINITY;
    return log(sigma / sd) + (variance + (mean - mu) * (mean - mu)) / (2 * sigma * sigma) + log(mass);
  };
  const { point } = minimise(objective, [0, 0], [0.05, 0.1], 1e-13);
  const sigma = sd * exp(point[1]);
  if (!(sigma < 1.9 * width)) return null;
  return { kind: "truncated-normal", mean: mean + point[0] * width, sd: sigma, low, high };
}

/** Beta on known limits, from the moments to the greatest likelihood. */
function fitSkewed(sorted: Float64Array, mean: number, sd: number, low: number, high: number): Distribution | null {
  const width = high - low;
  const start = attempt(() => skewedFromMoments(low, high, mean, sd));
  if (start === null || start.kind !== "skewed") return null;
  let logs = 0;
  let logsUp = 0;
  for (const x of sorted) {
    logs += log((x - low) / width);
    logsUp += log((high - x) / width);
  }
  logs /= sorted.length;
  logsUp /= sorted.length;
  const objective = ([a, b]: readonly number[]) => {
    const alpha = start.alpha * exp(a);
    const beta = start.beta * exp(b);
    if (!(alpha > 0.05 && beta > 0.05 && alpha < 1e6 && beta < 1e6)) return Number.POSITIVE_INFINITY;
    return logGamma(alpha) + logGamma(beta) - logGamma(alpha + beta) - (alpha - 1) * logs - (beta - 1) * logsUp;
  };
  const { point } = minimise(objective, [0, 0], [0.1, 0.1], 1e-12);
  return { kind: "skewed", low, high, alpha: start.alpha * exp(point[0]), beta: start.beta * exp(point[1]) };
}

/**
 * Lognormal with a shift from the sample's mean, sd and skewness g (its likelihood has no maximum in the shift): with w = e^(s²),
 * g = (w + 2)·√(w − 1), so that with v = √(w − 1): v³ + 3v = g. Null without skewness to the right.
 */
function fitLognormal(sorted: Float64Array, mean: number, sd: number, g: number): Distribution | null {
  if (!(g > 0.1)) return null;
  let v = Math.min(g / 3, 2);
  for (let step = 0; step < 60; step += 1) v -= (v * v * v + 3 * v - g) / (3 * v * v + 3);
  const shift = Math.min(mean - sd / v, sorted[0] - 1e-3 * sd);
  return attempt(() => lognormalFromMoments(mean, sd, shift));
}

function attempt(make: () => Distribution): Distribution | null {
  try {
    return make();
  } catch {
    return null;
  }
}
