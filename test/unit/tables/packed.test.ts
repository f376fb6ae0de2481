import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { pack, unpack } from "../../../src/tables/packed.ts";

const number = fc.double({ noNaN: false });
const { tree } = fc.letrec((tie) => ({
  tree: fc.oneof(
    { depthSize: "small" },
    number,
    fc.string(),
    fc.boolean(),
    fc.constant(null),
    fc.array(number),
    fc.float64Array(),
    fc.int32Array(),
    fc.uint16Array(),
    fc.uint8Array(),
    fc.array(tie("tree")),
    fc.dictionary(fc.string(), tie("tree"), { noNullPrototype: true }),
  ),
}));

describe("plain data taken apart into numbers and their shape", () => {
  test("comes back bit for bit: NaN, infinities, the sign of zero, text that looks like a mark, a key named __proto__", () => {
    fc.assert(
      fc.property(tree, (value) => {
        expect(unpack(pack(value))).toStrictEqual(value);
      }),
      { seed: 20, numRuns: 500 },
    );
    for (const value of [-0, Number.NaN, Number.POSITIVE_INFINITY, "#", "=x", "n:3", [], [[]], {}, 5e-324]) {
      expect(unpack(pack(value))).toStrictEqual(value);
    }
  });

  test("leaves undefined members out and refuses what is no plain data", () => {
    expect(unpack(pack({ a: 1, b: undefined }))).toStrictEqual({ a: 1 });
    for (const value of [new Map(), () => 1, Symbol("x"), 10n, new Date(0)]) {
      expect(() => pack({ value })).toThrow(InternalError);
    }
  });

  test("refuses numbers that end early, are left over, or belong to an unknown column", () => {
    const { shape, numbers } = pack({ a: [1, 2, 3], b: Float64Array.of(4) });
    expect(() => unpack({ shape, numbers: numbers.subarray(1) })).toThrow(InternalError);
    expect(() => unpack({ shape, numbers: Float64Array.of(...numbers, 5) })).toThrow(InternalError);
    expect(() => unpack({ shape: '"f99:1"', numbers: Float64Array.of(1) })).toThrow(InternalError);
  });
});
