import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addToMoments,
  emptyMoments,
  excessKurtosis,
  mergeMoments,
  momentsOf,
  skewness,
  standardDeviation,
  variance,
} from "../../../src/stats/moments.ts";

describe("moments", () => {
  it("merge as worked by hand: {1..5} with {6, 8, 10}", () => {
    const moments = momentsOf([1, 2, 3, 4, 5]);
    expect(moments).toMatchObject({ count: 5, mean: 3, m2: 10, m3: 0, m4: 34, min: 1, max: 5 });
    const other = momentsOf([6, 8, 10]);
    expect(other).toMatchObject({ count: 3, mean: 8, m2: 8, m3: 0, m4: 32 });
    mergeMoments(moments, other);
    expect(moments).toMatchObject({ count: 8, mean: 4.875, m2: 64.875, min: 1, max: 10 });
    expect(moments.m3).toBeCloseTo(77.34375, 12);
    expect(moments.m4).toBeCloseTo(1093.587890625, 10);
  });
  it("the variance divides by n - 1 and is NaN below two values; no spread has no skew", () => {
    expect(variance(momentsOf([2, 4]))).toBe(2);
    expect(variance(momentsOf([2]))).toBeNaN();
    expect(standardDeviation(emptyMoments())).toBeNaN();
    const flat = momentsOf([0.1, 0.1, 0.1]);
    expect(standardDeviation(flat)).toBe(0);
    expect(skewness(flat)).toBe(0);
    expect(excessKurtosis(flat)).toBe(0);
  });
  it("an empty set changes nothing, and nothing merged with a set is the set", () => {
    const moments = momentsOf([3, 5, 9]);
    mergeMoments(moments, emptyMoments());
    expect(moments).toEqual(momentsOf([3, 5, 9]));
    const empty = emptyMoments();
    mergeMoments(empty, momentsOf([3, 5, 9]));
    expect(empty).toEqual(moments);
    expect(momentsOf([]).min).toBe(Number.POSITIVE_INFINITY);
  });
  it("counts only what is selected", () => {
    expect(momentsOf([1, 100, 3], 3, [1, 0, 1])).toEqual(momentsOf([1, 3]));
    expect(momentsOf([1, 3, 100], 2)).toEqual(momentsOf([1, 3]));
  });
  it("wherever a column is cut, the merged moments are those of the whole (to rounding)", () => {
    const column = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 2, maxLength: 60 });
    fc.assert(
      fc.property(column, fc.nat(60), (values, cut) => {
        const at = cut % values.length;
        const merged = momentsOf(values.slice(0, at));
        addToMoments(merged, values.slice(at));
        const whole = momentsOf(values);
        expect(merged.count).toBe(whole.count);
        expect(merged.min).toBe(whole.min);
        expect(merged.max).toBe(whole.max);
        expect(Math.abs(merged.mean - whole.mean)).toBeLessThan(1e-11);
        const scale = values.length * 1e-9;
        expect(Math.abs(merged.m2 - whole.m2)).toBeLessThan(scale);
        expect(Math.abs(merged.m3 - whole.m3)).toBeLessThan(scale * 2e3);
        expect(Math.abs(merged.m4 - whole.m4)).toBeLessThan(scale * 4e6);
      }),
    );
  });
});
