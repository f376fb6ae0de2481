/** A number for a variable's name that never changes, whatever other variables there are. */

/**
 * The 64-bit FNV-1a hash of the name's UTF-8 bytes, as [high, low] unsigned 32-bit words.
 *
 * Source: G. Fowler, L. C. Noll, K.-P. Vo, D. Eastlake, "The FNV Non-Cryptographic Hash Algorithm", IETF draft.
 */
export function variableId(name: string): readonly [number, number] {
  let high = 0xcbf29ce4;
  let low = 0x84222325;
  for (const byte of new TextEncoder().encode(name)) {
    low = (low ^ byte) >>> 0;
    // Times 2^40 + 0x1b3: every product below stays under 2^53.
    const product = low * 0x1b3;
    high = (high * 0x1b3 + ((low << 8) >>> 0) + Math.floor(product / 4294967296)) % 4294967296;
    low = product % 4294967296;
  }
  return [high, low];
}
