/**
 * Randomised Sobol' points: nested uniform (Owen) scrambling, and the faster hash of Laine and Karras.
 *
 * Nested scrambling flips each binary digit of a coordinate by a coin that hangs on all digits above it. Every scrambled point is uniform on (0, 1) by
 * itself, and together they keep the net property. Point 0 is kept, and counts are powers of two: anything else spoils the net.
 */
import { InternalError } from "../errors.ts";
import { philox4x32 } from "./philox.ts";
import { fillSobolWords } from "./sobol.ts";
import { DRAW_DOMAIN, type SeedKey, STREAM_VERSION } from "./streams.ts";

export type ScrambleMethod = "owen" | "hash";

/** The words that one (seed, replicate, variable) scrambles by. */
export interface ScrambleKey {
  readonly words: Int32Array;
  /** The scrambled upper ten digits by the unscrambled ones. */
  readonly top: Uint16Array;
}

/** Points that a scramble can tell apart: the digits past the thirtieth come from one hash of all above. */
export const MOST_POINTS = 1073741824;

const GROUP = 5;
const TOP_BITS = 2 * GROUP;
const GROUPS = 6;
const STEP_52 = 2.220446049250313e-16;

const words4 = new Uint32Array(4);

/**
 * The scramble of one variable in one replicate. Scrambles of different variables, replicates and seeds are independent.
 *
 * @param key of the seed, from `seedKey`
 * @param replicate 0 to 2^32 - 1
 * @param variable from `variableId`
 * @throws InternalError for a replicate outside its range
 */
export function scrambleKey(key: SeedKey, replicate: number, variable: readonly [number, number]): ScrambleKey {
  if (!(Number.isInteger(replicate) && replicate >= 0 && replicate <= 0xffffffff)) {
    throw new InternalError(`no replicate ${replicate}`);
  }
  const words = new Int32Array(4 * 4);
  const versionMark = Math.imul(STREAM_VERSION, 0x9e3779b9);
  for (let part = 0; part < 4; part += 1) {
    const place = (DRAW_DOMAIN.replicate << 16) | part;
    philox4x32(variable[0], variable[1], replicate | 0, place, key[0] ^ versionMark, key[1], words4);
    words.set(words4, 4 * part);
  }
  const top = new Uint16Array(1 << TOP_BITS);
  const coins = prefixHash(0, words[0], words[1]);
  for (let upper = 0; upper < 1 << GROUP; upper += 1) {
    const flipped = flipGroup(upper, coins) << GROUP;
    const below = prefixHash(upper, words[2], words[3]);
    for (let lower = 0; lower < 1 << GROUP; lower += 1) {
      top[(upper << GROUP) | lower] = flipped | flipGroup(lower, below);
    }
  }
  return { words, top };
}

/** 32 random bits for a prefix: two rounds of a full-avalanche integer hash, a key word before each. */
function prefixHash(prefix: number, key0: number, key1: number): number {
  let x = prefix ^ key0;
  x = Math.imul(x ^ (x >>> 16), 0x21f0aaad);
  x = Math.imul(x ^ (x >>> 15), 0x735a2d97);
  x = (x ^ (x >>> 15)) + key1;
  x = Math.imul(x ^ (x >>> 16), 0x7feb352d);
  x = Math.imul(x ^ (x >>> 15), 0x846ca68b);
  return x ^ (x >>> 16);
}

/** Flips five digits: the coin of each is the bit of `coins` at its node of the binary tree below the prefix (root 1, children 2n and 2n + 1). */
function flipGroup(digits: number, coins: number): number {
  const n2 = 2 | (digits >>> 4);
  const n3 = 4 | (digits >>> 3);
  const n4 = 8 | (digits >>> 2);
  const n5 = 16 | (digits >>> 1);
  const flips =
    (((coins >>> 1) & 1) << 4) |
    (((coins >>> n2) & 1) << 3) |
    (((coins >>> n3) & 1) << 2) |
    (((coins >>> n4) & 1) << 1) |
    ((coins >>> n5) & 1);
  return digits ^ flips;
}

/**
 * Fills `out[0..count)` with scrambled coordinates of points `first`, `first + 1`, …: uniforms of 52 bits, (k + 1/2)/2^52, never 0 or 1.
 *
 * - "owen": true nested uniform scrambling. One 32-bit hash of the digits above serves the 31 coins of the five digits below; the first ten digits stand
 *   in a table; the 22 digits after the thirtieth are random for each 30-digit prefix, which up to 2^30 points belongs to one point alone, so that the
 *   digits of the unscrambled point there do not matter.
 * - "hash": Laine and Karras's permutation on reversed digits, 32 digits deep, with 20 more from a hash. It keeps the net property, its coins
 *   are not independent.
 *
 * @param dimension 1 to 128
 * @throws InternalError for points past 2^30
 *
 * Source: A. B. Owen, "Randomly permuted (t,m,s)-nets and (t,s)-sequences", 1995; B. Burley, "Practical hash-based Owen scrambling", JCGT 9 (2020)
 * 1-20 (the hash). Integer hashes: constants found by C. Wellons, public domain (from memory).
 */
export function fillScrambledSobol(
  scramble: ScrambleKey,
  dimension: number,
  first: number,
  count: number,
  out: Float64Array,
  method: ScrambleMethod = "owen",
): void {
  if (!(first + count <= MOST_POINTS)) throw new InternalError(`no more than ${MOST_POINTS} scrambled points`);
  if (count > out.length) throw new InternalError(`a column of ${out.length} does not hold ${count} points`);
  const digits = new Int32Array(Math.min(count, 4096));
  for (let start = 0; start < count; start += 4096) {
    const size = Math.min(4096, count - start);
    fillSobolWords(dimension, first + start, size, digits);
    const part = out.subarray(start, start + size);
    if (method === "owen") scrambleNested(scramble, digits, part);
    else scrambleHashed(scramble, digits, part);
  }
}

function scrambleNested(scramble: ScrambleKey, digits: Int32Array, out: Float64Array): void {
  const { words, top } = scramble;
  const keys = words.subarray(4);
  const [a0, a1, b0, b1, c0, c1, d0, d1, e0, e1] = keys;
  for (let i = 0; i < out.length; i += 1) {
    const x = digits[i];
    const g0 = top[x >>> 22];
    const g2 = flipGroup((x >>> 17) & 31, prefixHash(x >>> 22, a0, a1));
    const g3 = flipGroup((x >>> 12) & 31, prefixHash(x >>> 17, b0, b1));
    const g4 = flipGroup((x >>> 7) & 31, prefixHash(x >>> 12, c0, c1));
    const g5 = flipGroup((x >>> 2) & 31, prefixHash(x >>> 7, d0, d1));
    const rest = prefixHash(x >>> 2, e0, e1) >>> (32 - 52 + GROUP * GROUPS);
    const upper = (g0 << 20) | (g2 << 15) | (g3 << 10) | (g4 << 5) | g5;
    out[i] = (upper * 4194304 + rest + 0.5) * STEP_52;
  }
}

/** The order of the 32 bits turned round. */
export function reverseBits(word: number): number {
  let x = word;
  x = ((x >>> 1) & 0x55555555) | ((x & 0x55555555) << 1);
  x = ((x >>> 2) & 0x33333333) | ((x & 0x33333333) << 2);
  x = ((x >>> 4) & 0x0f0f0f0f) | ((x & 0x0f0f0f0f) << 4);
  x = ((x >>> 8) & 0x00ff00ff) | ((x & 0x00ff00ff) << 8);
  return (x >>> 16) | (x << 16);
}

/** Laine and Karras's permutation: each bit is changed by those below it alone. Constants as printed by Burley (2020). */
export function laineKarras(word: number, seed: number): number {
  let x = (word + seed) | 0;
  x ^= Math.imul(x, 0x6c50b47c);
  x ^= Math.imul(x, 0xb82f1e52);
  x ^= Math.imul(x, 0xc7afe638);
  x ^= Math.imul(x, 0x8d22f6e6);
  return x;
}

function scrambleHashed(scramble: ScrambleKey, digits: Int32Array, out: Float64Array): void {
  const [seed, , , , e0, e1] = scramble.words;
  for (let i = 0; i < out.length; i += 1) {
    const x = digits[i];
    const upper = reverseBits(laineKarras(reverseBits(x), seed)) >>> 0;
    const rest = prefixHash(x, e0, e1) >>> 12;
    out[i] = (upper * 1048576 + rest + 0.5) * STEP_52;
  }
}
