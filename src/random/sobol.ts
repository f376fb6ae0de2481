/** Sobol' points in natural order, found from their index, so that a block of them needs nothing drawn before. */
import { InternalError } from "../errors.ts";
import { JOE_KUO_ROWS } from "./joe-kuo-data.ts";

/** Dimensions that direction numbers are held for. */
export const SOBOL_DIMENSIONS = JOE_KUO_ROWS.length + 1;

const BITS = 32;
const STEP = 2.3283064365386963e-10;
const tables = new Map<number, Int32Array>();

/**
 * The 32 columns of the generator matrix of one dimension, as signed words, top bit first.
 *
 * Equation: v_i = m_i·2^(32-i) for i <= s, else v_i = v_(i-s) ^ (v_(i-s) >> s) ^ XOR over k = 1..s-1 of a_k·v_(i-k), a_k the bits of `a` from the top.
 *
 * @param dimension 1 to SOBOL_DIMENSIONS
 * @throws InternalError for a dimension without direction numbers
 *
 * Source: I. M. Sobol', USSR Comp. Math. Math. Phys. 7 (1967) 86-112; P. Bratley, B. L. Fox, Algorithm 659, ACM TOMS 14 (1988) 88-100; direction
 * numbers of Joe and Kuo (joe-kuo-data.ts). Exact.
 */
export function directionNumbers(dimension: number): Int32Array {
  const known = tables.get(dimension);
  if (known !== undefined) return known;
  if (!(Number.isInteger(dimension) && dimension >= 1 && dimension <= SOBOL_DIMENSIONS)) {
    throw new InternalError(`no Sobol' dimension ${dimension} of ${SOBOL_DIMENSIONS}`);
  }
  const columns = new Int32Array(BITS);
  if (dimension === 1) {
    for (let i = 0; i < BITS; i += 1) columns[i] = 1 << (BITS - 1 - i);
  } else {
    const [, degree, coefficients, ...initial] = JOE_KUO_ROWS[dimension - 2].split(" ").map(Number);
    for (let i = 0; i < BITS; i += 1) {
      if (i < degree) {
        columns[i] = initial[i] << (BITS - 1 - i);
        continue;
      }
      let column = columns[i - degree] ^ (columns[i - degree] >>> degree);
      for (let k = 1; k < degree; k += 1) {
        if ((coefficients >>> (degree - 1 - k)) & 1) column ^= columns[i - k];
      }
      columns[i] = column;
    }
  }
  tables.set(dimension, columns);
  return columns;
}

/** The 32 binary digits of point `index` in one dimension, as a signed word: XOR of the columns that the bits of the index name. */
export function sobolWord(dimension: number, index: number): number {
  const columns = directionNumbers(dimension);
  let word = 0;
  for (let bit = 0, rest = index >>> 0; rest !== 0; bit += 1, rest >>>= 1) {
    if (rest & 1) word ^= columns[bit];
  }
  return word;
}

function checkRange(first: number, count: number, length: number): void {
  if (!(Number.isInteger(first) && first >= 0 && count >= 0 && first + count <= 4294967296)) {
    throw new InternalError(`no Sobol' points ${first} to ${first + count}`);
  }
  if (count > length) throw new InternalError(`a column of ${length} does not hold ${count} points`);
}

/**
 * Fills `out[0..count)` with the digits of points `first`, `first + 1`, … of one dimension.
 *
 * The next point in natural order changes by v_0 ^ … ^ v_k, k the number of trailing ones of its index.
 *
 * @throws InternalError for a range past 2^32 points or past `out`
 */
export function fillSobolWords(dimension: number, first: number, count: number, out: Int32Array): void {
  checkRange(first, count, out.length);
  const columns = directionNumbers(dimension);
  const changes = new Int32Array(BITS);
  for (let k = 0, sum = 0; k < BITS; k += 1) {
    sum ^= columns[k];
    changes[k] = sum;
  }
  let word = count > 0 ? sobolWord(dimension, first) : 0;
  for (let i = 0; i < count; i += 1) {
    out[i] = word;
    const next = (first + i + 1) | 0;
    word ^= changes[31 - Math.clz32(next & -next)];
  }
}

/**
 * Fills `out[0..count)` with unscrambled coordinates u = (word + 1/2)/2^32, the centre of each cell: never 0 or 1. Point 0 is kept.
 *
 * For estimates use the scrambled points: these have no error that can be told from themselves.
 */
export function fillSobol(dimension: number, first: number, count: number, out: Float64Array): void {
  checkRange(first, count, out.length);
  const words = new Int32Array(count);
  fillSobolWords(dimension, first, count, words);
  for (let i = 0; i < count; i += 1) out[i] = ((words[i] >>> 0) + 0.5) * STEP;
}
