import { doubleView, HIGH_WORD, wordView } from "../../numeric/bits.ts";

/** Counts over columns. Meaning of each: see `Kernel`. */

export function countEqualBins(
  values: Float64Array,
  count: number,
  low: number,
  perUnit: number,
  counts: Float64Array,
): void {
  const last = counts.length - 1;
  for (let i = 0; i < count; i += 1) counts[Math.min(last, Math.floor((values[i] - low) * perUnit))] += 1;
}

export function countLogBins(
  values: Float64Array,
  count: number,
  lowKey: number,
  counts: Float64Array,
  strays: Float64Array,
): number {
  let stray = 0;
  for (let i = 0; i < count; i += 1) {
    doubleView[0] = values[i];
    // Unsigned, so that a negative value lies far beyond the last bin.
    const place = (wordView[HIGH_WORD] >>> 10) - lowKey;
    if (place >= 0 && place < counts.length) counts[place] += 1;
    else {
      strays[stray] = values[i];
      stray += 1;
    }
  }
  return stray;
}

export function pick(values: Float64Array, bytes: Uint8Array, code: number, out: Float64Array, count: number): number {
  let found = 0;
  for (let i = 0; i < count; i += 1) {
    if (bytes[i] !== code) continue;
    out[found] = values[i];
    found += 1;
  }
  return found;
}

export function countBytes(bytes: Uint8Array, code: number, count: number): number {
  let found = 0;
  for (let i = 0; i < count; i += 1) if (bytes[i] === code) found += 1;
  return found;
}

export function orWords(words: Uint16Array, count: number): number {
  let all = 0;
  for (let i = 0; i < count; i += 1) all |= words[i];
  return all;
}

export function countBit(words: Uint16Array, bit: number, count: number): number {
  let found = 0;
  for (let i = 0; i < count; i += 1) if ((words[i] & bit) !== 0) found += 1;
  return found;
}

export function equalBytes(out: Uint8Array, bytes: Uint8Array, code: number, count: number): void {
  for (let i = 0; i < count; i += 1) out[i] = bytes[i] === code ? 1 : 0;
}

export function raiseWhere(pattern: Uint8Array, bytes: Uint8Array, flag: number, count: number): void {
  for (let i = 0; i < count; i += 1) if (bytes[i] === 1) pattern[i] |= flag;
}
