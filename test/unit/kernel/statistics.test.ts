import { expect, test } from "vitest";
import { createFastKernel } from "../../../src/kernel/fast.ts";
import { PLAIN_KERNEL } from "../../../src/kernel/plain.ts";
import { fillUniform } from "../../../src/random/streams.ts";
import { logBinKey } from "../../../src/stats/histogram.ts";
import { compiledKernel } from "../../support/kernel.ts";

/** Sums and counts of the fast kernel against the plain one, to the bit, for lengths that do and do not fill the lanes. */
const FAST = createFastKernel(compiledKernel());
const LENGTHS = [0, 1, 2, 3, 4, 5, 7, 8, 15, 16, 17, 31, 33, 1000, 1001, 4095, 4096];
const LOW_KEY = logBinKey(-3);
const LOG_BINS = logBinKey(3) - LOW_KEY;

/** Uniforms of one block, the same column for both kernels. */
function uniforms(variable: number): Float64Array {
  const column = new Float64Array(4096);
  fillUniform([1, 2], [variable, 0], 0, column);
  return column;
}

/** Spread over 16 octaves of both signs, with zeros among them. */
const VALUES = uniforms(1).map((u, i) => (i % 7 === 3 ? 0 : (i % 5 === 0 ? -1 : 1) * 2 ** (16 * u - 8)));
const BYTES = Uint8Array.from(uniforms(2), (u) => Math.floor(6 * u));
const WORDS = Uint16Array.from(uniforms(3), (u) => (u < 0.5 ? 0 : 1 << Math.floor(20 * (u - 0.5))));

function both<T>(run: (kernel: typeof FAST) => T): [T, T] {
  return [FAST.scoped(() => run(FAST)), PLAIN_KERNEL.scoped(() => run(PLAIN_KERNEL))];
}

function columnOf(kernel: typeof FAST, values: Float64Array): Float64Array {
  const column = kernel.column(values.length);
  column.set(values);
  return column;
}

function bytesOf(kernel: typeof FAST, values: Uint8Array): Uint8Array {
  const column = kernel.bytes(values.length);
  column.set(values);
  return column;
}

test.each(LENGTHS)("moments of %i values", (count) => {
  const [fast, plain] = both((kernel) => kernel.moments(columnOf(kernel, VALUES), count));
  expect(fast).toEqual(plain);
  expect(fast.count).toBe(count);
});

test.each(LENGTHS)("equal bins of %i values, the upper end in the last bin", (count) => {
  const inRange = uniforms(4);
  inRange[0] = 1;
  const [fast, plain] = both((kernel) => {
    const counts = kernel.column(37);
    kernel.countEqualBins(columnOf(kernel, inRange), count, 0, 37, counts);
    return Array.from(counts);
  });
  expect(fast).toEqual(plain);
  expect(fast.reduce((sum, n) => sum + n, 0)).toBe(count);
});

test.each(LENGTHS)("bins of a part of an octave for %i values, and those left over", (count) => {
  const [fast, plain] = both((kernel) => {
    const counts = kernel.column(LOG_BINS);
    const strays = kernel.column(4096);
    const left = kernel.countLogBins(columnOf(kernel, VALUES), count, LOW_KEY, counts, strays);
    return { counts: Array.from(counts), strays: Array.from(strays.subarray(0, left)) };
  });
  expect(fast).toEqual(plain);
  expect(fast.strays).toEqual(Array.from(VALUES.subarray(0, count)).filter((value) => value < 1 / 8 || value >= 8));
});

test.each(LENGTHS)("picking and counting among %i bytes and words", (count) => {
  const [fast, plain] = both((kernel) => {
    const bytes = bytesOf(kernel, BYTES);
    const words = kernel.words(4096);
    words.set(WORDS);
    const out = kernel.column(4096);
    const found = kernel.pick(columnOf(kernel, VALUES), bytes, 2, out, count);
    const equal = kernel.bytes(count);
    kernel.equalBytes(equal, bytes, 2, count);
    const pattern = kernel.bytes(count);
    kernel.raiseWhere(pattern, equal, 128, count);
    kernel.raiseWhere(pattern, bytes, 1, count);
    return {
      picked: Array.from(out.subarray(0, found)),
      codes: [0, 1, 2, 3, 4, 5].map((code) => kernel.countBytes(bytes, code, count)),
      any: kernel.orWords(words, count),
      bits: Array.from({ length: 16 }, (_, bit) => kernel.countBit(words, 1 << bit, count)),
      equal: Array.from(equal),
      pattern: Array.from(pattern),
    };
  });
  expect(fast).toEqual(plain);
  expect(fast.codes.reduce((sum, n) => sum + n, 0)).toBe(count);
  expect(fast.picked).toHaveLength(fast.codes[2]);
});
