/**
 * Random numbers with an address: (stream version, seed, domain, variable, block) leads to the same numbers whoever asks, in whatever
 * order. A new variable, a higher count or another number of workers changes nothing that was already drawn.
 */
import { InternalError } from "../errors.ts";
import { philox4x32 } from "./philox.ts";
import type { SeedKey } from "./seed.ts";
import { fillOpenUniforms, nextUint32 } from "./xoshiro128.ts";

export { type SeedKey, seedKey } from "./seed.ts";
export { variableId } from "./variable-id.ts";

/** Raised when the same seed leads to other numbers than before. */
export const STREAM_VERSION = 2;

/** Samples per block. Part of the address: changing it changes the numbers. */
export const BLOCK_SIZE = 4096;

/** What a draw is for; each has its own streams. The numbers are part of the address. */
export const DRAW_DOMAIN = {
  unit: 0,
  batch: 1,
  replicate: 2,
  pilot: 3,
  bootstrap: 4,
  batchUnit: 5,
  importance: 6,
  subset: 7,
} as const;

const MAX_DOMAIN = 0xffff;
const MAX_BLOCK = 2 ** 48 - 1;

const shared = new Uint32Array(4);

/**
 * Sets four words, the shared ones unless others are given, to the start of a stream: the hash of its address.
 *
 * @throws InternalError for a block or domain outside its range
 */
export function openStream(
  key: SeedKey,
  variable: readonly [number, number],
  block: number,
  domain: number,
  state = shared,
): void {
  if (!(Number.isInteger(block) && block >= 0 && block <= MAX_BLOCK)) {
    throw new InternalError(`no random block ${block}`);
  }
  if (!(Number.isInteger(domain) && domain >= 0 && domain <= MAX_DOMAIN)) {
    throw new InternalError(`no random domain ${domain}`);
  }
  const blockLow = block | 0;
  const blockHigh = Math.floor(block / 4294967296);
  const versionMark = Math.imul(STREAM_VERSION, 0x9e3779b9);
  philox4x32(variable[0], variable[1], blockLow, (domain << 16) | blockHigh, key[0] ^ versionMark, key[1], state);
  // The one state from which xoshiro cannot move; Philox, a bijection, reaches it at one counter in 2^128.
  if ((state[0] | state[1] | state[2] | state[3]) === 0) state[0] = 1;
}

/**
 * Fills `out[0..count)` with the first uniforms, open (0, 1) and of 52 bits, of one variable in one block.
 *
 * Element i stems from draws 2i and 2i + 1 of the stream, so a shorter count gives the same beginning.
 *
 * @param key of the seed, from `seedKey`
 * @param variable from `variableId`
 * @param block 0 or more; sample index = block·BLOCK_SIZE + i
 * @param out at least `count` long
 * @param count 0 to BLOCK_SIZE; default all of `out`
 * @param domain 0 to 65535, what the draw is for (`DRAW_DOMAIN`)
 * @throws InternalError for a count, block or domain outside its range
 */
export function fillUniform(
  key: SeedKey,
  variable: readonly [number, number],
  block: number,
  out: Float64Array,
  count = out.length,
  domain = 0,
): void {
  if (!(count >= 0 && count <= BLOCK_SIZE && count <= out.length)) {
    throw new InternalError(`a block holds up to ${BLOCK_SIZE} samples, not ${count}`);
  }
  openStream(key, variable, block, domain);
  fillOpenUniforms(shared, out, count);
}

const single = new Float64Array(1);

/** The uniform that `fillUniform` gives one sample, found again from its index alone. */
export function uniformAt(key: SeedKey, variable: readonly [number, number], sampleIndex: number, domain = 0): number {
  const block = Math.floor(sampleIndex / BLOCK_SIZE);
  openStream(key, variable, block, domain);
  for (let left = sampleIndex - block * BLOCK_SIZE; left > 0; left -= 1) {
    nextUint32(shared);
    nextUint32(shared);
  }
  fillOpenUniforms(shared, single, 1);
  return single[0];
}
