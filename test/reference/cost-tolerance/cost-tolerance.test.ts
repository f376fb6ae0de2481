import { describe, expect, it } from "vitest";
import {
  allocateTolerances,
  type CostCurve,
  chooseSteps,
  costOf,
  type FreeTolerance,
} from "../../../src/stats/tolerance-allocation.ts";

const free = (curve: CostCurve, weight = 1): FreeTolerance => ({ curve, weight, low: 1e-9, high: 10 });
const power = (b: number, k: number, a = 0): CostCurve => ({ kind: "power", a, b, k });
const total = (parts: readonly FreeTolerance[], ts: Float64Array) =>
  parts.reduce((sum, { curve }, i) => sum + costOf(curve, ts[i]), 0);

/** ADCATS 99-6: dimensions B, D, E, F are free (inch, $); A, C, G stand at 0.0015, 0.0025, 0.0025. Bearing widths carry no sign here. */
const ADCATS = [
  power(0.15997, 0.43899, 1),
  power(0.07202, 0.46823, 1),
  power(0.12576, 0.46537, 1),
  power(0.07202, 0.46823, 1),
].map((curve) => free(curve));
const FIXED = [0.0015, 0.0025, 0.0025];
const GAP = 0.015;

describe("minimum-cost allocation (Chase, ADCATS 99-6)", () => {
  it("starts from the published cost of the drawing, $9.34", () => {
    expect(total(ADCATS, Float64Array.of(0.008, 0.002, 0.006, 0.002))).toBeCloseTo(9.336, 3);
  });

  it("worst case: tolerances .002537 .001734 .002495 .001734, cost $11.07", () => {
    const budget = GAP - FIXED.reduce((sum, t) => sum + t, 0);
    const ts = allocateTolerances(ADCATS, budget, 1)!;
    for (const [i, t] of [0.002537, 0.001734, 0.002495, 0.001734].entries()) expect(ts[i]).toBeCloseTo(t, 6);
    expect(Math.abs(total(ADCATS, ts) - 11.07)).toBeLessThan(0.01);
    expect(ts.reduce((sum, t) => sum + t, 0)).toBeCloseTo(budget, 12);
  });

  it("root sum square: tolerances .00811 .00637 .00792 .00637, cost $8.06", () => {
    const budget = Math.sqrt(GAP * GAP - FIXED.reduce((sum, t) => sum + t * t, 0));
    const ts = allocateTolerances(ADCATS, budget, 2)!;
    for (const [i, t] of [0.00811, 0.00637, 0.00792, 0.00637].entries()) expect(Math.abs(ts[i] - t)).toBeLessThan(2e-5);
    expect(Math.abs(total(ADCATS, ts) - 8.06)).toBeLessThan(0.01);
  });

  it("the stack itself: nominal .020, worst case .0245, root sum square .01108 (published)", () => {
    const nominal = -0.0505 + 8 - 0.5093 + 0.4 - 7.711 + 0.4 - 0.5093;
    const ts = [0.0015, 0.008, 0.0025, 0.002, 0.006, 0.002, 0.0025];
    expect(nominal).toBeCloseTo(0.0199, 10);
    expect(ts.reduce((sum, t) => sum + t, 0)).toBeCloseTo(0.0245, 10);
    expect(Math.sqrt(ts.reduce((sum, t) => sum + t * t, 0))).toBeCloseTo(0.0110793, 7);
  });
});

describe("optima that can be solved by hand", () => {
  it("B = 1, 8, 27 with k = 2, worst case 6e-3: 1e-3, 2e-3, 3e-3, cost 6e6", () => {
    const parts = [1, 8, 27].map((b) => free(power(b, 2)));
    const ts = allocateTolerances(parts, 6e-3, 1)!;
    for (const [i, t] of [1e-3, 2e-3, 3e-3].entries()) expect(ts[i] / t).toBeCloseTo(1, 9);
    expect(total(parts, ts) / 6e6).toBeCloseTo(1, 9);
  });

  it("k = 1, root sum square 6e-3: in proportion 1:2:3, cost 8730.5339", () => {
    const parts = [1, 8, 27].map((b) => free(power(b, 1)));
    const ts = allocateTolerances(parts, 6e-3, 2)!;
    for (const [i, t] of [1.60357e-3, 3.20713e-3, 4.8107e-3].entries()) expect(ts[i]).toBeCloseTo(t, 8);
    expect(total(parts, ts)).toBeCloseTo(8730.5339, 4);
  });

  it("k = 2, root sum square: cost 2262306.557", () => {
    const parts = [1, 8, 27].map((b) => free(power(b, 2)));
    expect(total(parts, allocateTolerances(parts, 6e-3, 2)!)).toBeCloseTo(2262306.557, 2);
  });

  it("exponential curves: .01949697, .01667996, .01382307, cost 2.60914825", () => {
    const parts = [10, 20, 30].map((a) => free({ kind: "exponential", a, b: 10 * a }));
    const ts = allocateTolerances(parts, 0.05, 1)!;
    for (const [i, t] of [0.01949697, 0.01667996, 0.01382307].entries()) expect(ts[i]).toBeCloseTo(t, 8);
    expect(total(parts, ts)).toBeCloseTo(2.60914825, 8);
  });

  it("a weight c counts as t·c: three members of weight 2 with R are three of weight 1 with R/2", () => {
    const ones = allocateTolerances(
      [1, 8, 27].map((b) => free(power(b, 1))),
      3e-3,
      2,
    )!;
    const twos = allocateTolerances(
      [1, 8, 27].map((b) => free(power(b, 1), 2)),
      6e-3,
      2,
    )!;
    for (let i = 0; i < 3; i += 1) expect(twos[i] / ones[i]).toBeCloseTo(1, 9);
  });

  it("holds the ends of a tolerance, and says so when even the tightest are too wide", () => {
    const parts = [1, 8, 27].map((b) => ({ ...free(power(b, 2)), high: 2.5e-3 }));
    const ts = allocateTolerances(parts, 6e-3, 1)!;
    expect(ts[2]).toBe(2.5e-3);
    // What is left, 3.5e-3, goes 1:2 to the others.
    expect(ts[1] / ts[0]).toBeCloseTo(2, 8);
    expect(allocateTolerances([{ ...parts[0], low: 0.01 }], 6e-3, 1)).toBeNull();
  });
});

describe("steps", () => {
  it("are the cheapest of all sets that fit, as a look at every one of 4^5 sets finds", () => {
    const parts = [1, 3, 2, 5, 4].map((b, part) => ({
      weight: part === 2 ? 2 : 1,
      steps: [2, 4, 7, 11].map((t) => ({
        name: `${t}`,
        tolerance: t,
        price: Math.round(1000 * (b / t + 0.03 * part)),
      })),
    }));
    for (const [budget, exponent] of [
      [12, 2],
      [18, 2],
      [25, 1],
      [40, 1],
    ]) {
      const found = chooseSteps(parts, budget, exponent)!;
      let least = Number.POSITIVE_INFINITY;
      for (let code = 0; code < 4 ** 5; code += 1) {
        const places = parts.map((_, i) => Math.floor(code / 4 ** i) % 4);
        const taken = parts.reduce(
          (sum, { weight, steps }, i) => sum + (weight * steps[places[i]].tolerance) ** exponent,
          0,
        );
        const price = parts.reduce((sum, { steps }, i) => sum + steps[places[i]].price, 0);
        if (taken <= budget ** exponent && price < least) least = price;
      }
      const price = parts.reduce((sum, { steps }, i) => sum + steps[found.chosen[i]].price, 0);
      expect(price).toBe(least);
      expect(found.isProven).toBe(true);
    }
    expect(chooseSteps(parts, 3, 2)).toBeNull();
  });
});
