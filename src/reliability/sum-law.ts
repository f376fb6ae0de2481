/** The law of a sum of independent quantities of mixed kinds, as a distribution like any other. */
import { prepare } from "../distributions/prepare.ts";
import { LEAST_UNIFORM, type PreparedDistribution } from "../distributions/prepared.ts";
import type { Distribution } from "../distributions/types.ts";
import { InternalError } from "../errors.ts";
import { findRoot } from "../numeric/roots.ts";
import { integrateSegments } from "./gauss-kronrod.ts";
import { type Measure, measureOf, stretchedMeasure } from "./measure.ts";
import { stretched } from "./stretched.ts";
import { tabulateTails } from "./tail-table.ts";

export interface SumTerm {
  readonly factor: number;
  readonly distribution: Distribution;
}

export interface SumLaw extends PreparedDistribution {
  /** Bound on the error of `cdf` and `survival`; 0 where they are closed forms. */
  readonly errorRatio: number;
}

/** What the convolutions are held to (see the tests). */
const CONVOLUTION_ERROR = 1e-10;
/** Past this many kinks the adaptive rules are left to find them. */
const MOST_KINKS = 20;
/** Past this many, as two lists of measured values have, the sum is taken to COARSE only. */
const MANY_KINKS = 200;
const COARSE = 1e-11;
/** Where a normal is tabulated to, in standard deviations: Φ(-9) = 1e-19. */
const NORMAL_REACH = 9;
/** A tail that is less than this at the end of its table is nothing beyond. */
const NOTHING = 1e-17;
/** Where other tails without an end are tabulated to, as a probability; beyond, the integral is worked out at each call. */
const TAIL_REACH = 1e-9;

/** A law on the way, about its own centre. */
interface Stage {
  readonly cdf: (x: number) => number;
  readonly survival: (x: number) => number;
  readonly pdf: (x: number) => number;
  readonly low: number;
  readonly high: number;
  readonly tableLow: number;
  readonly tableHigh: number;
  readonly kinks: readonly number[];
  /** Whether kinks stand so close that they are smoothed over, within the stated error. */
  readonly hasMany: boolean;
  /** Places between which the law changes by much. */
  readonly guides: readonly number[];
}

/**
 * The law of Σ factor·X over independent terms.
 *
 * Normals join in closed form, constants shift, a single other term is only stretched. Two or more others, or one with normals, are convolved one after the
 * other: F(x) = ∫ F_before(x - y) dG(y) by adaptive quadrature, split at every kink, tabulated as piecewise polynomials, the lower tail
 * and the upper tail apart.
 *
 * @param terms at least one; a factor may be negative, a factor of 0 drops the term
 * @returns `cdf` and `survival` (0 where they are below 1e-17) within `errorRatio` (measured: 1e-14 for light tails, 1e-11 for Cauchy's); `pdf` to about 1e-8 of its peak away from kinks
 * @throws InternalError without a term or for a factor that is not finite
 */
export function sumLaw(terms: readonly SumTerm[]): SumLaw {
  if (terms.length === 0) throw new InternalError("a sum needs a term");
  const others: SumTerm[] = [];
  let shift = 0;
  let variance = 0;
  for (const { factor, distribution } of terms) {
    if (!Number.isFinite(factor)) throw new InternalError(`a sum with factor ${factor}`);
    if (factor === 0) continue;
    if (distribution.kind === "constant") shift += factor * distribution.value;
    else if (distribution.kind === "normal") {
      shift += factor * distribution.mean;
      variance += factor * distribution.sd * (factor * distribution.sd);
    } else others.push({ factor, distribution });
  }
  if (others.length === 0) {
    const closed: Distribution =
      variance > 0 ? { kind: "normal", mean: shift, sd: Math.sqrt(variance) } : { kind: "constant", value: shift };
    return { ...prepare(closed), errorRatio: 0 };
  }
  if (others.length === 1 && variance === 0) {
    const [{ factor, distribution }] = others;
    return { ...stretched(prepare(distribution), factor, shift), errorRatio: 0 };
  }
  return convolved(others, Math.sqrt(variance), shift);
}

function convolved(others: readonly SumTerm[], sd: number, shift: number): SumLaw {
  let location = shift;
  let mean = shift;
  let variance = sd * sd;
  const measures = others.map(({ factor, distribution }) => {
    const measure = measureOf(distribution);
    const { mean: own, standardDeviation, quantile } = measure.prepared;
    const middle = factor * (Number.isNaN(own) ? quantile(0.5) : own);
    location += middle;
    mean += factor * own;
    variance += factor * standardDeviation * (factor * standardDeviation);
    return stretchedMeasure(measure, factor, -middle);
  });
  // The widest first: the tables of what follows are then the smoothest. Tails without an end last: past its table a law costs an integral a call.
  measures.sort((a, b) => Number(isEndless(a)) - Number(isEndless(b)) || width(b) - width(a));
  let stage = sd > 0 ? normalStage(sd) : lawOf(measures.shift()!);
  for (const measure of measures) stage = convolve(stage, measure);
  return finish(stage, location, mean, Math.sqrt(variance));
}

function isEndless({ prepared }: Measure): boolean {
  return prepared.high - prepared.low === Number.POSITIVE_INFINITY;
}

function width({ prepared }: Measure): number {
  return prepared.upperQuantile(0.05) - prepared.quantile(0.05);
}

function normalStage(sd: number): Stage {
  const { cdf, survival, pdf } = prepare({ kind: "normal", mean: 0, sd });
  return {
    cdf,
    survival,
    pdf,
    low: Number.NEGATIVE_INFINITY,
    high: Number.POSITIVE_INFINITY,
    tableLow: -NORMAL_REACH * sd,
    tableHigh: NORMAL_REACH * sd,
    // No kinks, but where the normal is narrow all that another kink of the sum does lies between these.
    kinks: [-6 * sd, 6 * sd],
    hasMany: false,
    guides: [-8, -4, -1.5, 1.5, 4, 8].map((z) => z * sd),
  };
}

function lawOf({ prepared, kinks, isSlow }: Measure): Stage {
  const { low, high, cdf, survival, pdf } = prepared;
  const reach = reachOf(prepared);
  const tails = isSlow ? tabulated(cdf, survival, pdf, reach, []) : { cdf, survival, pdf };
  return { ...tails, low, high, ...reach, kinks, hasMany: false, guides: guidesOf(prepared) };
}

interface Reach {
  readonly tableLow: number;
  readonly tableHigh: number;
}

type Tails = Pick<Stage, "cdf" | "survival" | "pdf">;

/** The same functions by way of a table about 0 where that reaches. */
function tabulated(
  lower: (x: number) => number,
  upper: (x: number) => number,
  density: (x: number) => number,
  { tableLow, tableHigh }: Reach,
  kinks: readonly number[],
  floor = 0,
): Tails {
  const least = 1e-12 * (tableHigh - tableLow);
  const ends = [tableLow, 0, tableHigh];
  const inner = kinks.filter((x) => x > tableLow && x < tableHigh && ends.every((end) => Math.abs(x - end) > least));
  const table = tabulateTails((x) => (x < 0 ? lower(x) : upper(x)), distinct([...ends, ...inner], 0), 0, floor);
  const isEmptyBelow = lower(tableLow) < NOTHING;
  const isEmptyAbove = upper(tableHigh) < NOTHING;
  const tail = (x: number) => {
    if (x > tableLow && x < tableHigh) return Math.min(1, Math.max(0, table.tail(x)));
    if (x < 0) return isEmptyBelow ? 0 : lower(x);
    return isEmptyAbove ? 0 : upper(x);
  };
  return {
    cdf: (x) => (x < 0 ? tail(x) : 1 - tail(x)),
    survival: (x) => (x < 0 ? 1 - tail(x) : tail(x)),
    pdf: (x) => (x >= tableLow && x < tableHigh ? Math.max(0, table.density(x)) : density(x)),
  };
}

function reachOf(prepared: PreparedDistribution): Reach {
  return {
    tableLow: Number.isFinite(prepared.low) ? prepared.low : prepared.quantile(TAIL_REACH),
    tableHigh: Number.isFinite(prepared.high) ? prepared.high : prepared.upperQuantile(TAIL_REACH),
  };
}

function guidesOf(law: Pick<PreparedDistribution, "quantile" | "upperQuantile">): number[] {
  return [law.quantile(1e-6), law.quantile(0.02), law.quantile(0.5), law.upperQuantile(0.02), law.upperQuantile(1e-6)];
}

/** The law of the sum of a stage and one more term. */
function convolve(before: Stage, measure: Measure): Stage {
  const { prepared, places, value, weight, place, atoms = [] } = measure;
  const marks = [...before.kinks, ...before.guides];
  const hasMany = before.hasMany || before.kinks.length * measure.kinks.length > MANY_KINKS;
  const integral = (f: (x: number) => number, x: number) => {
    const inner = marks
      .map((mark) => place(x - mark))
      .concat(places)
      .sort((a, b) => a - b);
    let sum = integrateSegments((w) => f(x - value(w)) * weight(w), inner);
    for (const atom of atoms) sum += atom.probability * f(x - atom.value);
    return sum;
  };
  const low = before.low + prepared.low;
  const high = before.high + prepared.high;
  const reach = reachOf(prepared);
  const tableLow = before.tableLow + reach.tableLow;
  const tableHigh = before.tableHigh + reach.tableHigh;
  const lower = (x: number) => (x <= low ? 0 : integral(before.cdf, x));
  const upper = (x: number) => (x >= high ? 0 : integral(before.survival, x));
  const kinks = sumsOf(before.kinks, measure.kinks, tableHigh - tableLow);
  const density = (x: number) => (x > low && x < high ? integral(before.pdf, x) : 0);
  const tails = tabulated(lower, upper, density, { tableLow, tableHigh }, kinks, hasMany ? COARSE : 0);
  const stage = { ...tails, low, high, tableLow, tableHigh, kinks, hasMany };
  return { ...stage, guides: guidesOf(quantilesOf(stage)) };
}

/** All sums of two kinks; where they are too many the ends of the bunches that the widest gaps leave, so that narrow features stay fenced in. */
function sumsOf(first: readonly number[], second: readonly number[], span: number): number[] {
  const sums = distinct(
    first.flatMap((a) => second.map((b) => a + b)),
    1e-12 * span,
  );
  if (sums.length <= MOST_KINKS) return sums;
  const gaps = sums.slice(1).map((x, k) => x - sums[k]);
  const wide = gaps.slice().sort((a, b) => b - a)[MOST_KINKS / 2 - 1];
  return sums.filter((_, k) => k === 0 || k === sums.length - 1 || gaps[k - 1] >= wide || gaps[k] >= wide);
}

/** Rising, without those nearer than `least` to the one before. */
function distinct(values: readonly number[], least: number): number[] {
  const kept: number[] = [];
  for (const value of values.slice().sort((a, b) => a - b)) {
    if (kept.length === 0 || value - kept[kept.length - 1] > least) kept.push(value);
  }
  return kept;
}

type Invertible = Omit<Stage, "kinks" | "guides" | "pdf" | "hasMany">;

function quantilesOf(stage: Invertible): Pick<PreparedDistribution, "quantile" | "upperQuantile"> {
  const middle = stage.cdf(0);
  const invert = (p: number, isLower: boolean): number => {
    if (p === 0) return isLower ? stage.low : stage.high;
    const side = isLower ? -1 : 1;
    const tail = isLower ? stage.cdf : stage.survival;
    let far = isLower ? stage.tableLow : stage.tableHigh;
    while (tail(far) > p) far *= 2;
    if (far * side <= 0) return 0;
    return findRoot((x) => tail(x) - p, 0, far, { tolerance: 1e-14 * Math.abs(far) });
  };
  const at = (p: number, rest: number) => {
    if (p === middle) return 0;
    return p < middle ? invert(p, true) : invert(rest, false);
  };
  return { quantile: (p) => at(p, 1 - p), upperQuantile: (q) => at(1 - q, q) };
}

function finish(stage: Stage, location: number, mean: number, standardDeviation: number): SumLaw {
  const { quantile, upperQuantile } = quantilesOf(stage);
  return {
    low: location + stage.low,
    high: location + stage.high,
    mean,
    standardDeviation,
    errorRatio: CONVOLUTION_ERROR,
    cdf: (x) => stage.cdf(x - location),
    survival: (x) => stage.survival(x - location),
    pdf: (x) => stage.pdf(x - location),
    quantile: (p) => location + quantile(p),
    upperQuantile: (q) => location + upperQuantile(q),
    transform: (column, count) => {
      for (let i = 0; i < count; i += 1) {
        const u = Math.min(1 - LEAST_UNIFORM, Math.max(LEAST_UNIFORM, column[i]));
        column[i] = location + (u < 0.5 ? quantile(u) : upperQuantile(1 - u));
      }
    },
  };
}
