import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { normalQuantile } from "../../../src/numeric/special.ts";
import { BLOCK_SIZE, fillUniform, seedKey, variableId } from "../../../src/random/streams.ts";
import {
  addBinnedOutput,
  emptyBinnedOutput,
  type FirstOrderIndex,
  firstOrderIndex,
  mergeBinnedOutput,
} from "../../../src/stats/sensitivity.ts";

const BLOCKS = 25;
const BINS = 50;

/** The indices of a function of independent uniforms, from 25 blocks (102 400 samples). */
function indices(dimensions: number, f: (u: number[]) => number, shift = 0): FirstOrderIndex[] {
  const binned = Array.from({ length: dimensions }, () => emptyBinnedOutput(BINS, shift));
  const columns = binned.map(() => new Float64Array(BLOCK_SIZE));
  const outputs = new Float64Array(BLOCK_SIZE);
  const key = seedKey("sensitivity");
  for (let block = 0; block < BLOCKS; block += 1) {
    columns.forEach((column, index) => {
      fillUniform(key, variableId(`x${index}`), block, column);
    });
    for (let index = 0; index < BLOCK_SIZE; index += 1) outputs[index] = f(columns.map((column) => column[index]));
    columns.forEach((column, index) => {
      addBinnedOutput(binned[index], column, outputs, BLOCK_SIZE);
    });
  }
  return binned.map(firstOrderIndex);
}

// Tolerance: the standard deviation over repetitions at this size is 0.002 (measured elsewhere on 20 repetitions), the loss within bins
// up to 0.003; 0.011 is 4 of the one and the other. The seed is fixed.
const TOLERANCE = 0.011;

describe("first-order indices from given data (source: SOURCE.md)", () => {
  it("Ishigami function", () => {
    const found = indices(3, (u) => {
      const [x1, x2, x3] = u.map((p) => Math.PI * (2 * p - 1));
      return Math.sin(x1) + 7 * Math.sin(x2) ** 2 + 0.1 * x3 ** 4 * Math.sin(x1);
    });
    const expected = [0.3139051911, 0.4424111448, 0];
    expected.forEach((value, index) => {
      expect(Math.abs(found[index].indexRatio - value), `x${index + 1}`).toBeLessThan(TOLERANCE);
    });
    // The third has no first-order effect: what is left is noise, and the noise is stated.
    expect(Math.abs(found[2].indexRatio)).toBeLessThan(4 * found[2].noiseRatio);
    expect(found[2].noiseRatio).toBeLessThan(2e-4);
  });
  it("g-function in eight dimensions, also with an output far from zero", () => {
    const a = [0, 1, 4.5, 9, 99, 99, 99, 99];
    const g = (u: number[]) =>
      u.reduce((product, x, index) => (product * (Math.abs(4 * x - 2) + a[index])) / (1 + a[index]), 1);
    const expected = [0.716192, 0.179048, 0.023676, 0.007162, 0.000072, 0.000072, 0.000072, 0.000072];
    const plain = indices(8, g);
    const shifted = indices(8, (u) => 1e6 + g(u), 1e6);
    expected.forEach((value, index) => {
      expect(Math.abs(plain[index].indexRatio - value), `x${index + 1}`).toBeLessThan(TOLERANCE);
      expect(shifted[index].indexRatio).toBeCloseTo(plain[index].indexRatio, 8);
    });
  });
  it("product of two normals", () => {
    const found = indices(2, ([p, q]) => (1 + 0.1 * normalQuantile(p)) * (2 + 0.3 * normalQuantile(q)), 2);
    expect(Math.abs(found[0].indexRatio - 0.30557678)).toBeLessThan(TOLERANCE);
    expect(Math.abs(found[1].indexRatio - 0.68754775)).toBeLessThan(TOLERANCE);
  });
});

describe("the accumulator", () => {
  it("merges halves to the whole", () => {
    const inputs = Float64Array.of(0, 0.1, 0.4, 0.6, 0.8, 1);
    const outputs = Float64Array.of(1, 2, 4, 8, 16, 32);
    const whole = emptyBinnedOutput(2);
    addBinnedOutput(whole, inputs, outputs, 6);
    const half = emptyBinnedOutput(2);
    addBinnedOutput(half, inputs, outputs, 3);
    const rest = emptyBinnedOutput(2);
    addBinnedOutput(rest, inputs.subarray(3), outputs.subarray(3), 3);
    mergeBinnedOutput(half, rest);
    expect(half).toEqual(whole);
    expect(Array.from(whole.counts)).toEqual([3, 3]);
  });
  it("an output that does not vary has index 0; too few samples have none", () => {
    const flat = emptyBinnedOutput(4, 0.1);
    addBinnedOutput(flat, [0.1, 0.3, 0.6, 0.9, 0.95], [0.1, 0.1, 0.1, 0.1, 0.1], 5);
    expect(firstOrderIndex(flat)).toEqual({ indexRatio: 0, noiseRatio: 0 });
    expect(firstOrderIndex(emptyBinnedOutput(4)).indexRatio).toBeNaN();
  });
  it("an output that the bin decides has index 1", () => {
    const sure = emptyBinnedOutput(2);
    addBinnedOutput(sure, [0.1, 0.2, 0.7, 0.9], [3, 3, 5, 5], 4);
    expect(firstOrderIndex(sure)).toEqual({ indexRatio: 1, noiseRatio: 0 });
  });
  it("refuses to merge unlike bins or shifts", () => {
    expect(() => mergeBinnedOutput(emptyBinnedOutput(4), emptyBinnedOutput(8))).toThrow(InternalError);
    expect(() => mergeBinnedOutput(emptyBinnedOutput(4), emptyBinnedOutput(4, 1))).toThrow(InternalError);
    expect(() => emptyBinnedOutput(1)).toThrow(InternalError);
  });
});
