/** Count, mean, central moments and extremes of a quantity, gathered block by block and merged. */

/** Plain data, so that it travels between workers. `m2` to `m4` are sums of powers of the deviation from the mean. */
export interface Moments {
  count: number;
  mean: number;
  m2: number;
  m3: number;
  m4: number;
  min: number;
  max: number;
}

/** Moments of nothing. */
export function emptyMoments(): Moments {
  return {
    count: 0,
    mean: 0,
    m2: 0,
    m3: 0,
    m4: 0,
    min: Number.POSITIVE_INFINITY,
    max: Number.NEGATIVE_INFINITY,
  };
}

/** Sums about a rough mean, before they are brought to the mean itself. */
export interface RoughMoments {
  readonly rough: number;
  /** Sums of the first to fourth power of the deviation from `rough`. */
  readonly s1: number;
  readonly s2: number;
  readonly s3: number;
  readonly s4: number;
  readonly min: number;
  readonly max: number;
}

/** Sums run in this many lanes, value i in lane i mod 4, as a processor with wide registers does it. */
const LANES = 4;

/**
 * The moments of `values[0..count)`: mean first, then deviations, with the rounding of the mean taken off again.
 *
 * @param selected when given, only values whose entry is not 0 are counted
 */
export function momentsOf(values: ArrayLike<number>, count = values.length, selected?: ArrayLike<number>): Moments {
  if (selected !== undefined) return momentsOf(pick(values, count, selected));
  if (count === 0) return emptyMoments();
  const first = values[0];
  const total = lanes(values, count, (value) => value - first);
  const rough = first + total / count;
  let min = first;
  let max = first;
  for (let index = 0; index < count; index += 1) {
    const value = values[index];
    if (value < min) min = value;
    if (value > max) max = value;
  }
  const s1 = lanes(values, count, (value) => value - rough);
  const s2 = lanes(values, count, (value) => (value - rough) * (value - rough));
  const s3 = lanes(values, count, (value) => (value - rough) * (value - rough) * (value - rough));
  const s4 = lanes(values, count, (value) => (value - rough) * (value - rough) * ((value - rough) * (value - rough)));
  return centred({ rough, s1, s2, s3, s4, min, max }, count);
}

/** From deviations about the rounded mean to those about the mean. */
export function centred({ rough, s1, s2, s3, s4, min, max }: RoughMoments, count: number): Moments {
  const shift = s1 / count;
  return {
    count,
    mean: rough + shift,
    m2: s2 - s1 * shift,
    m3: s3 - 3 * shift * s2 + 2 * s1 * shift * shift,
    m4: s4 - 4 * shift * s3 + 6 * shift * shift * s2 - 3 * s1 * shift * shift * shift,
    min,
    max,
  };
}

/** A sum over values in lanes, (l0 + l2) + (l1 + l3). */
function lanes(values: ArrayLike<number>, count: number, of: (value: number) => number): number {
  const sums = [0, 0, 0, 0];
  for (let lane = 0; lane < LANES; lane += 1) {
    let sum = 0;
    for (let index = lane; index < count; index += LANES) sum += of(values[index]);
    sums[lane] = sum;
  }
  return sums[0] + sums[2] + (sums[1] + sums[3]);
}

function pick(values: ArrayLike<number>, count: number, selected: ArrayLike<number>): Float64Array {
  const out = new Float64Array(count);
  let found = 0;
  for (let index = 0; index < count; index += 1) {
    if (selected[index] === 0) continue;
    out[found] = values[index];
    found += 1;
  }
  return out.subarray(0, found);
}

/** Adds a block of values to `into`. Parameters as `momentsOf`. */
export function addToMoments(
  into: Moments,
  values: ArrayLike<number>,
  count = values.length,
  selected?: ArrayLike<number>,
): void {
  mergeMoments(into, momentsOf(values, count, selected));
}

/**
 * Adds the moments of another set to `into`. Merge in a fixed order (that of the blocks) where the last bit must not change.
 *
 * Source: T. F. Chan, G. H. Golub, R. J. LeVeque, "Updating formulae and a pairwise algorithm for computing sample variances", 1979;
 * third and fourth moments P. Pébay, SAND2008-6212 (both from memory).
 */
export function mergeMoments(into: Moments, other: Moments): void {
  if (other.count === 0) return;
  if (into.count === 0) {
    Object.assign(into, other);
    return;
  }
  const na = into.count;
  const nb = other.count;
  const n = na + nb;
  const d = other.mean - into.mean;
  const dn = d / n;
  const cross = d * dn * na * nb;
  into.m4 +=
    other.m4 +
    cross * dn * dn * (na * na - na * nb + nb * nb) +
    6 * dn * dn * (na * na * other.m2 + nb * nb * into.m2) +
    4 * dn * (na * other.m3 - nb * into.m3);
  into.m3 += other.m3 + cross * dn * (na - nb) + 3 * dn * (na * other.m2 - nb * into.m2);
  into.m2 += other.m2 + cross;
  into.mean += dn * nb;
  into.count = n;
  into.min = Math.min(into.min, other.min);
  into.max = Math.max(into.max, other.max);
}

/** Variance with the divisor n - 1; NaN below two values. */
export function variance(moments: Moments): number {
  return moments.count < 2 ? Number.NaN : Math.max(0, moments.m2) / (moments.count - 1);
}

/** Standard deviation with the divisor n - 1; NaN below two values. */
export function standardDeviation(moments: Moments): number {
  return Math.sqrt(variance(moments));
}

/** Population skewness g1 = (m3/n)/(m2/n)^1.5; 0 where there is no spread. */
export function skewness(moments: Moments): number {
  const { count, m2, m3 } = moments;
  return m2 > 0 ? (Math.sqrt(count) * m3) / (m2 * Math.sqrt(m2)) : 0;
}

/** Population excess kurtosis g2 = (m4/n)/(m2/n)² - 3; 0 where there is no spread. */
export function excessKurtosis(moments: Moments): number {
  const { count, m2, m4 } = moments;
  return m2 > 0 ? (count * m4) / (m2 * m2) - 3 : 0;
}
