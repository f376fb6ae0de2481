/**
 * Where limits are crossed along parallel lines through the normal scores. What lies between crossings has a probability in closed form, line by line; what
 * is left to average over the lines is smooth, which is what quasi-Monte Carlo points want.
 */
import { InternalError } from "../errors.ts";
import { normalPdf } from "../numeric/special.ts";
import { type AskSome, type Brackets, createBrackets, narrow, pushBracket, readAhead } from "./brackets.ts";
import { createColumns } from "./limit-function.ts";

/**
 * Several limit functions at once; each is below 0 on one side of its limit.
 *
 * @param scores one column a variable, of which the first `count` elements count
 * @param out one column a limit
 */
export type Limits = (scores: readonly Float64Array[], out: readonly Float64Array[], count: number) => void;

/** Parallel lines foot + t·direction. */
export interface Lines {
  /** Of length 1. */
  readonly direction: Float64Array;
  /** One column a variable: the points of the lines at t = 0, at right angles to the direction. */
  readonly feet: readonly Float64Array[];
  readonly count: number;
}

export interface LineOptions {
  /** The lines are looked at from -reach to reach standard deviations; beyond, the state at the end is taken to go on. Default 8. */
  readonly reachRatio?: number;
  /** Distance between the points at which the limits are asked first. Default 0.5. */
  readonly spacingRatio?: number;
  /** Uncertainty of its place at which a crossing counts as found, standard deviations. Default 1e-10. */
  readonly toleranceRatio?: number;
  /** Or the probability of that uncertainty: crossings far out need not be known as well. Default 0. */
  readonly toleranceShare?: number;
}

/** Crossings of every limit on every line. */
export interface Crossings {
  readonly limits: number;
  readonly count: number;
  /** Those of limit e on line i are `places[starts[i·limits + e]]` to before `places[starts[i·limits + e + 1]]`, ascending. */
  readonly starts: Int32Array;
  readonly places: Float64Array;
  /** 1 where limit e of line i begins below 0. */
  readonly beginsBelow: Uint8Array;
  /** Points at which the limits were asked. */
  readonly evaluations: number;
  /** Pairs of a line and a limit by number of crossings; the last bin holds more. */
  readonly byCrossings: readonly number[];
}

/** Bins of `byCrossings`. */
export const CROSSING_BINS = 5;

/**
 * Finds where each limit is crossed along each line.
 *
 * The lines are scanned at equal spacing, so that crossings further apart than that are all found; where the middle one of three values of one sign is the
 * nearest to zero, the vertex of the parabola through them is asked too, which finds most of the closer pairs. The place of a crossing is read from the
 * values about it by inverse interpolation, of degree 3 and of degree 5; where the two do not agree (kinks, jumps, strong bends) it is narrowed down by
 * asking the limits.
 *
 * @param limitCount how many columns the limits fill
 * @throws InternalError where a limit is not a number, or for a spacing that is none
 *
 * Source: P. S. Koutsourelakis, H. J. Pradlwarter, G. I. Schueller, "Reliability of structures in high dimensions", Prob. Eng. Mech. 19 (2004) 409-417;
 * A. Griewank, F. Y. Kuo, H. Leovey, I. H. Sloan, "High dimensional integration of kinks and jumps - smoothing by preintegration", J. Comput. Appl.
 * Math. 344 (2018) 259-274.
 */
export function findCrossings(limits: Limits, limitCount: number, lines: Lines, options: LineOptions = {}): Crossings {
  const reach = options.reachRatio ?? 8;
  const steps = Math.ceil((2 * reach) / (options.spacingRatio ?? 0.5));
  const toleranceRatio = options.toleranceRatio ?? 1e-10;
  const toleranceShare = options.toleranceShare ?? 0;
  if (!(steps >= 2 && steps <= 100_000 && toleranceRatio > 0)) throw new InternalError("no line of such spacing");
  const isFine = (low: number, high: number) => {
    const width = high - low;
    if (width <= toleranceRatio) return true;
    const nearest = Math.max(low, Math.min(high, 0));
    return width * normalPdf(nearest) <= toleranceShare;
  };
  const asker = createAsker(limits, limitCount, lines);
  const spacing = (2 * reach) / steps;
  const grid = Float64Array.from({ length: steps + 1 }, (_, k) => -reach + k * spacing);
  const values = Array.from(grid, (t) => asker.askAll(t));
  const brackets = scan(grid, values, limitCount, lines.count, isFine, asker.askSome);
  narrow(brackets, isFine, 0.25 * toleranceRatio, asker.askSome);
  return gather(brackets, values[0], limitCount, lines.count, asker.evaluations());
}

function createAsker(limits: Limits, limitCount: number, { direction, feet, count }: Lines) {
  let evaluations = 0;
  let work = createColumns(feet.length, count);
  let results = createColumns(limitCount, count);
  const evaluate = (out: readonly Float64Array[], size: number) => {
    limits(work, out, size);
    evaluations += size;
  };
  const check = (value: number) => {
    if (Number.isNaN(value)) throw new InternalError("a limit is not a number on a line");
    return value;
  };
  const askAll = (t: number) => {
    feet.forEach((foot, d) => {
      const [column, step] = [work[d], t * direction[d]];
      for (let i = 0; i < count; i += 1) column[i] = foot[i] + step;
    });
    const out = createColumns(limitCount, count);
    evaluate(out, count);
    for (const column of out) column.forEach(check);
    return out;
  };
  const askSome: AskSome = (lines, which, places) => {
    const size = lines.length;
    if (size === 0) return new Float64Array(0);
    if (work[0].length < size) {
      work = createColumns(feet.length, size);
      results = createColumns(limitCount, size);
    }
    feet.forEach((foot, d) => {
      const column = work[d];
      for (let i = 0; i < size; i += 1) column[i] = foot[lines[i]] + places[i] * direction[d];
    });
    evaluate(results, size);
    return Float64Array.from(which, (limit, i) => check(results[limit][i]));
  };
  return { askAll, askSome, evaluations: () => evaluations };
}

type IsFine = (low: number, high: number) => boolean;

/** Brackets every change of sign between neighbours of the scan, and those that a look between them finds. */
function scan(
  grid: Float64Array,
  values: readonly (readonly Float64Array[])[],
  limitCount: number,
  count: number,
  isFine: IsFine,
  ask: AskSome,
): Brackets {
  const found = createBrackets();
  const probes = { line: [] as number[], limit: [] as number[], cell: [] as number[], place: [] as number[] };
  const own = new Float64Array(grid.length);
  for (let line = 0; line < count; line += 1) {
    for (let limit = 0; limit < limitCount; limit += 1) {
      for (let k = 0; k < grid.length; k += 1) own[k] = values[k][limit][line];
      for (let k = 0; k + 1 < grid.length; k += 1) {
        if (own[k] < 0 !== own[k + 1] < 0) {
          pushBracket(found, line, limit, grid[k], grid[k + 1], own[k], own[k + 1], readAhead(grid, own, k, isFine));
        }
        const place = k > 0 ? vertexToProbe(grid, own, k) : Number.NaN;
        if (Number.isNaN(place)) continue;
        const cell = place < grid[k] ? k - 1 : k;
        // Two middles may point into the same cell: the first will do.
        const last = probes.cell.length - 1;
        if (last >= 0 && probes.line[last] === line && probes.limit[last] === limit && probes.cell[last] === cell) {
          continue;
        }
        probes.line.push(line);
        probes.limit.push(limit);
        probes.cell.push(cell);
        probes.place.push(place);
      }
    }
  }
  const probed = ask(probes.line, probes.limit, probes.place);
  probed.forEach((value, i) => {
    const [line, limit, cell, place] = [probes.line[i], probes.limit[i], probes.cell[i], probes.place[i]];
    const [low, high] = [values[cell][limit][line], values[cell + 1][limit][line]];
    if (value < 0 === low < 0 || low < 0 !== high < 0) return;
    pushBracket(found, line, limit, grid[cell], place, low, value, null);
    pushBracket(found, line, limit, place, grid[cell + 1], value, high, null);
  });
  return found;
}

/** Where three values of one sign hint at a pair of crossings about the middle one; NaN where they do not. */
function vertexToProbe(grid: Float64Array, own: Float64Array, k: number): number {
  const [a, b, c] = [own[k - 1], own[k], own[k + 1]];
  if (a < 0 !== b < 0 || c < 0 !== b < 0) return Number.NaN;
  // Curvature away from zero, and a vertex on the other side of it.
  const bend = a - 2 * b + c;
  const lean = c - a;
  const turnsAway = b < 0 ? bend < 0 : bend > 0;
  if (!turnsAway || Math.abs(lean) > 2 * Math.abs(bend)) return Number.NaN;
  const vertex = b - (lean * lean) / (8 * bend);
  // The parabola is only a guide: probe also where it comes near to zero without crossing.
  if (Math.abs(vertex) > 0.25 * Math.abs(b) && vertex < 0 === b < 0) return Number.NaN;
  const place = grid[k] - ((grid[k + 1] - grid[k]) * lean) / (2 * bend);
  return place > grid[k - 1] && place < grid[k + 1] && place !== grid[k] ? place : Number.NaN;
}

/** Sorts the crossings found by line, limit and place. */
function gather(
  { line, limit, low, high }: Brackets,
  first: readonly Float64Array[],
  limits: number,
  count: number,
  evaluations: number,
): Crossings {
  const starts = new Int32Array(count * limits + 1);
  for (let i = 0; i < line.length; i += 1) starts[line[i] * limits + limit[i] + 1] += 1;
  const byCrossings = new Array<number>(CROSSING_BINS).fill(0);
  for (let pair = 0; pair < count * limits; pair += 1) {
    byCrossings[Math.min(starts[pair + 1], CROSSING_BINS - 1)] += 1;
    starts[pair + 1] += starts[pair];
  }
  const places = new Float64Array(line.length);
  const filled = new Int32Array(count * limits);
  for (let i = 0; i < line.length; i += 1) {
    const pair = line[i] * limits + limit[i];
    const place = 0.5 * (low[i] + high[i]);
    let at = starts[pair] + filled[pair];
    for (; at > starts[pair] && places[at - 1] > place; at -= 1) places[at] = places[at - 1];
    places[at] = place;
    filled[pair] += 1;
  }
  const beginsBelow = new Uint8Array(count * limits);
  for (let i = 0; i < count; i += 1) {
    for (let e = 0; e < limits; e += 1) beginsBelow[i * limits + e] = first[e][i] < 0 ? 1 : 0;
  }
  return { limits, count, starts, places, beginsBelow, evaluations, byCrossings };
}
