import { describe, expect, test } from "vitest";
import { aimAtFailures, middleOfFailures } from "../../../src/reliability/failure-aims.ts";
import type { LimitFunction } from "../../../src/reliability/limit-function.ts";

const DIMENSIONS = 8;

/** Fails beyond 4 along the first axis, either way, and by 4.4 along the second. */
const slabs: LimitFunction = (z, out, count) => {
  for (let i = 0; i < count; i += 1) out[i] = Math.min(4 - z[0][i], 4 + z[0][i], 4.4 - z[1][i]);
};

const columnsOf = (points: readonly (readonly number[])[]): Float64Array[] =>
  Array.from({ length: DIMENSIONS }, (_, d) => Float64Array.from(points, (point) => point[d] ?? 0));

describe("points from failures", () => {
  // One failure in each of the three ways, with something in the directions that do not matter.
  const failing = columnsOf([
    [4.2, 0.3, -1, 0.5, 1.2, -0.4],
    [-4.1, 0.2, 0.8, -1.1, 0.3, 0.9],
    [0.1, 4.5, 0.2, 0.4, -1.5, 0.7],
  ]);

  test("one for each way that has none, at the nearest place of the limit, whatever else the failure was", () => {
    const known = {
      scores: Float64Array.from({ length: DIMENSIONS }, (_, d) => (d === 0 ? 4 : 0)),
      indexRatio: 4,
      limit: 0,
    };
    const points = aimAtFailures(slabs, failing, [known], 7);
    expect(points[0]).toBe(known);
    expect(points.length).toBe(3);
    const found = points.slice(1).sort((a, b) => a.indexRatio - b.indexRatio);
    expect(found[0].scores[0]).toBeCloseTo(-4, 2);
    expect(found[1].scores[1]).toBeCloseTo(4.4, 2);
    expect(found.map(({ indexRatio }) => Number(indexRatio.toFixed(2)))).toEqual([4, 4.4]);
  });

  test("all of them where none is known, none from no failures or out of reach", () => {
    expect(aimAtFailures(slabs, failing, [], 7).length).toBe(3);
    expect(aimAtFailures(slabs, columnsOf([]), [], 7)).toEqual([]);
    expect(aimAtFailures(slabs, failing, [], 3.5)).toEqual([]);
  });
});

describe("the middle of failures of independent runs", () => {
  test("keeps what the runs agree on and leaves the rest at 0", () => {
    // Means of the first variable 3, 3.2, 2.8: standard error 0.12. Of the second 1, -1.2, 0.3: 0.64.
    const runs = [
      columnsOf([
        [2.9, 1],
        [3.1, 1],
      ]),
      columnsOf([[3.2, -1.2]]),
      columnsOf([[2.8, 0.3]]),
    ];
    const middle = middleOfFailures(runs);
    expect(middle?.scores[0]).toBeCloseTo(3, 12);
    expect(Array.from(middle?.scores ?? []).slice(1)).toEqual(new Array(DIMENSIONS - 1).fill(0));
    expect(middle?.indexRatio).toBeCloseTo(3, 12);
  });

  test("is none from fewer than three runs that came to a failure, or where they agree on nothing", () => {
    const one = columnsOf([[3, 1]]);
    expect(middleOfFailures([one, one, columnsOf([])])).toBeNull();
    expect(middleOfFailures([columnsOf([[3]]), columnsOf([[-3]]), columnsOf([[0.1]])])).toBeNull();
  });
});
