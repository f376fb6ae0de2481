/** Normal and truncated normal: the hottest code of the program is the two column loops here. */
import { exp } from "../numeric/elementary.ts";
import { normalCdf, normalQuantile, normalSurvival } from "../numeric/special.ts";
import { LEAST_SCORED, normalScoreTable, scoreOfTail } from "./normal-score.ts";
import { clamp, LEAST_UNIFORM, type NormalLaw, type PreparedDistribution } from "./prepared.ts";
import { gaussLegendre } from "./quadrature.ts";

const DENSITY_AT_ZERO = 0.3989422804014327;

/** @param sd above 0 */
export function prepareNormal(mean: number, sd: number): PreparedDistribution {
  const [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const law: NormalLaw = { kind: "normal", mean, sd, low, high, below: 0, above: 0, mass: 1 };
  return {
    low,
    high,
    mean,
    standardDeviation: sd,
    quantile: (p) => mean + sd * normalQuantile(p),
    upperQuantile: (q) => mean - sd * normalQuantile(q),
    cdf: (x) => normalCdf((x - mean) / sd),
    survival: (x) => normalSurvival((x - mean) / sd),
    pdf: (x) => (DENSITY_AT_ZERO / sd) * exp(-0.5 * ((x - mean) / sd) * ((x - mean) / sd)),
    transform: (column, count) => transformNormal(law, column, count),
    law,
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
    ...columnTransform({ kind: "normal", mean, sd, low, high, below, above, mass }, at),
  };
}

/** By the table where every uniform falls into it, by the exact inverse where the limits leave only a far tail. */
function columnTransform(
  law: NormalLaw,
  exact: (u: number, rest: number) => number,
): Pick<PreparedDistribution, "transform" | "law"> {
  if (Math.min(law.below, law.above) + LEAST_UNIFORM * law.mass >= LEAST_SCORED) {
    return { transform: (column, count) => transformNormal(law, column, count), law };
  }
  return {
    transform: (column, count) => {
      for (let i = 0; i < count; i++) column[i] = exact(column[i], 1 - column[i]);
    },
  };
}

/** The column transform of a normal law: z of the nearer tail from the table, in place. */
export function transformNormal(law: NormalLaw, column: Float64Array, count: number): void {
  // Copies: a loop that reads an object's numbers unboxes them for every value.
  const { mean, sd, low, high, below, above, mass } = law;
  const rows = normalScoreTable();
  for (let i = 0; i < count; i++) {
    const u = column[i];
    const p = below + u * mass;
    const z = p <= 0.5 ? scoreOfTail(rows, p) : -scoreOfTail(rows, above + (1 - u) * mass);
    const x = mean + sd * z;
    const raised = Math.max(x, low);
    column[i] = Math.min(high, raised);
  }
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
