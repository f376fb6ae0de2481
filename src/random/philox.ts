/** The counter-based generator Philox4x32-10: a keyed hash of a 128-bit counter. */

const MULTIPLIER_0 = 0xd2511f53;
const MULTIPLIER_1 = 0xcd9e8d57;
const KEY_STEP_0 = 0x9e3779b9;
const KEY_STEP_1 = 0xbb67ae85;
const ROUNDS = 10;

/** The high 32 bits of the product of two unsigned 32-bit numbers, as a signed integer. */
function highProduct(a: number, b: number): number {
  const aLow = a & 0xffff;
  const aHigh = a >>> 16;
  const bLow = b & 0xffff;
  const bHigh = b >>> 16;
  const middle = aHigh * bLow + ((aLow * bLow) >>> 16);
  const carry = aLow * bHigh + (middle & 0xffff);
  return (aHigh * bHigh + Math.floor(middle / 65536) + Math.floor(carry / 65536)) | 0;
}

/**
 * Ten rounds over the counter (four 32-bit words) under the key (two words); writes four words to `out`.
 *
 * Source: J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11, 2011.
 */
export function philox4x32(
  counter0: number,
  counter1: number,
  counter2: number,
  counter3: number,
  key0: number,
  key1: number,
  out: Uint32Array,
): void {
  let c0 = counter0;
  let c1 = counter1;
  let c2 = counter2;
  let c3 = counter3;
  let k0 = key0;
  let k1 = key1;
  for (let round = 0; round < ROUNDS; round += 1) {
    const high0 = highProduct(MULTIPLIER_0, c0);
    const low0 = Math.imul(MULTIPLIER_0, c0);
    const high1 = highProduct(MULTIPLIER_1, c2);
    const low1 = Math.imul(MULTIPLIER_1, c2);
    c0 = high1 ^ c1 ^ k0;
    c1 = low1;
    c2 = high0 ^ c3 ^ k1;
    c3 = low0;
    k0 = (k0 + KEY_STEP_0) | 0;
    k1 = (k1 + KEY_STEP_1) | 0;
  }
  out[0] = c0;
  out[1] = c1;
  out[2] = c2;
  out[3] = c3;
}
