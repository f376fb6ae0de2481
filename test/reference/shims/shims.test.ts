import { describe, expect, it } from "vitest";
import { normalQuantile } from "../../../src/numeric/special.ts";
import { binomialCdf } from "../../../src/stats/batch-counts.ts";
import { coverChance, stockFor } from "../../../src/stats/stock.ts";
import { applyShims, type ShimUnits } from "../../../src/studies/decide/shim-units.ts";

/** Units whose offset misses the aim by a normal amount, as a grid of equal probabilities; every offset is good. */
function normalUnits(sd: number, count: number): ShimUnits {
  const column = (value: number) => new Float64Array(count).fill(value);
  return {
    count,
    machinedMm: Float64Array.from({ length: count }, (_, i) => sd * normalQuantile((i + 0.5) / count)),
    onsetMm: column(0),
    lowMm: column(-1e9),
    highMm: column(1e9),
    benchLowMm: column(-1e9),
    benchHighMm: column(1e9),
  };
}

describe("what shims leave", () => {
  it("a step as large as the spread: classes .382925 .241730 .060598 .005977, residual .28867513 of it", () => {
    const units = normalUnits(1, 200_001);
    const rule = { measure: "dimensions", stepMm: 1, aimMm: 0 } as const;
    const { classes, residualSdMm } = applyShims(units, rule, new Float64Array(units.count));
    for (const [steps, share] of [0.382925, 0.24173, 0.060598, 0.005977].entries()) {
      expect(classes.get(steps)! / units.count).toBeCloseTo(share, 5);
      expect(classes.get(-steps || 0)! / units.count).toBeCloseTo(share, 5);
    }
    expect(residualSdMm).toBeCloseTo(0.28867513, 4);
  });

  it.each([
    [0.2, 0.05, 0.0763762616],
    [0.5, 0.1, 0.1755942292],
  ])("a step of %f with a measuring error of %f: sd %f", (stepMm, errorSd, sd) => {
    // Errors in an order of their own, so that the two are independent: a lattice of full period.
    const n = 100_003;
    const units = normalUnits(1, n);
    const error = Float64Array.from({ length: n }, (_, i) => errorSd * normalQuantile((((i * 61_803) % n) + 0.5) / n));
    const { residualSdMm } = applyShims(units, { measure: "dimensions", stepMm, aimMm: 0 }, error);
    expect(Math.abs(residualSdMm / sd - 1)).toBeLessThan(2e-3);
  });
});

describe("the stock of a batch", () => {
  it("23 birthdays of 365 are all different with 0.4927", () => {
    const days = new Array<number>(365).fill(1 / 365);
    expect(coverChance(23, days, new Array<number>(365).fill(1))).toBeCloseTo(0.4927027657, 9);
  });

  it("two kinds are a binomial", () => {
    const cover = coverChance(40, [0.3, 0.7], [15, 33]);
    expect(cover).toBeCloseTo(binomialCdf(15, 40, 0.3) - binomialCdf(6, 40, 0.3), 12);
  });

  it("three kinds are the sum over all outcomes", () => {
    const [p, q, r] = [0.5, 0.3, 0.2];
    const factorial = (k: number): number => (k < 2 ? 1 : k * factorial(k - 1));
    let sum = 0;
    for (let a = 0; a <= 6; a += 1) {
      for (let b = 0; b <= 4; b += 1) {
        const c = 10 - a - b;
        if (c < 0 || c > 3) continue;
        sum += (factorial(10) / (factorial(a) * factorial(b) * factorial(c))) * p ** a * q ** b * r ** c;
      }
    }
    expect(coverChance(10, [p, q, r], [6, 4, 3])).toBeCloseTo(sum, 12);
  });

  it("is enough, and not enough with one less of the most used kind", () => {
    const shares = [0.05, 0.25, 0.4, 0.25, 0.05];
    const { stock, coverRatio } = stockFor(400, shares, 0.95);
    expect(coverRatio).toBeGreaterThanOrEqual(0.95);
    expect(coverChance(400, shares, stock)).toBeCloseTo(coverRatio, 12);
    expect(
      coverChance(
        400,
        shares,
        stock.map((kept) => kept - 1),
      ),
    ).toBeLessThan(0.95);
  });
});
