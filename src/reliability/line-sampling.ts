/**
 * Line sampling: along one direction of the normal scores the share of failing units is worked out in closed form, point by point. What is left to average
 * is smooth, which is what quasi-Monte Carlo points want.
 */
import { InternalError } from "../errors.ts";
import { normalCdf } from "../numeric/special.ts";
import { createColumns, type LimitFunction } from "./limit-function.ts";
import { type Rotation, rotateColumns } from "./rotation.ts";

export interface LineOptions {
  /** The line is looked at from -reach to reach standard deviations; beyond, the state at the end is taken to go on. Default 8. */
  readonly reachRatio?: number;
  /** Distance between the points at which the limit function is asked first. Default 0.5. */
  readonly spacingRatio?: number;
  /** Width of the bracket at which a crossing counts as found. Default 1e-10. */
  readonly toleranceRatio?: number;
}

export interface LineResult {
  /** Evaluations of the limit function. */
  readonly evaluations: number;
  /** Lines that the limit is crossed on, by number of crossings; the last bin holds more. */
  readonly linesByCrossings: readonly number[];
}

const CROSSING_BINS = 5;
const MAX_STEPS = 100;

/** A crossing of the limit on one line, kept between two points of unlike sign. */
interface Brackets {
  readonly line: number[];
  readonly low: number[];
  readonly high: number[];
  readonly gLow: number[];
  readonly gHigh: number[];
}

/**
 * The probability of g < 0 along each line, given the other rotated scores.
 *
 * Each line is scanned at equal spacing, so that crossings further apart than that are all found; where the middle one of three values of one sign is the
 * nearest to zero, the vertex of the parabola through them is asked too, which finds most of the closer pairs. Each bracket is then narrowed by the
 * Illinois variant of the false position with bisection where that stalls; all lines advance together. Probability = Σ over the failing stretches of
 * Φ(t₂) - Φ(t₁).
 *
 * @param rotated scores in rotated axes, one column an axis; the first is not read
 * @param out receives one probability a line
 * @throws InternalError where the limit function is not a number, or for a spacing that is none
 *
 * Source: P. S. Koutsourelakis, H. J. Pradlwarter, G. I. Schueller, "Reliability of structures in high dimensions", Prob. Eng. Mech. 19 (2004) 409-417;
 * A. Griewank, F. Y. Kuo, H. Leovey, I. H. Sloan, "High dimensional integration of kinks and jumps - smoothing by preintegration", J. Comput. Appl.
 * Math. 344 (2018) 259-274; M. Dowell, P. Jarratt, BIT 11 (1971) 168-174 (Illinois).
 */
export function lineProbabilities(
  limit: LimitFunction,
  rotation: Rotation,
  rotated: readonly Float64Array[],
  out: Float64Array,
  count: number,
  options: LineOptions = {},
): LineResult {
  const reach = options.reachRatio ?? 8;
  const steps = Math.ceil((2 * reach) / (options.spacingRatio ?? 0.5));
  const tolerance = options.toleranceRatio ?? 1e-10;
  if (!(steps >= 2 && steps <= 100_000 && tolerance > 0)) throw new InternalError("no line of such spacing");
  const asker = createAsker(limit, rotation, rotated, count);
  const spacing = (2 * reach) / steps;
  const grid = Array.from({ length: steps + 1 }, (_, k) => -reach + k * spacing);
  const values = grid.map((t) => {
    const column = new Float64Array(count);
    asker.askAll(t, column);
    return column;
  });
  const brackets = findBrackets(grid, values, count, asker.askSome);
  narrow(brackets, tolerance, asker.askSome);
  const linesByCrossings = addUp(brackets, values[0], out, count);
  return { evaluations: asker.evaluations(), linesByCrossings };
}

type AskSome = (lines: readonly number[], places: readonly number[]) => Float64Array;

function createAsker(limit: LimitFunction, rotation: Rotation, rotated: readonly Float64Array[], count: number) {
  let evaluations = 0;
  let work = createColumns(rotated.length, count);
  const evaluate = (size: number, result: Float64Array) => {
    rotateColumns(rotation, work, size);
    limit(work, result, size);
    evaluations += size;
    for (let i = 0; i < size; i += 1) {
      if (Number.isNaN(result[i])) throw new InternalError("the limit function is not a number on a line");
    }
  };
  const askAll = (t: number, result: Float64Array) => {
    work[0].fill(t, 0, count);
    for (let d = 1; d < rotated.length; d += 1) work[d].set(rotated[d].subarray(0, count));
    evaluate(count, result);
  };
  const askSome: AskSome = (lines, places) => {
    const size = lines.length;
    const result = new Float64Array(size);
    if (size === 0) return result;
    if (work[0].length < size) work = createColumns(rotated.length, size);
    work[0].set(places);
    for (let d = 1; d < rotated.length; d += 1) {
      const [to, from] = [work[d], rotated[d]];
      for (let i = 0; i < size; i += 1) to[i] = from[lines[i]];
    }
    evaluate(size, result);
    return result;
  };
  return { askAll, askSome, evaluations: () => evaluations };
}

function findBrackets(grid: readonly number[], values: readonly Float64Array[], count: number, ask: AskSome): Brackets {
  const found: Brackets = { line: [], low: [], high: [], gLow: [], gHigh: [] };
  const push = (line: number, low: number, high: number, gLow: number, gHigh: number) => {
    found.line.push(line);
    found.low.push(low);
    found.high.push(high);
    found.gLow.push(gLow);
    found.gHigh.push(gHigh);
  };
  const probe = { line: [] as number[], step: [] as number[], place: [] as number[] };
  for (let line = 0; line < count; line += 1) {
    for (let k = 1; k < grid.length; k += 1) {
      const [a, b] = [values[k - 1][line], values[k][line]];
      if (a < 0 !== b < 0) push(line, grid[k - 1], grid[k], a, b);
      if (k + 1 === grid.length) continue;
      const c = values[k + 1][line];
      if (a < 0 !== b < 0 || c < 0 !== b < 0) continue;
      // Curvature away from zero, and a vertex on the other side of it.
      const bend = a - 2 * b + c;
      const lean = c - a;
      const turnsAway = b < 0 ? bend < 0 : bend > 0;
      if (!turnsAway || Math.abs(lean) > 2 * Math.abs(bend)) continue;
      const vertex = b - (lean * lean) / (8 * bend);
      // The parabola is only a guide: probe also where it comes near to zero without crossing.
      if (Math.abs(vertex) > 0.25 * Math.abs(b) && vertex < 0 === b < 0) continue;
      probe.line.push(line);
      probe.step.push(k);
      probe.place.push(grid[k] - ((grid[k + 1] - grid[k]) * lean) / (2 * bend));
    }
  }
  const probed = ask(probe.line, probe.place);
  const taken = new Set<number>();
  probe.line.forEach((line, i) => {
    const k = probe.step[i];
    const before = probe.place[i] < grid[k] ? k - 1 : k;
    const [gLow, gHigh] = [values[before][line], values[before + 1][line]];
    if (probed[i] < 0 === gLow < 0 || gLow < 0 !== gHigh < 0) return;
    const [low, high] = [grid[before], grid[before + 1]];
    if (!(probe.place[i] > low && probe.place[i] < high)) return;
    const cell = line * grid.length + before;
    if (taken.has(cell)) return;
    taken.add(cell);
    push(line, low, probe.place[i], gLow, probed[i]);
    push(line, probe.place[i], high, probed[i], gHigh);
  });
  return found;
}

/** Narrows all brackets at once, in place, until each is no wider than the tolerance. */
function narrow(brackets: Brackets, tolerance: number, ask: AskSome): void {
  const { line, low, high, gLow, gHigh } = brackets;
  let active = line.map((_, i) => i);
  const lastSide = new Int8Array(line.length);
  const weightLow = new Float64Array(line.length).fill(1);
  const weightHigh = new Float64Array(line.length).fill(1);
  const startWidth = line.map((_, i) => high[i] - low[i]);
  let pace = 1;
  for (let step = 0; step < MAX_STEPS && active.length > 0; step += 1) {
    pace *= 0.7;
    const places = active.map((i) => {
      const a = gLow[i] * weightLow[i];
      const b = gHigh[i] * weightHigh[i];
      const width = high[i] - low[i];
      // Bisect every third step where the bracket has not narrowed at half the pace of bisection.
      const slow = step % 3 === 2 && width > startWidth[i] * pace;
      const share = a / (a - b);
      if (slow || !(share > 0 && share < 1)) return low[i] + 0.5 * width;
      const margin = Math.min(0.5, (0.25 * tolerance) / width);
      return low[i] + width * Math.min(1 - margin, Math.max(margin, share));
    });
    const values = ask(
      active.map((i) => line[i]),
      places,
    );
    const next: number[] = [];
    active.forEach((i, k) => {
      const value = values[k];
      if (value === 0) {
        low[i] = places[k];
        high[i] = places[k];
        return;
      }
      const isLow = value < 0 === gLow[i] < 0;
      if (isLow) {
        low[i] = places[k];
        gLow[i] = value;
        weightLow[i] = 1;
        weightHigh[i] = lastSide[i] === -1 ? 0.5 * weightHigh[i] : 1;
        lastSide[i] = -1;
      } else {
        high[i] = places[k];
        gHigh[i] = value;
        weightHigh[i] = 1;
        weightLow[i] = lastSide[i] === 1 ? 0.5 * weightLow[i] : 1;
        lastSide[i] = 1;
      }
      if (high[i] - low[i] > tolerance) next.push(i);
    });
    active = next;
  }
}

/** Sums Φ over the failing stretches of every line. */
function addUp(brackets: Brackets, first: Float64Array, out: Float64Array, count: number): number[] {
  const crossings: number[][] = Array.from({ length: count }, () => []);
  brackets.line.forEach((line, i) => {
    crossings[line].push(0.5 * (brackets.low[i] + brackets.high[i]));
  });
  const lines = new Array<number>(CROSSING_BINS).fill(0);
  for (let line = 0; line < count; line += 1) {
    const places = crossings[line].sort((a, b) => a - b);
    lines[Math.min(places.length, CROSSING_BINS - 1)] += 1;
    let fails = first[line] < 0;
    let from = Number.NEGATIVE_INFINITY;
    let sum = 0;
    for (const place of [...places, Number.POSITIVE_INFINITY]) {
      if (fails) sum += from > 0 ? normalCdf(-from) - normalCdf(-place) : normalCdf(place) - normalCdf(from);
      fails = !fails;
      from = place;
    }
    out[line] = sum;
  }
  return lines;
}
