import { describe, expect, it } from "vitest";
import { prepare } from "../../../src/distributions/prepare.ts";
import { normalCdf, normalPdf } from "../../../src/numeric/special.ts";
import { probabilityBetween } from "../../../src/reliability/probability-between.ts";

const normal = prepare({ kind: "normal", mean: 0, sd: 1 });

describe("probability of an interval", () => {
  it("whole line, half lines, empty and reversed intervals", () => {
    expect(probabilityBetween(normal, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY)).toBe(1);
    expect(probabilityBetween(normal, Number.NEGATIVE_INFINITY, -3)).toBe(normalCdf(-3));
    expect(probabilityBetween(normal, 3, Number.POSITIVE_INFINITY)).toBe(normalCdf(-3));
    expect(probabilityBetween(normal, 1, 1)).toBe(0);
    expect(probabilityBetween(normal, 2, 1)).toBe(0);
    expect(probabilityBetween(normal, Number.NaN, 1)).toBe(0);
  });
  it("1, 2 and 3 standard deviations: 0.6826894921370859, 0.9544997361036416, 0.9973002039367398 (printed tables)", () => {
    expect(probabilityBetween(normal, -1, 1)).toBeCloseTo(0.6826894921370859, 15);
    expect(probabilityBetween(normal, -2, 2)).toBeCloseTo(0.9544997361036416, 15);
    expect(probabilityBetween(normal, -3, 3)).toBeCloseTo(0.9973002039367398, 15);
  });
  it("the far tails are mirror images, to the last digits", () => {
    for (const [a, b] of [
      [8, 9],
      [20, 21],
      [5, 5.001],
    ]) {
      const upper = probabilityBetween(normal, a, b);
      expect(Math.abs(probabilityBetween(normal, -b, -a) / upper - 1)).toBeLessThan(1e-14);
      if (b - a === 1) expect(Math.abs(upper / (normalCdf(-a) - normalCdf(-b)) - 1)).toBeLessThan(1e-14);
    }
  });
  it("narrow intervals follow the density: h·φ(x)(1 + h²(x² - 1)/24), where the difference of the tails has lost ten digits", () => {
    for (const x of [-6, -0.4, 0.1, 2, 7]) {
      for (const h of [1e-3, 1e-5]) {
        const exact = h * normalPdf(x) * (1 + (h * h * (x * x - 1)) / 24);
        const found = probabilityBetween(normal, x - h / 2, x + h / 2);
        // The rounding of the ends themselves moves h by up to 2e-16·|x|/h.
        expect(Math.abs(found / exact - 1), `${x}, ${h}`).toBeLessThan(1e-12 + (4e-16 * Math.max(1, Math.abs(x))) / h);
      }
    }
  });
  it("a narrow interval over a kink or the end of a support is not integrated past it", () => {
    const triangle = prepare({ kind: "triangular", low: 0, mode: 1, high: 2 });
    expect(probabilityBetween(triangle, 0.999, 1.001)).toBeCloseTo(0.002 * (1 - 0.00025 * 2), 12);
    const flat = prepare({ kind: "uniform", low: 0, high: 1 });
    expect(probabilityBetween(flat, 0.9999, 1.0001)).toBeCloseTo(0.0001, 13);
    expect(probabilityBetween(flat, 5, 6)).toBe(0);
  });
});
