import { doubleView, HIGH_WORD, wordView } from "../../numeric/bits.ts";
import type { Kernel } from "../kernel.ts";

/** Counts over columns. Meaning of each: see `Kernel`. */

export const countEqualBins: Kernel["countEqualBins"] = (values, count, low, perUnit, counts) => {
  const last = counts.length - 1;
  for (let i = 0; i < count; i += 1) counts[Math.min(last, Math.floor((values[i] - low) * perUnit))] += 1;
};

export const countLogBins: Kernel["countLogBins"] = (values, count, lowKey, counts, strays) => {
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
};

export const pick: Kernel["pick"] = (values, bytes, code, out, count) => {
  let found = 0;
  for (let i = 0; i < count; i += 1) {
    if (bytes[i] !== code) continue;
    out[found] = values[i];
    found += 1;
  }
  return found;
};

export const countBytes: Kernel["countBytes"] = (bytes, code, count) => {
  let found = 0;
  for (let i = 0; i < count; i += 1) if (bytes[i] === code) found += 1;
  return found;
};

export const orWords: Kernel["orWords"] = (words, count) => {
  let all = 0;
  for (let i = 0; i < count; i += 1) all |= words[i];
  return all;
};

export const countBit: Kernel["countBit"] = (words, bit, count) => {
  let found = 0;
  for (let i = 0; i < count; i += 1) if ((words[i] & bit) !== 0) found += 1;
  return found;
};

export const equalBytes: Kernel["equalBytes"] = (out, bytes, code, count) => {
  for (let i = 0; i < count; i += 1) out[i] = bytes[i] === code ? 1 : 0;
};

export const raiseWhere: Kernel["raiseWhere"] = (pattern, bytes, flag, count) => {
  for (let i = 0; i < count; i += 1) if (bytes[i] === 1) pattern[i] |= flag;
};
