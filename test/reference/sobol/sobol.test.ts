import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { directionNumbers, fillSobol, fillSobolWords, sobolWord } from "../../../src/random/sobol.ts";

const hex = (word: number) => (word >>> 0).toString(16).padStart(8, "0");

function sha256(words: Uint32Array): string {
  const bytes = new Uint8Array(4 * words.length);
  const view = new DataView(bytes.buffer);
  words.forEach((word, i) => {
    view.setUint32(4 * i, word, true);
  });
  return createHash("sha256").update(bytes).digest("hex");
}

describe("Sobol' direction numbers (source: SOURCE.md)", () => {
  it("columns of dimensions 2 and 64, top bit first", () => {
    expect(Array.from(directionNumbers(2).slice(0, 8), hex)).toEqual(
      "80000000 c0000000 a0000000 f0000000 88000000 cc000000 aa000000 ff000000".split(" "),
    );
    expect(Array.from(directionNumbers(64).slice(0, 8), hex)).toEqual(
      "80000000 40000000 60000000 d0000000 c8000000 bc000000 4e000000 57000000".split(" "),
    );
  });
  it("SHA-256 of the columns of 64 dimensions", () => {
    const all = new Uint32Array(64 * 32);
    for (let d = 0; d < 64; d += 1) all.set(directionNumbers(d + 1), 32 * d);
    expect(sha256(all)).toBe("e7859e3870546b11d8387d204847023bd369691e746411bf304c8dd58411698d");
  });
  it("SHA-256 of 1024 points in 128 dimensions against another implementation", () => {
    const points = new Uint32Array(1024 * 128);
    for (let d = 0; d < 128; d += 1) {
      for (let n = 0; n < 1024; n += 1) points[128 * n + d] = sobolWord(d + 1, n ^ (n >>> 1));
    }
    expect(sha256(points)).toBe("eda409e99c4ea6bcdcea85958951fcdca847d4911d968d287050b764036cf0b0");
  });
});

describe("Sobol' points (source: SOURCE.md)", () => {
  it("Gray-code order is point n ^ (n >> 1) of the natural order", () => {
    const gray = (d: number) => [0, 1, 2, 3, 4, 5, 6, 7].map((n) => (sobolWord(d, n ^ (n >> 1)) >>> 0) / 2 ** 32);
    expect(gray(1)).toEqual([0, 0.5, 0.75, 0.25, 0.375, 0.875, 0.625, 0.125]);
    expect(gray(3)).toEqual([0, 0.5, 0.25, 0.75, 0.625, 0.125, 0.875, 0.375]);
  });
  it("natural order, point 12345", () => {
    expect([1, 2, 3, 10, 64].map((d) => hex(sobolWord(d, 12345)))).toEqual(
      "9c0c0000 70440000 e4f40000 5b540000 7d2c0000".split(" "),
    );
  });
  it("a block equals its points one by one, from any start", () => {
    const out = new Int32Array(300);
    for (const first of [0, 1, 777, 2 ** 20 - 5, 2 ** 31 - 3, 2 ** 32 - 300]) {
      fillSobolWords(17, first, 300, out);
      expect(Array.from(out), `from ${first}`).toEqual(Array.from({ length: 300 }, (_, i) => sobolWord(17, first + i)));
    }
  });
  it("coordinates are the centres of their cells, point 0 kept", () => {
    const out = new Float64Array(4);
    fillSobol(1, 0, 4, out);
    expect(Array.from(out)).toEqual([0, 0.5, 0.25, 0.75].map((x) => x + 0.5 / 2 ** 32));
  });
  it("refuses dimensions and points that it does not have", () => {
    expect(() => directionNumbers(129)).toThrow(InternalError);
    expect(() => directionNumbers(0)).toThrow(InternalError);
    expect(() => fillSobol(1, 2 ** 32 - 1, 2, new Float64Array(2))).toThrow(InternalError);
    expect(() => fillSobol(1, 0, 3, new Float64Array(2))).toThrow(InternalError);
  });
});
