/**
 * Parts of a double, through one shared view, so that reading an exponent allocates nothing.
 *
 * The low word stands first: every platform that Node and the browsers run on stores doubles that way, and the load of
 * this module refuses another.
 */
import { InternalError } from "../errors.ts";

export const doubleView = new Float64Array(1);
export const wordView = new Int32Array(doubleView.buffer);
const LOW_WORD = 0;
export const HIGH_WORD = 1;

doubleView[0] = 1;
if (wordView[HIGH_WORD] !== 0x3ff00000) {
  throw new InternalError("this machine stores the words of a double in an order that the program does not know");
}

/** The sign, exponent and top 20 mantissa bits of a double. */
export function highWord(value: number): number {
  doubleView[0] = value;
  return wordView[HIGH_WORD];
}

/** The double that these two words spell. */
export function fromWords(high: number, low: number): number {
  wordView[HIGH_WORD] = high;
  wordView[LOW_WORD] = low;
  return doubleView[0];
}

const SMALLEST_EXPONENT = -1074;
const LARGEST_EXPONENT = 1023;

/**
 * 2^exponent at index exponent + 1074. A look-up, because a double put together from two words stalls the processor: a
 * 64-bit load cannot be served from two 32-bit stores in flight.
 */
const POWERS_OF_TWO = new Float64Array(LARGEST_EXPONENT - SMALLEST_EXPONENT + 1);
for (let index = 0, power = Number.MIN_VALUE; index < POWERS_OF_TWO.length; index += 1, power *= 2) {
  POWERS_OF_TWO[index] = power;
}

/** 2^exponent, exactly, for -1074 to 1023. */
export function powerOfTwo(exponent: number): number {
  return POWERS_OF_TWO[exponent - SMALLEST_EXPONENT];
}

/** The value rounded to its top 26 bits (Veltkamp), so that the product of two such is exact. |value| below 2^996. */
export function topHalf(value: number): number {
  const c = 134217729 * value;
  return c - (c - value);
}
