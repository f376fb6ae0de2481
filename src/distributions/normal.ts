/** Normal and truncated normal: the hottest code of the program is the two column loops here. */
import { exp } from "../numeric/elementary.ts";
import { normalCdf, normalQuantile, normalSurvival } from "../numeric/special.ts";
import { CENTRAL_HALF_WIDTH, centralScore, lowerScore } from "./normal-score.ts";
import { type ColumnTransform, clamp, type PreparedDistribution } from "./prepared.ts";
import { gaussLegendre } from "./quadrature.ts";

const DENSITY_AT_ZERO = 0.3989422804014327;

export function prepareNormal(mean: number, sd: number): PreparedDistribution {
  return {
    low: Number.NEGATIVE_INFINITY,
    high: Number.POSITIVE_INFINITY,
    mean,
    standardDeviation: sd,
    quantile: (p) => mean + sd * normalQuantile(p),
    upperQuantile: (q) => mean - sd * normalQuantile(q),
    cdf: (x) => normalCdf((x - mean) / sd),
    survival: (x) => normalSurvival((x - mean) / sd),
    pdf: (x) => (DENSITY_AT_ZERO / sd) * exp(-0.5 * ((x - mean) / sd) * ((x - mean) / sd)),
    transform: normalTransform(mean, sd),
  };
}

/** x = mean + sd·z(u) */
function normalTransform(mean: number, sd: number): ColumnTransform {
  return (column, count) => {
    // Copies: a loop that reads captured numbers unboxes them for every value.
    const [middle, scale] = [mean, sd];
    for (let i = 0; i < count; i++) {
      const u = column[i];
      const q = u - 0.5;
      let z: number;
      if (q <= CENTRAL_HALF_WIDTH && q >= -CENTRAL_HALF_WIDTH) z = centralScore(q);
      else {
        z = lowerScore(q < 0 ? u : 1 - u);
        if (q > 0) z = -z;
      }
      column[i] = middle + scale * z;
    }
  };
}

/**
 * Normal with `mean` and `sd` before it is cut at the closed limits. With a, b the limits in standard units:
 * p = Φ(a) + u·(Φ(b) − Φ(a)), and the same counted from above as 1 − p = Φ(−b) + (1 − u)·(Φ(b) − Φ(a)), so that both tails keep their
 * digits.
 */
export function prepareTruncatedNormal(mean: number, sd: number, low: number, high: number): PreparedDistribution {
  const a = (low - mean) / sd;
  const b = (high - mean) / sd;
  const below = normalCdf(a);
  const above = normalSurvival(b);
  const mass = massBetween(a, b);
  const moments = truncatedMoments(a, b);

  const at = (u: number, rest: number) => {
    const p = below + u * mass;
    const score = p < 0.5 ? normalQuantile(p) : -normalQuantile(above + rest * mass);
    return clamp(mean + sd * score, low, high);
  };
  const lowerShare = (z: number) => (a > 0 ? normalSurvival(a) - normalSurvival(z) : normalCdf(z) - below) / mass;
  const upperShare = (z: number) => (b < 0 ? normalCdf(b) - normalCdf(z) : normalSurvival(z) - above) / mass;
  const isUpper = (z: number) => z > 0.5 * (Math.max(a, -40) + Math.min(b, 40));
  return {
    low,
    high,
    mean: clamp(mean + sd * moments.mean, low, high),
    standardDeviation: sd * moments.standardDeviation,
    quantile: (p) => (p === 0 ? low : p === 1 ? high : at(p, 1 - p)),
    upperQuantile: (q) => (q === 0 ? high : q === 1 ? low : at(1 - q, q)),
    cdf: (x) => {
      if (x < low) return 0;
      if (x >= high) return 1;
      const z = (x - mean) / sd;
      return clamp(isUpper(z) ? 1 - upperShare(z) : lowerShare(z), 0, 1);
    },
    survival: (x) => {
      if (x < low) return 1;
      if (x >= high) return 0;
      const z = (x - mean) / sd;
      return clamp(isUpper(z) ? upperShare(z) : 1 - lowerShare(z), 0, 1);
    },
    pdf: (x) => {
      if (x < low || x > high) return 0;
      const z = (x - mean) / sd;
      return (DENSITY_AT_ZERO * exp(-0.5 * z * z)) / (mass * sd);
    },
    transform: truncatedTransform(mean, sd, low, high, below, above, mass),
  };
}

function truncatedTransform(
  mean: number,
  sd: number,
  low: number,
  high: number,
  below: number,
  above: number,
  mass: number,
): ColumnTransform {
  return (column, count) => {
    const [middle, scale, least, most] = [mean, sd, low, high];
    const [cutBelow, cutAbove, share] = [below, above, mass];
    for (let i = 0; i < count; i++) {
      const u = column[i];
      const p = cutBelow + u * share;
      const q = p - 0.5;
      let z: number;
      if (q <= CENTRAL_HALF_WIDTH && q >= -CENTRAL_HALF_WIDTH) z = centralScore(q);
      else {
        z = lowerScore(q < 0 ? p : cutAbove + (1 - u) * share);
        if (q > 0) z = -z;
      }
      column[i] = Math.min(Math.max(middle + scale * z, least), most);
    }
  };
}

/** Φ(b) − Φ(a) from the tail in which it loses least. */
export function massBetween(a: number, b: number): number {
  return a > 0 ? normalSurvival(a) - normalSurvival(b) : normalCdf(b) - normalCdf(a);
}

/**
 * Mean and standard deviation of a standard normal cut to a … b, by Gauss–Legendre panels over the part that carries weight: the closed
 * form m₁ = (φ(a) − φ(b))/Z, m₂ = 1 + (a·φ(a) − b·φ(b))/Z loses all digits for narrow or far limits, this loses none.
 */
function truncatedMoments(a: number, b: number): { mean: number; standardDeviation: number } {
  const nearest = clamp(0, a, b);
  const steepness = Math.max(1, Math.abs(nearest));
  // Where the weight has fallen to exp(−42): n·r + r²/2 = 42.
  const reach = Math.sqrt(nearest * nearest + 84) - Math.abs(nearest);
  const from = Math.max(a, nearest - reach);
  const to = Math.min(b, nearest + reach);
  // Relative to exp(−nearest²/2): (z² − n²)/2 = (z − n)(z + n)/2.
  const weight = (z: number) => exp(-0.5 * (z - nearest) * (z + nearest));
  const panels = Math.max(1, Math.ceil((to - from) * steepness));
  const total = gaussLegendre(weight, from, to, panels);
  const first = gaussLegendre((z) => (z - nearest) * weight(z), from, to, panels) / total;
  const second =
    gaussLegendre((z) => (z - nearest - first) * (z - nearest - first) * weight(z), from, to, panels) / total;
  return { mean: nearest + first, standardDeviation: Math.sqrt(second) };
}
