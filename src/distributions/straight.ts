/** Families whose inverse CDF needs nothing but + − × ÷ √ (and a sine): constant, uniform, triangular, trapezoidal, arcsine. */
import { asin, sin } from "../numeric/elementary.ts";
import { clamp, type PreparedDistribution, type UniformLaw } from "./prepared.ts";

/** One value, with probability 1. */
export function prepareConstant(value: number): PreparedDistribution {
  return {
    low: value,
    high: value,
    mean: value,
    standardDeviation: 0,
    quantile: () => value,
    upperQuantile: () => value,
    cdf: (x) => (x >= value ? 1 : 0),
    survival: (x) => (x >= value ? 0 : 1),
    pdf: (x) => (x === value ? Number.POSITIVE_INFINITY : 0),
    transform: (column, count) => {
      column.fill(value, 0, count);
    },
  };
}

/** Equally likely from `low` to `high`, `low < high`. */
export function prepareUniform(low: number, high: number): PreparedDistribution {
  const width = high - low;
  const law: UniformLaw = { kind: "uniform", low, width, high };
  return {
    low,
    high,
    mean: low + 0.5 * width,
    standardDeviation: width / Math.sqrt(12),
    quantile: (p) => clamp(low + width * p, low, high),
    upperQuantile: (q) => clamp(high - width * q, low, high),
    cdf: (x) => clamp((x - low) / width, 0, 1),
    survival: (x) => clamp((high - x) / width, 0, 1),
    pdf: (x) => (x >= low && x <= high ? 1 / width : 0),
    transform: (column, count) => transformUniform(law, column, count),
    law,
  };
}

/** The column transform of a uniform law, in place. */
export function transformUniform(law: UniformLaw, column: Float64Array, count: number): void {
  const { low, width, high } = law;
  for (let i = 0; i < count; i++) {
    const x = low + width * column[i];
    column[i] = Math.min(high, x);
  }
}

/** Density rising from `low` to the mode and falling to `high`. */
export function prepareTriangular(low: number, mode: number, high: number): PreparedDistribution {
  return prepareTrapezoidal(low, mode, mode, high);
}

/**
 * Density rising from `low` to the shoulder `c`, level to the shoulder `d`, falling to `high`; h = 2/((high − low) + (d − c)) on the level.
 * The triangle is the case c = d, the rectangle c = low and d = high.
 */
export function prepareTrapezoidal(low: number, c: number, d: number, high: number): PreparedDistribution {
  const rise = c - low;
  const level = d - c;
  const fall = high - d;
  const height = 2 / (high - low + level);
  const upToC = 0.5 * height * rise;
  const beyondD = 0.5 * height * fall;
  const riseScale = (2 * rise) / height;
  const fallScale = (2 * fall) / height;
  const at = (p: number, rest: number) => {
    if (p < upToC) return low + Math.sqrt(p * riseScale);
    if (rest < beyondD) return high - Math.sqrt(rest * fallScale);
    return clamp(c + (p - upToC) / height, c, d);
  };
  const lower = (x: number): number => {
    if (x <= low) return 0;
    if (x < c) return (0.5 * height * (x - low) * (x - low)) / rise;
    return x <= d ? upToC + height * (x - c) : 1 - upper(x);
  };
  const upper = (x: number): number => {
    if (x >= high) return 0;
    if (x > d) return (0.5 * height * (high - x) * (high - x)) / fall;
    return x >= c ? beyondD + height * (d - x) : 1 - lower(x);
  };
  const moments = trapezoidMoments(rise, level, fall);
  return {
    low,
    high,
    mean: low + moments.mean,
    standardDeviation: moments.standardDeviation,
    quantile: (p) => at(p, 1 - p),
    upperQuantile: (q) => at(1 - q, q),
    cdf: lower,
    survival: upper,
    pdf: (x) => {
      if (x < low || x > high) return 0;
      if (x < c) return (height * (x - low)) / rise;
      return x > d ? (height * (high - x)) / fall : height;
    },
    transform: (column, count) => {
      for (let i = 0; i < count; i++) column[i] = at(column[i], 1 - column[i]);
    },
  };
}

/** Mean above `low` and standard deviation, as a mixture of the rising triangle, the level part and the falling triangle. */
function trapezoidMoments(rise: number, level: number, fall: number): { mean: number; standardDeviation: number } {
  const total = rise + 2 * level + fall;
  const parts = [
    { share: rise / total, mean: (2 * rise) / 3, variance: (rise * rise) / 18 },
    { share: (2 * level) / total, mean: rise + level / 2, variance: (level * level) / 12 },
    { share: fall / total, mean: rise + level + fall / 3, variance: (fall * fall) / 18 },
  ];
  const mean = parts.reduce((sum, part) => sum + part.share * part.mean, 0);
  const variance = parts.reduce((sum, p) => sum + p.share * (p.variance + (p.mean - mean) * (p.mean - mean)), 0);
  return { mean, standardDeviation: Math.sqrt(variance) };
}

/** x = middle + half·sin(π(p − ½)); the position of a sinusoidal cycle at a random moment (JCGM 101, 6.4.6). */
export function prepareArcsine(low: number, high: number): PreparedDistribution {
  const half = 0.5 * (high - low);
  const middle = low + half;
  // From the nearer end, as 2·half·sin²(πp/2), so that values near an end keep their digits.
  const fromEnd = (p: number) => {
    const s = sin(0.5 * Math.PI * p);
    return 2 * half * s * s;
  };
  const at = (p: number, rest: number) =>
    clamp(
      p < 0.25 ? low + fromEnd(p) : rest < 0.25 ? high - fromEnd(rest) : middle + half * sin(Math.PI * (p - 0.5)),
      low,
      high,
    );
  const share = (distance: number) => {
    if (distance <= 0) return 0;
    if (distance >= 2 * half) return 1;
    return distance < half
      ? (2 / Math.PI) * asin(Math.sqrt(distance / (2 * half)))
      : 1 - (2 / Math.PI) * asin(Math.sqrt((2 * half - distance) / (2 * half)));
  };
  return {
    low,
    high,
    mean: middle,
    standardDeviation: half / Math.SQRT2,
    quantile: (p) => at(p, 1 - p),
    upperQuantile: (q) => at(1 - q, q),
    cdf: (x) => share(x - low),
    survival: (x) => share(high - x),
    pdf: (x) => (x < low || x > high ? 0 : 1 / (Math.PI * Math.sqrt((x - low) * (high - x)))),
    transform: (column, count) => {
      for (let i = 0; i < count; i++) column[i] = at(column[i], 1 - column[i]);
    },
  };
}
