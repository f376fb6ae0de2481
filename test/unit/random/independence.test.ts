/**
 * Streams with neighbouring addresses, told apart by variable, block, domain or seed, read side by side.
 *
 * For independent uniforms r·√n of each pair is nearly standard normal, and their squares over m pairs sum to m ± √(2m).
 */
import { describe, expect, it } from "vitest";
import { BLOCK_SIZE, DRAW_DOMAIN, fillUniform, seedKey, variableId } from "../../../src/random/streams.ts";

const WORD = process.env.SEATSPREAD_TEST_SEED ?? "independence";
const key = seedKey(WORD);
const name = variableId("bearings.a.clearance");

function column(by = key, of = name, block = 0, domain = 0): Float64Array {
  const out = new Float64Array(BLOCK_SIZE);
  fillUniform(by, of, block, out, BLOCK_SIZE, domain);
  return out;
}

const numbers = Array.from({ length: 48 }, (_, index) => index);

const FAMILIES: Readonly<Record<string, () => Float64Array[]>> = {
  "variables with numbered names": () => numbers.map((index) => column(key, variableId(`stack[${index}]`))),
  "variables of a pair": () =>
    ["a", "b"].flatMap((side) =>
      ["clearance", "shaftFit", "housingFit", "innerTemperature", "outerTemperature"].map((part) =>
        column(key, variableId(`bearings.${side}.${part}`)),
      ),
    ),
  "blocks that follow one another": () => numbers.map((block) => column(key, name, block)),
  "blocks a power of two apart": () => numbers.slice(0, 44).map((power) => column(key, name, 2 ** power)),
  domains: () => [...Object.values(DRAW_DOMAIN), 100, 65_535].map((domain) => column(key, name, 0, domain)),
  "neighbouring seeds": () => numbers.map((index) => column(seedKey(`${WORD}${index}`))),
};

/** What is correlated: the number, how far out it lies, and its bits below the tenth (a sawtooth). */
const READINGS: Readonly<Record<string, (u: number) => number>> = {
  value: (u) => u - 0.5,
  "distance from the middle": (u) => Math.abs(u - 0.5) - 0.25,
  "lower bits": (u) => u * 1024 - Math.floor(u * 1024) - 0.5,
};

/** r·√n of every pair of columns, the second shifted by `lag` samples. */
function pairScores(columns: readonly Float64Array[], read: (u: number) => number, lag: number): number[] {
  const centred = columns.map((values) => {
    const out = values.map(read);
    const scale = Math.sqrt(out.reduce((sum, x) => sum + x * x, 0) / out.length);
    return out.map((x) => x / scale);
  });
  const scores: number[] = [];
  for (let a = 0; a < centred.length; a += 1) {
    // With a lag a column may be held against itself, and each order of two is another pair.
    for (let b = lag === 0 ? a + 1 : 0; b < centred.length; b += 1) {
      const count = BLOCK_SIZE - lag;
      let sum = 0;
      for (let index = 0; index < count; index += 1) sum += centred[a][index] * centred[b][index + lag];
      scores.push(sum / Math.sqrt(count));
    }
  }
  return scores;
}

describe("streams side by side are uncorrelated (5 standard errors of the sum of squares and a largest |z| of 5.5; seed fixed)", () => {
  for (const [family, make] of Object.entries(FAMILIES)) {
    for (const [reading, read] of Object.entries(READINGS)) {
      it.each([0, 1, 7])(`${family}, ${reading}, lag %i`, (lag) => {
        const scores = pairScores(make(), read, lag);
        const squares = scores.reduce((sum, z) => sum + z * z, 0);
        expect(Math.abs(squares - scores.length) / Math.sqrt(2 * scores.length)).toBeLessThan(5);
        expect(Math.max(...scores.map(Math.abs))).toBeLessThan(5.5);
      });
    }
  }
});

describe("no two streams share numbers", () => {
  it("over a million first draws of variables, blocks, domains and seeds, equal 52-bit numbers are as rare as chance has it", () => {
    const firsts: number[] = [];
    const one = new Float64Array(1);
    for (let index = 0; index < 250_000; index += 1) {
      fillUniform(key, name, index, one, 1);
      firsts.push(one[0]);
      fillUniform(key, name, 2 ** 32 + index, one, 1);
      firsts.push(one[0]);
      fillUniform(key, [name[0], (name[1] + index) >>> 0], 1, one, 1);
      firsts.push(one[0]);
      fillUniform([key[0], (key[1] + index) | 0], name, 2, one, 1);
      firsts.push(one[0]);
    }
    // The first family reaches block 1 and block 2, where the last two begin: two meetings. Chance alone gives 1e12/2/2^52 = 1e-4 more.
    expect(firsts.length - new Set(firsts).size).toBe(2);
  });
});
