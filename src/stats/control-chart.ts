/** Whether parts that were made one after another come from one steady process: individuals and moving range. */

/** Runs that a steady process seldom shows. */
export type RunRule = "beyond-limits" | "one-side" | "trend" | "two-of-three" | "four-of-five" | "range";

export interface ControlSignal {
  readonly rule: RunRule;
  /** First and last value of the run, from 0. */
  readonly from: number;
  readonly to: number;
}

export interface ControlChart {
  readonly centre: number;
  /** Standard deviation from part to part: mean moving range over 1.128. */
  readonly shortTermSd: number;
  readonly lowLimit: number;
  readonly highLimit: number;
  readonly meanRange: number;
  readonly rangeLimit: number;
  readonly signals: readonly ControlSignal[];
}

/** Expected range of two standard normal values, 2/√π. */
const RANGE_OF_TWO = 1.1283791670955126;
/** Upper limit of a moving range of two over its mean: 1 + 3·d₃/d₂, d₃ = 0.8525. */
const RANGE_LIMIT = 3.267;

/**
 * Limits at the mean ± 3 short-term standard deviations (± 2.66 mean moving ranges) and the runs that break them.
 *
 * Rules: one value beyond a limit; nine in a row on one side of the centre; six in a row rising or falling; two of three beyond two
 * standard deviations on one side; four of five beyond one on one side; a moving range beyond its limit.
 *
 * Source: ISO 7870-2:2013 with the tests 1, 2, 3, 5 and 6 of L. S. Nelson, Journal of Quality Technology 16 (1984) 237-239; constants of
 * ISO 7870-2 for ranges of two (all from memory).
 *
 * @param values in the order in which the parts were made; two or more
 */
export function controlChart(values: ArrayLike<number>): ControlChart {
  const n = values.length;
  let sum = 0;
  let ranges = 0;
  for (let i = 0; i < n; i += 1) {
    sum += values[i] - values[0];
    if (i > 0) ranges += Math.abs(values[i] - values[i - 1]);
  }
  const centre = values[0] + sum / n;
  const meanRange = ranges / (n - 1);
  const shortTermSd = meanRange / RANGE_OF_TWO;
  const rangeLimit = RANGE_LIMIT * meanRange;
  const z = Array.from(values, (value) => (shortTermSd > 0 ? (value - centre) / shortTermSd : 0));
  const signals = [
    ...runs(n, 1, "beyond-limits", (i) => Math.abs(z[i]) > 3),
    ...runs(n, 9, "one-side", (i) => sameSide(z, i, 9)),
    ...runs(n, 6, "trend", (i) => isTrend(values, i, 6)),
    ...runs(n, 3, "two-of-three", (i) => beyond(z, i, 3, 2, 2)),
    ...runs(n, 5, "four-of-five", (i) => beyond(z, i, 5, 4, 1)),
    ...runs(n, 2, "range", (i) => Math.abs(values[i + 1] - values[i]) > rangeLimit),
  ];
  return {
    centre,
    shortTermSd,
    lowLimit: centre - 3 * shortTermSd,
    highLimit: centre + 3 * shortTermSd,
    meanRange,
    rangeLimit,
    signals: signals.sort((a, b) => a.from - b.from),
  };
}

/** Joins windows of `length` that break a rule and overlap into one signal each. */
function runs(n: number, length: number, rule: RunRule, breaks: (first: number) => boolean): ControlSignal[] {
  const found: { rule: RunRule; from: number; to: number }[] = [];
  for (let i = 0; i + length <= n; i += 1) {
    if (!breaks(i)) continue;
    const last = found.at(-1);
    if (last !== undefined && i <= last.to) last.to = i + length - 1;
    else found.push({ rule, from: i, to: i + length - 1 });
  }
  return found;
}

function sameSide(z: readonly number[], first: number, length: number): boolean {
  const side = Math.sign(z[first]);
  for (let i = first; i < first + length; i += 1) if (Math.sign(z[i]) !== side) return false;
  return side !== 0;
}

function isTrend(values: ArrayLike<number>, first: number, length: number): boolean {
  const side = Math.sign(values[first + 1] - values[first]);
  for (let i = first + 1; i < first + length; i += 1) if (Math.sign(values[i] - values[i - 1]) !== side) return false;
  return side !== 0;
}

function beyond(z: readonly number[], first: number, length: number, most: number, limit: number): boolean {
  let above = 0;
  let below = 0;
  for (let i = first; i < first + length; i += 1) {
    if (z[i] > limit) above += 1;
    else if (z[i] < -limit) below += 1;
  }
  return above >= most || below >= most;
}
