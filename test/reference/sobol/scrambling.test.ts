import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import {
  fillScrambledSobol,
  laineKarras,
  reverseBits,
  type ScrambleMethod,
  scrambleKey,
} from "../../../src/random/owen.ts";
import { seedKey, variableId } from "../../../src/random/streams.ts";
import { kolmogorovSmirnov } from "../../support/kolmogorov-smirnov.ts";

const KEY = seedKey("scrambling");
const METHODS: ScrambleMethod[] = ["owen", "hash"];

function column(dimension: number, count: number, method: ScrambleMethod, replicate = 0, first = 0): Float64Array {
  const out = new Float64Array(count);
  fillScrambledSobol(scrambleKey(KEY, replicate, variableId(`x${dimension}`)), dimension, first, count, out, method);
  return out;
}

/** Largest and least number of points in the boxes of volume 2^-(Σ sides) of one shape. */
function occupancy(columns: Float64Array[], sides: number[]): { least: number; most: number } {
  const counts = new Int32Array(2 ** sides.reduce((a, b) => a + b, 0));
  for (let i = 0; i < columns[0].length; i += 1) {
    let box = 0;
    columns.forEach((values, d) => {
      box = box * 2 ** sides[d] + Math.floor(values[i] * 2 ** sides[d]);
    });
    counts[box] += 1;
  }
  return { least: Math.min(...counts), most: Math.max(...counts) };
}

/** Every way to share `total` among `parts`. */
function shapes(total: number, parts: number): number[][] {
  if (parts === 1) return [[total]];
  return Array.from({ length: total + 1 }, (_, a) => shapes(total - a, parts - 1).map((rest) => [a, ...rest])).flat();
}

describe.each(METHODS)("scrambled net, %s (source: SOURCE.md)", (method) => {
  // Degrees of the primitive polynomials minus one, dimensions 1 to 8.
  const T = [0, 0, 1, 2, 2, 3, 3, 4];
  it("every elementary interval of every pair of the first 8 dimensions holds its 2^t points", () => {
    const m = 10;
    for (let replicate = 0; replicate < 2; replicate += 1) {
      const columns = T.map((_, d) => column(d + 1, 2 ** m, method, replicate));
      for (let a = 0; a < 8; a += 1) {
        for (let b = 0; b < a; b += 1) {
          const t = T[a] + T[b];
          for (const sides of shapes(m - t, 2)) {
            expect(occupancy([columns[b], columns[a]], sides), `${b + 1}, ${a + 1}: ${sides}`).toEqual({
              least: 2 ** t,
              most: 2 ** t,
            });
          }
        }
      }
    }
  });
  it("the same in the first three dimensions at once, also for a later run of 2^m points", () => {
    const m = 9;
    for (const first of [0, 5 * 2 ** m]) {
      const columns = [1, 2, 3].map((d) => column(d, 2 ** m, method, 3, first));
      for (const sides of shapes(m - 1, 3)) {
        expect(occupancy(columns, sides), `${sides}`).toEqual({ least: 2, most: 2 });
      }
    }
  });
  it("each point is uniform over replicates (Kolmogorov-Smirnov, false alarms 1 in 10^4)", () => {
    for (const index of [0, 1, 37]) {
      const values = Float64Array.from({ length: 2000 }, (_, r) => column(5, 1, method, r, index)[0]);
      expect(kolmogorovSmirnov(values, (x) => x).p, `point ${index}`).toBeGreaterThan(1e-4);
    }
  });
  it("is open, of 52 bits, and the same however it is cut into blocks", () => {
    const whole = column(4, 10000, method);
    const parts = [...column(4, 1, method), ...column(4, 4999, method, 0, 1), ...column(4, 5000, method, 0, 5000)];
    expect(Array.from(whole)).toEqual(parts);
    expect(whole.every((u) => u > 0 && u < 1 && (u * 2 ** 53) % 2 === 1)).toBe(true);
  });
  it("replicates and variables differ", () => {
    const a = column(2, 16, method, 0);
    expect(column(2, 16, method, 1)).not.toEqual(a);
    const other = new Float64Array(16);
    fillScrambledSobol(scrambleKey(KEY, 0, variableId("other")), 2, 0, 16, other, method);
    expect(other).not.toEqual(a);
  });
});

describe("true nested scrambling", () => {
  it("two points that part at digit d keep the digits above alike and flip by independent fair coins below (4 standard errors)", () => {
    // Points 0 and 1 of dimension 1 part at the first digit, 0 and 2 at the second, 0 and 16 at the fifth, 0 and 2^19 at the twentieth.
    const replicates = 4000;
    for (const [index, depth] of [
      [1, 1],
      [2, 2],
      [16, 5],
      [2 ** 19, 20],
    ]) {
      const agree = new Float64Array(32);
      for (let r = 0; r < replicates; r += 1) {
        const key = scrambleKey(KEY, r, variableId("pair"));
        const a = new Float64Array(1);
        const b = new Float64Array(1);
        fillScrambledSobol(key, 1, 0, 1, a);
        fillScrambledSobol(key, 1, index, 1, b);
        const wordA = Math.floor(a[0] * 2 ** 32);
        const wordB = Math.floor(b[0] * 2 ** 32);
        for (let digit = 0; digit < 32; digit += 1) {
          agree[digit] += ((wordA >>> (31 - digit)) & 1) === ((wordB >>> (31 - digit)) & 1) ? 1 : 0;
        }
      }
      for (let digit = 0; digit < 32; digit += 1) {
        if (digit < depth - 1) expect(agree[digit]).toBe(replicates);
        else if (digit === depth - 1) expect(agree[digit]).toBe(0);
        else
          expect(Math.abs(agree[digit] / replicates - 0.5), `digit ${digit}`).toBeLessThan(
            (4 * 0.5) / Math.sqrt(replicates),
          );
      }
    }
  });
  it("refuses more points than it can tell apart", () => {
    const key = scrambleKey(KEY, 0, variableId("a"));
    expect(() => fillScrambledSobol(key, 1, 2 ** 30 - 1, 2, new Float64Array(2))).toThrow(InternalError);
    expect(() => scrambleKey(KEY, -1, variableId("a"))).toThrow(InternalError);
  });
});

describe("Laine-Karras hash (vectors: SOURCE.md)", () => {
  const hex = (word: number) => (word >>> 0).toString(16).padStart(8, "0");
  it("permutation and scramble", () => {
    const cases: [number, number, string, string][] = [
      [0, 1, "3707b665", "a66de0ec"],
      [0x12345678, 0x9abcdef0, "14ef64c8", "180f3b55"],
      [0xffffffff, 0xffffffff, "cfcba176", "6e85d3f3"],
    ];
    for (const [word, seed, permuted, scrambled] of cases) {
      expect(hex(laineKarras(word, seed))).toBe(permuted);
      expect(hex(reverseBits(laineKarras(reverseBits(word), seed)))).toBe(scrambled);
    }
    expect(hex(reverseBits(laineKarras(reverseBits(0x80000000), 0)))).toBe("a66de0ec");
  });
});
