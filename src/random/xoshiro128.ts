/**
 * The generator xoshiro128++, in bulk: uniforms of 52 bits from a state of four 32-bit words.
 *
 * Source: D. Blackman, S. Vigna, "Scrambled linear pseudorandom number generators", ACM TOMS 47 (2021) 36; the authors' C code is in the public domain.
 */

/** The next 32-bit number; steps the state. */
export function nextUint32(state: Uint32Array): number {
  const s0 = state[0];
  const s1 = state[1];
  const s3 = state[3];
  const sum = (s0 + s3) | 0;
  const result = (((sum << 7) | (sum >>> 25)) + s0) >>> 0;
  const t2 = state[2] ^ s0;
  const t3 = s3 ^ s1;
  state[1] = s1 ^ t2;
  state[0] = s0 ^ t3;
  state[2] = t2 ^ (s1 << 9);
  state[3] = (t3 << 11) | (t3 >>> 21);
  return result;
}

/**
 * Fills `out[0..count)` with uniforms in the open interval (0, 1): u = (k + 1/2)/2^52, k the top 26 bits of one draw over those of the next.
 *
 * 52 bits and not 53: (k + 1/2)/2^53 rounds to exactly 1 at the top, where an inverse CDF is infinite. Leaves the state where the draws ended.
 */
export function fillOpenUniforms(state: Uint32Array, out: Float64Array, count: number): void {
  let s0 = state[0] | 0;
  let s1 = state[1] | 0;
  let s2 = state[2] | 0;
  let s3 = state[3] | 0;
  for (let index = 0; index < count; index += 1) {
    let sum = (s0 + s3) | 0;
    const top = (((sum << 7) | (sum >>> 25)) + s0) | 0;
    let shifted = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= shifted;
    s3 = (s3 << 11) | (s3 >>> 21);
    sum = (s0 + s3) | 0;
    const bottom = (((sum << 7) | (sum >>> 25)) + s0) | 0;
    shifted = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= shifted;
    s3 = (s3 << 11) | (s3 >>> 21);
    out[index] = ((top >>> 6) * 67108864 + (bottom >>> 6) + 0.5) * 2.220446049250313e-16;
  }
  state[0] = s0;
  state[1] = s1;
  state[2] = s2;
  state[3] = s3;
}
