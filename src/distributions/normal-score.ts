/**
 * The normal score of a uniform from one table: no logarithm, no division, no branch. It follows `normalQuantile` to
 * 2·10⁻¹⁵, absolute or relative, whichever is the wider.
 *
 * A row of the table is a polynomial of degree 5 over one cell of the tail probability v: every octave of v is cut into 64
 * cells, so that the exponent and the top six bits of the fraction of v are the number of its row. In such a cell the
 * singular point v = 0 is 129 or more half widths away, and the interpolant at Chebyshev nodes misses by about 258⁻⁶/6.
 */
import { doubleView, HIGH_WORD, powerOfTwo, wordView } from "../numeric/bits.ts";
import { chebyshevToMonomial } from "../numeric/chebyshev.ts";
import { cos } from "../numeric/elementary.ts";
import { normalQuantile } from "../numeric/special.ts";

const CELL_BITS = 6;
const CELLS = 1 << CELL_BITS;
const DEGREE = 5;
/** A row is padded to the 64 bytes of a cache line. */
const ROW_LENGTH = 8;
/** The table begins at v = 2⁻⁶⁴, far below the least uniform, and ends with the cell that begins at ½. */
const LEAST_EXPONENT = -64;
const FIRST_ROW = (1023 + LEAST_EXPONENT) << CELL_BITS;

/** Least tail probability in the table. */
export const LEAST_SCORED = powerOfTwo(LEAST_EXPONENT);

let table: Float64Array | null = null;

/** The rows, from v = 2⁻⁶⁴ on, each: coefficients of t⁰ … t⁵ and two zeros, t = v·2^(−exponent) − middle of the cell. */
export function normalScoreTable(): Float64Array {
  table ??= tabulate();
  return table;
}

function tabulate(): Float64Array {
  const rows = CELLS * (-1 - LEAST_EXPONENT) + 1;
  const out = new Float64Array(rows * ROW_LENGTH);
  const count = DEGREE + 1;
  const nodes = Float64Array.from({ length: count }, (_, k) => cos((Math.PI * (k + 0.5)) / count));
  const basis = Array.from(nodes, (_, k) => nodePolynomial(k));
  for (let row = 0; row < rows - 1; row += 1) {
    const halfWidth = powerOfTwo(LEAST_EXPONENT + (row >> CELL_BITS)) / (2 * CELLS);
    const middle = halfWidth * (2 * (CELLS + (row & (CELLS - 1))) + 1);
    for (let k = 0; k < count; k += 1) {
      const value = normalQuantile(middle + halfWidth * nodes[k]);
      for (let power = 0; power < count; power += 1) out[row * ROW_LENGTH + power] += value * basis[k][power];
    }
  }
  // v = ½ itself, and what rounding leaves just above it: a straight line that is exactly 0 at ½.
  const slope = 1.2533141373155003;
  out[(rows - 1) * ROW_LENGTH] = slope / (2 * CELLS);
  out[(rows - 1) * ROW_LENGTH + 1] = slope;
  return out;
}

/**
 * What a value at Chebyshev node k adds to the coefficients of t: those of the polynomial that is 1 there and 0 at the
 * other nodes, with −1 … 1 brought to the width of a cell, which is exact since that is a power of two.
 */
function nodePolynomial(k: number): Float64Array {
  const count = DEGREE + 1;
  const inChebyshev = Float64Array.from(
    { length: count },
    (_, j) => ((j === 0 ? 1 : 2) * cos((Math.PI * j * (k + 0.5)) / count)) / count,
  );
  return chebyshevToMonomial(inChebyshev).map(
    (coefficient, power) => coefficient * powerOfTwo(power * (CELL_BITS + 1)),
  );
}

/** z at a tail probability v, 2⁻⁶⁴ ≤ v ≤ ½: negative. For the upper tail take the other sign. */
export function scoreOfTail(rows: Float64Array, v: number): number {
  doubleView[0] = v;
  const row = (wordView[HIGH_WORD] >> (20 - CELL_BITS)) - FIRST_ROW;
  const k = row * ROW_LENGTH;
  const fraction = v * powerOfTwo(-LEAST_EXPONENT - (row >> CELL_BITS));
  const t = fraction - (1 + 0.5 / CELLS + (row & (CELLS - 1)) / CELLS);
  const t2 = t * t;
  return rows[k] + t2 * (rows[k + 2] + t2 * rows[k + 4]) + t * (rows[k + 1] + t2 * (rows[k + 3] + t2 * rows[k + 5]));
}

/** z of a uniform, 0 < u < 1, from 2⁻⁶⁴ to 1 − 2⁻⁶⁴. */
export function scoreOfUniform(u: number): number {
  const rows = normalScoreTable();
  return u <= 0.5 ? scoreOfTail(rows, u) : -scoreOfTail(rows, 1 - u);
}
