import { expect, test } from "vitest";
import { createFastKernel } from "../../../src/kernel/fast.ts";
import type { Kernel } from "../../../src/kernel/kernel.ts";
import { PLAIN_KERNEL } from "../../../src/kernel/plain.ts";
import { createPairColumns } from "../../../src/model/contact.ts";
import { fillUniform } from "../../../src/random/streams.ts";
import { compiledKernel } from "../../support/kernel.ts";

/** From a preload back to the offset, over far more than catalogued bearings: the fast loop against the plain one, and both against the solver. */
const FAST = createFastKernel(compiledKernel());
const COUNT = 4095;
const COMMON_MM_PER_N = 3e-6;

function uniforms(variable: number): Float64Array {
  const column = new Float64Array(COUNT);
  fillUniform([5, 6], [variable, 0], 0, column, COUNT);
  return column;
}

/** Groove distances of 0.05 to 2 mm, clearances of −0.05 to 0.1 mm, stiffnesses over four and forces over six decades. */
const DISTANCE = uniforms(1).map((u) => 0.05 * 40 ** u);
const TERM = uniforms(2).map((u, i) => {
  const half = 0.5 * (0.15 * u - 0.05);
  return half * (2 * DISTANCE[i] - half);
});
const STIFFNESS = uniforms(3).map((u) => 1e4 * 1e4 ** u);
const FORCE = uniforms(4).map((u, i) => (i % 9 === 0 ? 0 : 0.01 * 1e6 ** u));

function offsetsBy(kernel: Kernel, forceN: Float64Array): { offsetMm: Float64Array; solvedN: Float64Array } {
  return kernel.scoped(() => {
    const column = (values: Float64Array) => {
      const own = kernel.column(COUNT);
      own.set(values);
      return own;
    };
    const bearing = (from: number) => {
      const turned = (values: Float64Array) => column(values.map((_, i) => values[(i + from) % COUNT]));
      return { grooveDistanceMm: turned(DISTANCE), stiffness: turned(STIFFNESS), w: turned(TERM) };
    };
    const [a, b] = [bearing(0), bearing(7)];
    const pairs = createPairColumns(kernel, COUNT, a, b);
    pairs.wA.set(a.w);
    pairs.wB.set(b.w);
    const out = kernel.column(COUNT);
    kernel.fillPairOffsets(column(forceN), pairs, COMMON_MM_PER_N, out, COUNT);
    pairs.offsetMm.set(out);
    kernel.solvePairs(pairs, COUNT, COMMON_MM_PER_N);
    return { offsetMm: out.slice(), solvedN: pairs.forceN.slice() };
  });
}

test("both kernels give the same doubles", () => {
  expect(offsetsBy(FAST, FORCE).offsetMm).toEqual(offsetsBy(PLAIN_KERNEL, FORCE).offsetMm);
});

test("a pair at that offset carries that preload, as far as the digits of an offset go", () => {
  const { offsetMm, solvedN } = offsetsBy(FAST, FORCE);
  const again = offsetsBy(FAST, solvedN).offsetMm;
  let worstMm = 0;
  let worstRatio = 0;
  FORCE.forEach((forceN, i) => {
    worstMm = Math.max(worstMm, Math.abs(again[i] - offsetMm[i]));
    if (forceN > 100) worstRatio = Math.max(worstRatio, Math.abs(solvedN[i] / forceN - 1));
  });
  // With radial interference the onset is where x² = 0, and the root of what rounding leaves of that is 4e-9 mm.
  expect(worstMm).toBeLessThan(1e-8);
  expect(worstRatio).toBeLessThan(1e-9);
});

test("a hold without end takes an offset without end, whatever else is in the block", () => {
  const forceN = FORCE.map((n, i) => (i % 3 === 0 ? Number.POSITIVE_INFINITY : n));
  const { offsetMm } = offsetsBy(FAST, forceN);
  const finite = offsetsBy(PLAIN_KERNEL, FORCE).offsetMm;
  offsetMm.forEach((mm, i) => {
    expect(mm).toBe(i % 3 === 0 ? Number.POSITIVE_INFINITY : finite[i]);
  });
});
