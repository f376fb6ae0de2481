/**
 * Design points: the places on a limit that lie nearest to the origin of the normal scores, where failures are likeliest.
 *
 * They serve to aim importance sampling. The probability Φ(-β) that goes with one is a first-order guess, wrong by factors for curved or joined limits;
 * it is never a result.
 */
import { InternalError } from "../errors.ts";
import { normalQuantile } from "../numeric/special.ts";
import { DRAW_DOMAIN, fillUniform, type SeedKey, variableId } from "../random/streams.ts";
import { createColumns, type LimitFunction } from "./limit-function.ts";

export interface DesignPoint {
  readonly scores: Float64Array;
  /** Distance from the origin, negative where the origin itself fails. */
  readonly indexRatio: number;
  /** Which of the limits it lies on. */
  readonly limit: number;
}

export interface DesignSearch {
  readonly points: readonly DesignPoint[];
  readonly evaluations: number;
  /** Starts that came to no point: past the iterations, or with no slope to follow. */
  readonly failedStarts: number;
}

export interface DesignOptions {
  /** Starts beside the origin, on a sphere of 3 standard deviations. Default 12. */
  readonly starts?: number;
  /** Points are kept up to this much further out than the nearest. Default 2. */
  readonly rangeRatio?: number;
}

const MOST_ITERATIONS = 60;
const DIFFERENCE = 1e-5;
const START_RADIUS = 3;
const STEP_SIZES = [1, 0.5, 0.25, 0.125, 0.0625, 0.03125, 0.015625, 0.0078125, 0.00390625, 0.001953125];
/** Points nearer than this to a kept one are the same. */
const SAME = 0.2;

/**
 * Searches each limit from the origin and from points around it, by the HL-RF iteration with a line search on the merit |z|²/2 + c·|g|, gradients by
 * central differences. Points are returned nearest first.
 *
 * @param dimensions number of scores
 * @param key of the seed, for the starts
 *
 * Source: A. M. Hasofer, N. C. Lind 1974; R. Rackwitz, B. Fiessler 1978; line search: Y. Zhang, A. Der Kiureghian, "Two improved algorithms for reliability
 * analysis", 1995 (from memory).
 */
export function findDesignPoints(
  limits: readonly LimitFunction[],
  dimensions: number,
  key: SeedKey,
  options: DesignOptions = {},
): DesignSearch {
  const starts = startPoints(dimensions, options.starts ?? 12, key);
  const found: DesignPoint[] = [];
  let evaluations = 0;
  let failedStarts = 0;
  limits.forEach((limit, index) => {
    const count = (size: number) => {
      evaluations += size;
    };
    const ask = createAsker(limit, dimensions, count);
    const origin = ask([new Float64Array(dimensions)])[0];
    for (const start of starts) {
      const scores = search(ask, start, Math.abs(origin));
      if (scores === null) {
        failedStarts += 1;
        continue;
      }
      const indexRatio = (origin < 0 ? -1 : 1) * lengthOf(scores);
      const isNew = found.every((other) => other.limit !== index || distance(other.scores, scores) > SAME);
      if (isNew) found.push({ scores, indexRatio, limit: index });
    }
  });
  const nearest = found.reduce((least, { scores }) => Math.min(least, lengthOf(scores)), Number.POSITIVE_INFINITY);
  const points = found
    .filter(({ scores }) => lengthOf(scores) <= nearest + (options.rangeRatio ?? 2))
    .sort((a, b) => lengthOf(a.scores) - lengthOf(b.scores));
  return { points, evaluations, failedStarts };
}

type Ask = (points: readonly Float64Array[]) => Float64Array;

function createAsker(limit: LimitFunction, dimensions: number, count: (size: number) => void): Ask {
  let columns = createColumns(dimensions, 0);
  return (points) => {
    if (columns[0].length < points.length) columns = createColumns(dimensions, points.length);
    for (let d = 0; d < dimensions; d += 1) {
      for (let i = 0; i < points.length; i += 1) columns[d][i] = points[i][d];
    }
    const values = new Float64Array(points.length);
    limit(columns, values, points.length);
    count(points.length);
    if (values.some(Number.isNaN)) throw new InternalError("the limit function is not a number near a design point");
    return values;
  };
}

function startPoints(dimensions: number, count: number, key: SeedKey): Float64Array[] {
  const points = [new Float64Array(dimensions)];
  const uniforms = new Float64Array(dimensions);
  for (let start = 0; start < count; start += 1) {
    const point = new Float64Array(dimensions);
    for (let d = 0; d < dimensions; d += 1) {
      fillUniform(key, variableId(`start.${d}`), start, uniforms, 1, DRAW_DOMAIN.importance);
      point[d] = normalQuantile(uniforms[0]);
    }
    const scale = START_RADIUS / lengthOf(point);
    points.push(point.map((x) => x * scale));
  }
  return points;
}

/** One search; null where it does not settle. `scale` is |g| at the origin. */
function search(ask: Ask, start: Float64Array, scale: number): Float64Array | null {
  let z = start;
  let penalty = 0;
  for (let iteration = 0; iteration < MOST_ITERATIONS; iteration += 1) {
    const { value, gradient } = slopeAt(ask, z);
    const square = gradient.reduce((sum, x) => sum + x * x, 0);
    if (!(square > 0 && square < Number.POSITIVE_INFINITY)) return null;
    const along = dot(gradient, z) - value;
    const step = z.map((x, d) => (along / square) * gradient[d] - x);
    const size = lengthOf(step);
    if (size < 1e-5 * (1 + lengthOf(z)) && Math.abs(value) <= 1e-6 * Math.max(scale, Math.sqrt(square))) return z;
    penalty = Math.max(penalty, (2 * lengthOf(z)) / Math.sqrt(square) + 10 / Math.sqrt(square));
    z = descend(ask, z, value, step, penalty);
  }
  return null;
}

/** The longest of the halved steps that lowers the merit enough, all asked at once; the shortest where none does. */
function descend(ask: Ask, z: Float64Array, value: number, step: Float64Array, penalty: number): Float64Array {
  const merit = (point: Float64Array, g: number) => 0.5 * dot(point, point) + penalty * Math.abs(g);
  const before = merit(z, value);
  const expected = dot(z, step) - penalty * Math.abs(value);
  const sizes = STEP_SIZES;
  const tries = sizes.map((size) => z.map((x, d) => x + size * step[d]));
  const values = ask(tries);
  for (let k = 0; k < sizes.length; k += 1) {
    if (merit(tries[k], values[k]) <= before + 1e-4 * sizes[k] * Math.min(expected, 0)) return tries[k];
  }
  return tries[tries.length - 1];
}

function slopeAt(ask: Ask, z: Float64Array): { value: number; gradient: Float64Array } {
  const points = [z];
  for (let d = 0; d < z.length; d += 1) {
    for (const side of [1, -1]) {
      const point = z.slice();
      point[d] += side * DIFFERENCE;
      points.push(point);
    }
  }
  const values = ask(points);
  const gradient = z.map((_, d) => (values[1 + 2 * d] - values[2 + 2 * d]) / (2 * DIFFERENCE));
  return { value: values[0], gradient };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let d = 0; d < a.length; d += 1) sum += a[d] * b[d];
  return sum;
}

function lengthOf(a: Float64Array): number {
  return Math.sqrt(dot(a, a));
}

function distance(a: Float64Array, b: Float64Array): number {
  return lengthOf(a.map((x, d) => x - b[d]));
}
