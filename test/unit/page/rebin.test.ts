import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rebin } from "../../../src/page/model/rebin.ts";
import { LogHistogram } from "../../../src/stats/log-histogram.ts";

describe("fine bins put into those of an axis", () => {
  it("keeps every unit: inside, below, above or exactly zero", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -500, max: 2000, noNaN: true }), { minLength: 1, maxLength: 200 }),
        (values) => {
          const histogram = new LogHistogram();
          histogram.add(Float64Array.from(values));
          const { shares, belowRatio, zeroRatio, aboveRatio } = rebin(histogram.toState(), 0, 800, 40);
          const sum = shares.reduce((total, share) => total + share, 0) + belowRatio + zeroRatio + aboveRatio;
          expect(sum).toBeCloseTo(1, 9);
          expect(zeroRatio).toBeCloseTo(values.filter((value) => value === 0).length / values.length, 12);
        },
      ),
    );
  });

  it("counts as plain counting does, to the width of the fine bins (2^-10 of a value)", () => {
    const values = Float64Array.from({ length: 5000 }, (_, index) => 10 + (index * 380) / 5000);
    const histogram = new LogHistogram();
    histogram.add(values);
    const { shares } = rebin(histogram.toState(), 0, 400, 20);
    for (const [bin, share] of shares.entries()) {
      const plain = values.filter((value) => value >= bin * 20 && value < (bin + 1) * 20).length / values.length;
      expect(Math.abs(share - plain)).toBeLessThan(0.002);
    }
  });
});
