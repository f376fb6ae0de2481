import seedrandom from "seedrandom";
import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { philox4x32 } from "../../../src/random/philox.ts";
import { seedKey } from "../../../src/random/seed.ts";
import { variableId } from "../../../src/random/variable-id.ts";
import { fillOpenUniforms, nextUint32 } from "../../../src/random/xoshiro128.ts";

describe("Philox4x32-10", () => {
  // Known answers of the authors: random123, tests/kat_vectors (DEShawResearch/random123 on GitHub).
  const answers: [number[], number[], number[]][] = [
    [
      [0, 0, 0, 0],
      [0, 0],
      [0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8],
    ],
    [
      [0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff],
      [0xffffffff, 0xffffffff],
      [0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd],
    ],
    [
      [0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344],
      [0xa4093822, 0x299f31d0],
      [0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1],
    ],
  ];
  it("gives its authors' known answers", () => {
    const out = new Uint32Array(4);
    for (const [counter, key, expected] of answers) {
      philox4x32(counter[0], counter[1], counter[2], counter[3], key[0], key[1], out);
      expect(Array.from(out)).toEqual(expected);
    }
  });
});

describe("xoshiro128++", () => {
  // From the authors' reference C code, as recorded in rand_xoshiro's tests (rust-random/rngs on GitHub), state 1, 2, 3, 4.
  const answers = [
    641, 1573767, 3222811527, 3517856514, 836907274, 4247214768, 3867114732, 1355841295, 495546011, 621204420,
  ];
  it("gives its authors' known answers", () => {
    const state = Uint32Array.of(1, 2, 3, 4);
    expect(answers.map(() => nextUint32(state))).toEqual(answers);
  });
  it("makes uniforms from the top 26 bits of two successive answers, the first on top", () => {
    const state = Uint32Array.of(1, 2, 3, 4);
    const out = new Float64Array(5);
    fillOpenUniforms(state, out, 5);
    const expected = [0, 2, 4, 6, 8].map(
      (index) => (Math.floor(answers[index] / 64) * 2 ** 26 + Math.floor(answers[index + 1] / 64) + 0.5) / 2 ** 52,
    );
    expect(Array.from(out)).toEqual(expected);
    const stepped = Uint32Array.of(1, 2, 3, 4);
    for (let draw = 0; draw < 10; draw += 1) nextUint32(stepped);
    expect(Array.from(state)).toEqual(Array.from(stepped));
  });
});

describe("the identity of a variable", () => {
  // Published test vectors of FNV-1a 64 (Fowler, Noll, Vo; test_fnv.c).
  const answers: [string, number, number][] = [
    ["", 0xcbf29ce4, 0x84222325],
    ["a", 0xaf63dc4c, 0x8601ec8c],
    ["foobar", 0x85944171, 0xf73967e8],
  ];
  it("is the 64-bit FNV-1a hash of its name", () => {
    for (const [name, high, low] of answers) expect(variableId(name)).toEqual([high, low]);
  });
  it("hashes the UTF-8 bytes, computed here with BigInt", () => {
    for (const name of ["bearings.a.clearance", "Größe µm", "x".repeat(300)]) {
      let hash = 0xcbf29ce484222325n;
      for (const byte of new TextEncoder().encode(name))
        hash = ((hash ^ BigInt(byte)) * 0x100000001b3n) & (2n ** 64n - 1n);
      expect(variableId(name)).toEqual([Number(hash >> 32n), Number(hash & 0xffffffffn)]);
    }
  });
});

describe("the key of a seed", () => {
  it("is made by seedrandom, whose documented first double for 'hello.' is 0.9282578795792454", () => {
    expect(seedrandom("hello.")()).toBe(0.9282578795792454);
    const generator = seedrandom("hello.");
    expect(seedKey("hello.")).toEqual([generator.int32(), generator.int32()]);
  });
  it("differs from seed to seed, is the same each time, and knows the empty text", () => {
    const keys = ["1", "2", "01", "", "1 "].map((seed) => seedKey(seed).join());
    expect(new Set(keys).size).toBe(5);
    expect(seedKey("").join()).toBe(keys[3]);
  });
  it("refuses a number: 42 and '42' would be two seeds", () => {
    expect(() => seedKey(42 as unknown as string)).toThrow(InternalError);
  });
});
