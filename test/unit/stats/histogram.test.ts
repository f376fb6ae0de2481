import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { normalQuantile } from "../../../src/numeric/special.ts";
import { fillUniform, seedKey, variableId } from "../../../src/random/streams.ts";
import {
  addToLinearHistogram,
  type Bin,
  emptyLinearHistogram,
  LogHistogram,
  linearHistogramCount,
  mergeLinearHistogram,
  quantilesOfLinearHistogram,
} from "../../../src/stats/histogram.ts";
import { quantileOfSorted, sortedCopy } from "../../../src/stats/quantiles.ts";

function logHistogramOf(values: ArrayLike<number>): LogHistogram {
  const histogram = new LogHistogram();
  histogram.add(values);
  return histogram;
}

function bins(histogram: LogHistogram): Bin[] {
  const list: Bin[] = [];
  histogram.forEachBin((bin) => list.push(bin));
  return list;
}

const anyDouble = fc.double({ noNaN: true, noDefaultInfinity: true });
const column = fc.array(fc.oneof(anyDouble, fc.double({ min: -50, max: 50, noNaN: true }), fc.constant(0)), {
  maxLength: 80,
});

describe("the histogram for any range", () => {
  it("puts every double into a bin that holds it, no wider than 2^-10 of it, in rising order", () => {
    fc.assert(
      fc.property(anyDouble, (value) => {
        const [bin] = bins(logHistogramOf([value]));
        expect(bin.count).toBe(1);
        expect(bin.low <= value && value <= bin.high).toBe(true);
        if (Math.abs(value) > 1e-300) expect(bin.high - bin.low).toBeLessThanOrEqual(Math.abs(value) * 2 ** -10);
      }),
    );
    const list = bins(logHistogramOf([3, -2, 0, 1e-9, -1e9, 3, 0]));
    expect(list.map((bin) => bin.count)).toEqual([1, 1, 2, 1, 2]);
    for (let index = 1; index < list.length; index += 1)
      expect(list[index].low).toBeGreaterThanOrEqual(list[index - 1].high);
  });
  it("merges to the same counts, to the bit, in any order and grouping, as in one go", () => {
    fc.assert(
      fc.property(column, column, column, (a, b, c) => {
        const whole = logHistogramOf([...a, ...b, ...c]).toState();
        const forward = logHistogramOf(a);
        forward.merge(logHistogramOf(b));
        forward.merge(logHistogramOf(c));
        const tail = logHistogramOf(c);
        tail.merge(logHistogramOf(b));
        tail.merge(logHistogramOf(a));
        expect(forward.toState()).toEqual(whole);
        expect(tail.toState()).toEqual(whole);
      }),
    );
  });
  it("travels as plain data and comes back the same", () => {
    fc.assert(
      fc.property(column, (values) => {
        const histogram = logHistogramOf(values);
        const back = LogHistogram.fromState(structuredClone(histogram.toState()));
        expect(back.toState()).toEqual(histogram.toState());
        expect(back.count).toBe(values.length);
        for (const p of [0, 0.2, 0.5, 1]) expect(back.quantile(p)).toBe(histogram.quantile(p));
      }),
    );
  });
  it("gives quantiles within 2^-10 of the sorted sample's own (type 7), extremes exactly", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1e-3, max: 1e5, noNaN: true }), { minLength: 1, maxLength: 200 }),
        (values) => {
          const sorted = sortedCopy(Float64Array.from(values));
          const histogram = logHistogramOf(values);
          expect(histogram.quantile(0)).toBe(sorted[0]);
          expect(histogram.quantile(1)).toBe(sorted[sorted.length - 1]);
          for (const p of [0.01, 0.25, 0.5, 0.9]) {
            const exact = quantileOfSorted(sorted, p);
            // Both order statistics between which it interpolates lie within a bin's width of their own.
            const scale = sorted[Math.min(sorted.length - 1, Math.ceil((sorted.length - 1) * p))];
            expect(Math.abs(histogram.quantile(p) - exact)).toBeLessThanOrEqual(scale * 2 ** -10);
          }
        },
      ),
    );
  });
  it("in a large sample interpolation beats the width of the bins by far", () => {
    const u = new Float64Array(4096);
    const histogram = new LogHistogram();
    for (let block = 0; block < 50; block += 1) {
      fillUniform(seedKey("histogram"), variableId("x"), block, u);
      histogram.add(u.map((p) => 100 + 10 * normalQuantile(p)));
    }
    // Standard error of the median 10·1.2533/√204800 = 0.028; 5 of them (false alarm 6e-7, seed fixed).
    expect(Math.abs(histogram.quantile(0.5) - 100)).toBeLessThan(0.14);
    expect(histogram.cdf(100)).toBeCloseTo(0.5, 2);
  });
  it("counts zeros exactly, values that are not finite apart, and only what is selected", () => {
    const histogram = new LogHistogram();
    histogram.add([0, -0, 5, Number.NaN, Number.POSITIVE_INFINITY, 7], 6, [1, 1, 1, 1, 1, 0]);
    expect(histogram.zeros).toBe(2);
    expect(histogram.count).toBe(3);
    expect(histogram.notFinite).toBe(2);
    expect(histogram.max).toBe(5);
    expect(histogram.quantile(0)).toBe(0);
    expect(histogram.quantile(0.25)).toBe(0);
    expect(histogram.cdf(0)).toBeCloseTo(2 / 3, 14);
    expect(new LogHistogram().quantile(0.5)).toBeNaN();
    expect(new LogHistogram().cdf(1)).toBeNaN();
    expect(() => histogram.quantile(2)).toThrow(InternalError);
  });
});

describe("the histogram of equal bins", () => {
  const of = (values: readonly number[]) => {
    const histogram = emptyLinearHistogram(-10, 10, 16);
    addToLinearHistogram(histogram, values);
    return histogram;
  };
  it("bins are closed below and open above, the last one closed; what lies outside is counted", () => {
    const histogram = emptyLinearHistogram(0, 4, 4);
    addToLinearHistogram(histogram, [0, 0.999, 1, 3, 4, -0.001, 4.001, Number.NaN]);
    expect(Array.from(histogram.counts)).toEqual([2, 1, 0, 2]);
    expect([histogram.under, histogram.over, histogram.notFinite]).toEqual([1, 1, 1]);
    expect(linearHistogramCount(histogram)).toBe(7);
    expect([histogram.min, histogram.max]).toEqual([-0.001, 4.001]);
  });
  it("merges to the same counts, to the bit, in any order", () => {
    const values = fc.array(fc.double({ min: -12, max: 12, noNaN: true }), { maxLength: 60 });
    fc.assert(
      fc.property(values, values, (a, b) => {
        const forward = of(a);
        mergeLinearHistogram(forward, of(b));
        const back = of(b);
        mergeLinearHistogram(back, of(a));
        expect(forward).toEqual(of([...a, ...b]));
        expect(back).toEqual(forward);
      }),
    );
  });
  it("gives quantiles within a bin's width of the sorted sample's own (type 7)", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: 1, maxLength: 200 }),
        (values) => {
          const sorted = sortedCopy(Float64Array.from(values));
          const histogram = of(values);
          for (const p of [0, 0.1, 0.5, 0.95, 1]) {
            expect(
              Math.abs(quantilesOfLinearHistogram(histogram)(p) - quantileOfSorted(sorted, p)),
            ).toBeLessThanOrEqual(1.25);
          }
          expect(quantilesOfLinearHistogram(histogram)(0)).toBe(sorted[0]);
        },
      ),
    );
    expect(quantilesOfLinearHistogram(of([]))(0.5)).toBeNaN();
  });
  it("refuses a reversed range, no bins, and to merge unlike ones", () => {
    expect(() => emptyLinearHistogram(1, 1, 4)).toThrow(InternalError);
    expect(() => emptyLinearHistogram(0, 1, 0)).toThrow(InternalError);
    expect(() => mergeLinearHistogram(of([]), emptyLinearHistogram(-10, 10, 8))).toThrow(InternalError);
  });
});
