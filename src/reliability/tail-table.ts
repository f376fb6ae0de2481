/** A distribution function as piecewise polynomials: the lower tail left of a centre, the upper tail right of it, each to a relative error. */
import { cos } from "../numeric/elementary.ts";

const NODES = 16;
const LEAST_CELLS = 256;
/** Allowed error of a piece, of its largest value. */
const RELATIVE = 2e-12;
/** Allowed error of a piece, absolute. */
const FLOOR = 2e-15;
/** Misses up to this, of the largest value and absolute, may be noise of what is tabulated. */
const NOISE = 1e-11;
const NOISE_FLOOR = 1e-13;
const MOST_DEPTH = 46;
const ROUNDING = 1e-15;

const ANGLES = Array.from({ length: NODES }, (_, j) => (Math.PI * (j + 0.5)) / NODES);
const POINTS = ANGLES.map((angle) => cos(angle));
const COSINES = Array.from({ length: NODES }, (_, k) => ANGLES.map((angle) => cos(k * angle)));

export interface TailTable {
  readonly low: number;
  readonly high: number;
  readonly centre: number;
  /** P(X <= x) for x up to the centre, P(X > x) beyond; x within low and high. */
  tail(x: number): number;
  /** Density. */
  density(x: number): number;
}

interface Piece {
  readonly from: number;
  readonly to: number;
  readonly coefficients: Float64Array;
}

/**
 * Tabulates a tail function.
 *
 * @param tail P(X <= x) left of the centre, P(X > x) right of it
 * @param splits rising, from the low to the high end, the centre among them
 * @param floor error allowed beside, absolute
 */
export function tabulateTails(
  tail: (x: number) => number,
  splits: readonly number[],
  centre: number,
  floor = 0,
): TailTable {
  const low = splits[0];
  const high = splits[splits.length - 1];
  const least = (high - low) * 1e-14;
  const pieces: Piece[] = [];
  const cover = (from: number, to: number, depth: number, lastBefore: number) => {
    const values = POINTS.map((s) => tail(from + 0.5 * (s + 1) * (to - from)));
    const coefficients = interpolate(values);
    const largest = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    const last =
      Math.abs(coefficients[NODES - 1]) + Math.abs(coefficients[NODES - 2]) + Math.abs(coefficients[NODES - 3]);
    // What the rounding of x itself does to the values, at their mean slope.
    const noise = (Math.abs(values[0] - values[NODES - 1]) / (to - from)) * Math.max(-from, to) * ROUNDING;
    // Halves that are hardly better than the whole show the noise of the values themselves, not their shape.
    const isNoise = last > 0.25 * lastBefore && last <= Math.max(NOISE * largest, NOISE_FLOOR);
    if (isNoise || last <= Math.max(RELATIVE * largest, FLOOR, noise, floor) || depth === 0 || to - from <= least) {
      pieces.push({ from, to, coefficients });
      return;
    }
    const middle = 0.5 * (from + to);
    cover(from, middle, depth - 1, last);
    cover(middle, to, depth - 1, last);
  };
  for (let k = 1; k < splits.length; k += 1) cover(splits[k - 1], splits[k], MOST_DEPTH, Number.POSITIVE_INFINITY);
  return evaluator(pieces, low, high, centre);
}

function interpolate(values: readonly number[]): Float64Array {
  return Float64Array.from({ length: NODES }, (_, k) => {
    let sum = 0;
    for (let j = 0; j < NODES; j += 1) sum += values[j] * COSINES[k][j];
    return ((k === 0 ? 1 : 2) * sum) / NODES;
  });
}

/** Chebyshev coefficients of the derivative: d_(k-1) = d_(k+1) + 2k·c_k. */
function derivative(coefficients: Float64Array): Float64Array {
  const result = new Float64Array(NODES);
  for (let k = NODES - 1; k >= 1; k -= 1) {
    result[k - 1] = (k + 1 < NODES ? result[k + 1] : 0) + 2 * k * coefficients[k];
  }
  result[0] *= 0.5;
  return result;
}

function evaluator(pieces: readonly Piece[], low: number, high: number, centre: number): TailTable {
  const bounds = Float64Array.from([...pieces.map((piece) => piece.from), high]);
  const middles = Float64Array.from(pieces, (piece) => 0.5 * (piece.from + piece.to));
  const scales = Float64Array.from(pieces, (piece) => 2 / (piece.to - piece.from));
  const values = new Float64Array(pieces.length * NODES);
  const slopes = new Float64Array(pieces.length * NODES);
  pieces.forEach((piece, p) => {
    values.set(piece.coefficients, p * NODES);
    slopes.set(derivative(piece.coefficients), p * NODES);
  });
  const cells = Math.max(LEAST_CELLS, 4 * pieces.length);
  const perCell = cells / (high - low);
  const first = new Int32Array(cells + 1);
  for (let cell = 0, p = 0; cell <= cells; cell += 1) {
    while (p + 1 < pieces.length && bounds[p + 1] <= low + cell / perCell) p += 1;
    first[cell] = p;
  }
  const pieceAt = (x: number) => {
    let p = first[Math.floor((x - low) * perCell)];
    while (p > 0 && x < bounds[p]) p -= 1;
    while (p + 1 < pieces.length && x >= bounds[p + 1]) p += 1;
    return p;
  };
  const sum = (table: Float64Array, p: number, x: number) => {
    const s = (x - middles[p]) * scales[p];
    const twice = 2 * s;
    const start = p * NODES;
    let b1 = 0;
    let b2 = 0;
    for (let k = start + NODES - 1; k > start; k -= 1) {
      const b0 = table[k] + twice * b1 - b2;
      b2 = b1;
      b1 = b0;
    }
    return table[start] + s * b1 - b2;
  };
  return {
    low,
    high,
    centre,
    tail: (x) => sum(values, pieceAt(x), x),
    density: (x) => {
      const p = pieceAt(x);
      return (x < centre ? 1 : -1) * scales[p] * sum(slopes, p, x);
    },
  };
}
