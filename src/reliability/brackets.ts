/** Values of one limit each, at places on lines. */
export type AskSome = (lines: readonly number[], limits: readonly number[], places: readonly number[]) => Float64Array;

/** Crossings of limits on lines, each kept between two points of unlike sign. */
export interface Brackets {
  readonly line: number[];
  readonly limit: number[];
  readonly low: number[];
  readonly high: number[];
  readonly gLow: number[];
  readonly gHigh: number[];
  /** Where to ask first; NaN for no guess. */
  readonly guess: number[];
}

const MAX_STEPS = 100;

/** No crossings yet. */
export function createBrackets(): Brackets {
  return { line: [], limit: [], low: [], high: [], gLow: [], gHigh: [], guess: [] };
}

/** Adds a crossing; `ahead` is where it was read to lie, or a guess. */
export function pushBracket(
  brackets: Brackets,
  line: number,
  limit: number,
  low: number,
  high: number,
  gLow: number,
  gHigh: number,
  ahead: Reading | null,
): void {
  brackets.line.push(line);
  brackets.limit.push(limit);
  brackets.low.push(ahead?.isFound ? ahead.place : low);
  brackets.high.push(ahead?.isFound ? ahead.place : high);
  brackets.gLow.push(gLow);
  brackets.gHigh.push(gHigh);
  brackets.guess.push(ahead?.place ?? Number.NaN);
}

/** A place read from the scan alone, and whether it can be relied on. */
export interface Reading {
  readonly place: number;
  readonly isFound: boolean;
}

/** Nodes that the two readings take. */
const FEW = 4;
const MANY = 6;

const terms = new Float64Array(MANY);

/**
 * Reads where the values cross zero between nodes k and k + 1: by inverse interpolation through four nodes about them and through six. Where both agree the
 * better one, of degree 5, is surer still.
 *
 * Source: A. C. Aitken, "On interpolation by iteration of proportional parts", Proc. Edinburgh Math. Soc. 3 (1932) 56-76; E. H. Neville, J. Indian Math. Soc.
 * 20 (1934) 87-120.
 */
export function readAhead(
  grid: Float64Array,
  values: Float64Array,
  k: number,
  isFine: (low: number, high: number) => boolean,
): Reading | null {
  if (grid.length < MANY) return null;
  const few = inverse(grid, values, k, FEW);
  const many = inverse(grid, values, k, MANY);
  if (!(many >= grid[k] && many <= grid[k + 1])) return null;
  return { place: many, isFound: isFine(Math.min(few, many), Math.max(few, many)) };
}

/** The place at which the polynomial of the place over the value, through `nodes` nodes about k, meets the value 0. */
function inverse(grid: Float64Array, values: Float64Array, k: number, nodes: number): number {
  const start = Math.min(Math.max(0, k + 1 - nodes / 2), grid.length - nodes);
  for (let i = 0; i < nodes; i += 1) terms[i] = grid[start + i];
  for (let span = 1; span < nodes; span += 1) {
    for (let i = 0; i + span < nodes; i += 1) {
      const [a, b] = [values[start + i], values[start + i + span]];
      terms[i] = (a * terms[i + 1] - b * terms[i]) / (a - b);
    }
  }
  return terms[0];
}

/**
 * Narrows all brackets at once, in place, until each is fine: by the Illinois variant of the false position, with bisection where that stalls.
 *
 * @param leastRatio steps keep this far inside a bracket, standard deviations, so that its other end moves too
 *
 * Source: M. Dowell, P. Jarratt, BIT 11 (1971) 168-174.
 */
export function narrow(
  brackets: Brackets,
  isFine: (low: number, high: number) => boolean,
  leastRatio: number,
  ask: AskSome,
): void {
  const { line, limit, low, high, gLow, gHigh, guess } = brackets;
  let active = Array.from(line.keys()).filter((i) => !isFine(low[i], high[i]));
  const lastSide = new Int8Array(line.length);
  const weightLow = new Float64Array(line.length).fill(1);
  const weightHigh = new Float64Array(line.length).fill(1);
  const startWidth = line.map((_, i) => high[i] - low[i]);
  let pace = 1;
  for (let step = 0; step < MAX_STEPS && active.length > 0; step += 1) {
    pace *= 0.7;
    const places = active.map((i) => {
      if (step === 0 && guess[i] > low[i] && guess[i] < high[i]) return guess[i];
      const a = gLow[i] * weightLow[i];
      const b = gHigh[i] * weightHigh[i];
      const width = high[i] - low[i];
      // Bisect every third step where the bracket has not narrowed at half the pace of bisection.
      const slow = step % 3 === 2 && width > startWidth[i] * pace;
      const share = a / (a - b);
      if (slow || !(share > 0 && share < 1)) return low[i] + 0.5 * width;
      const margin = Math.min(0.5, leastRatio / width);
      return low[i] + width * Math.min(1 - margin, Math.max(margin, share));
    });
    const values = ask(
      active.map((i) => line[i]),
      active.map((i) => limit[i]),
      places,
    );
    const next: number[] = [];
    active.forEach((i, k) => {
      const value = values[k];
      const place = places[k];
      if (value === 0) {
        low[i] = place;
        high[i] = place;
        return;
      }
      if (value < 0 === gLow[i] < 0) {
        low[i] = place;
        gLow[i] = value;
        weightLow[i] = 1;
        weightHigh[i] = lastSide[i] === -1 ? 0.5 * weightHigh[i] : 1;
        lastSide[i] = -1;
      } else {
        high[i] = place;
        gHigh[i] = value;
        weightHigh[i] = 1;
        weightLow[i] = lastSide[i] === 1 ? 0.5 * weightLow[i] : 1;
        lastSide[i] = 1;
      }
      if (!isFine(low[i], high[i])) next.push(i);
    });
    active = next;
  }
}
