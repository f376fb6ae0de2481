import { expect, test } from "vitest";
import type { Distribution } from "../../../src/distributions/types.ts";
import { sumLaw } from "../../../src/reliability/sum-law.ts";

/** The beta law with both shapes ½ is the arcsine law (N. L. Johnson, S. Kotz, N. Balakrishnan, 1995, ch. 25). */
test("a U-shaped beta law of shapes ½ adds up as the arcsine law that it is, with a rectangle and with itself", () => {
  const arcsine: Distribution = { kind: "arcsine", low: 0, high: 1 };
  const beta: Distribution = { kind: "skewed", low: 0, high: 1, alpha: 0.5, beta: 0.5 };
  const rectangle: Distribution = { kind: "uniform", low: -0.2, high: 0.3 };
  const of = (distribution: Distribution, factor = 1) => ({ distribution, factor });
  for (const [one, other] of [
    [sumLaw([of(arcsine), of(rectangle)]), sumLaw([of(beta), of(rectangle)])],
    [sumLaw([of(arcsine), of(arcsine, -2)]), sumLaw([of(beta), of(beta, -2)])],
  ]) {
    for (let k = 1; k < 40; k += 1) {
      const x = one.low + ((one.high - one.low) * k) / 40;
      expect(Math.abs(other.cdf(x) - one.cdf(x))).toBeLessThan(1e-9);
      expect(Math.abs(other.survival(x) - one.survival(x))).toBeLessThan(1e-9);
    }
  }
});

/** x = ½·sin² …: the law of two unlike ends, by its own moments: mean α/(α + β) of each, variances add. */
test("a beta law with one steep end keeps mean and variance in a sum", () => {
  const beta: Distribution = { kind: "skewed", low: 0, high: 1, alpha: 0.4, beta: 3 };
  const law = sumLaw([
    { distribution: beta, factor: 1 },
    { distribution: { kind: "uniform", low: 0, high: 0.5 }, factor: 1 },
  ]);
  expect(law.mean).toBeCloseTo(0.4 / 3.4 + 0.25, 12);
  expect(law.standardDeviation ** 2).toBeCloseTo((0.4 * 3) / (3.4 ** 2 * 4.4) + 0.25 / 12, 12);
  const column = Float64Array.from({ length: 20_000 }, (_, i) => (i + 0.5) / 20_000);
  law.transform(column, column.length);
  const mean = column.reduce((sum, x) => sum + x, 0) / column.length;
  expect(mean).toBeCloseTo(law.mean, 5);
  expect([law.quantile(0), law.quantile(1), law.upperQuantile(0), law.upperQuantile(1)]).toEqual([0, 1.5, 1.5, 0]);
});
