import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { acceptanceCurve } from "../../src/report/acceptance.ts";
import { axisOver, binValues, outline } from "../../src/report/figures/bins.ts";
import { quantileOf } from "../../src/report/quantile.ts";
import { summarise } from "../support/result-fixture.ts";

describe("histogram bins", () => {
  it("count each value once: in a bin, below, above or undefined", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -10, max: 10 })), fc.integer({ min: 1, max: 40 }), (values, binCount) => {
        const bins = binValues(values, -3, 5, binCount);
        const drawn = bins.counts.reduce((sum, count) => sum + count, 0);
        expect(drawn + bins.below + bins.above + bins.undefinedCount).toBe(values.length);
      }),
    );
  });

  it("are closed at both ends of the axis, half open between", () => {
    const bins = binValues([0, 1, 1.999, 2, 4, -0.001, 4.001, Number.NaN], 0, 4, 4);
    expect([...bins.counts]).toEqual([1, 2, 1, 1]);
    expect([bins.below, bins.above, bins.undefinedCount]).toEqual([1, 1, 1]);
  });

  it("have an outline whose steps hold the share of each bin", () => {
    const points = outline(binValues([0.5, 1.5, 1.6, 9], 0, 2, 2));
    expect(points.map(({ x, y }) => [x, y])).toEqual([
      [0, 0],
      [0, 0.25],
      [1, 0.25],
      [1, 0.5],
      [2, 0.5],
      [2, 0],
    ]);
  });

  it("have an axis of some width whatever the values", () => {
    for (const values of [[], [Number.NaN], [0, 0], [-7, -7], [1e300, 1e300]]) {
      const { low, high } = axisOver([values], []);
      expect(high).toBeGreaterThan(low);
    }
  });
});

describe("acceptance curve", () => {
  it("is the share of windows, ends included, that hold the offset; units without a window hold none", () => {
    const low = Float64Array.of(1, 2, Number.NaN, 4);
    const high = Float64Array.of(3, 5, Number.NaN, 3.5);
    const curve = acceptanceCurve(low, high, [0.5, 1, 2, 3, 3.1, 5, 5.1]);
    expect(curve.map(({ shareRatio }) => shareRatio)).toEqual([0, 0.25, 0.5, 0.5, 0.25, 0.25, 0]);
  });
});

describe("quantile of a summary", () => {
  it("is the stored one where there is one, between its neighbours where not, NaN of nothing", () => {
    const summary = {
      ...summarise(Float64Array.of(0, 10), "mm"),
      quantiles: [
        { probabilityRatio: 0.25, value: 2 },
        { probabilityRatio: 0.75, value: 6 },
      ],
    };
    expect(quantileOf(summary, 0.25)).toBe(2);
    expect(quantileOf(summary, 0.5)).toBe(4);
    expect(quantileOf(summary, 1)).toBe(10);
    expect(quantileOf({ ...summary, count: 0 }, 0.5)).toBeNaN();
  });
});
