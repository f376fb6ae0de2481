import { describe, expect, test } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { acceptanceOfBatch, shareAtAcceptance } from "../../../src/stats/acceptance-sampling.ts";
import { betaBinomialProbabilities, binomialProbability, binomialQuantile } from "../../../src/stats/batch-counts.ts";
import { capabilityOf } from "../../../src/stats/capability.ts";
import { conformanceProbability, globalRisks } from "../../../src/stats/conformity.ts";
import { controlChart } from "../../../src/stats/control-chart.ts";
import { gaugeStudy, lotSpread } from "../../../src/stats/gauge-study.ts";
import { upperBoundOfShare } from "../../../src/stats/intervals.ts";
import {
  addToLinearHistogram,
  emptyLinearHistogram,
  quantilesOfLinearHistogram,
} from "../../../src/stats/linear-histogram.ts";
import { LogHistogram, logBinKey } from "../../../src/stats/log-histogram.ts";
import { coverChance, stockFor } from "../../../src/stats/stock.ts";
import { allocateTolerances, chooseSteps, costOf, costSlope } from "../../../src/stats/tolerance-allocation.ts";
import {
  coverageOfExtremes,
  oneSidedToleranceFactor,
  twoSidedToleranceFactor,
} from "../../../src/stats/tolerance-interval.ts";
import { combineUncertainty } from "../../../src/stats/uncertainty-budget.ts";

describe("counts at the ends of their range", () => {
  test("with a chance of 0 none fails and with 1 all do", () => {
    expect([0, 1, 4].map((k) => binomialProbability(k, 4, 0))).toEqual([1, 0, 0]);
    expect([0, 3, 4].map((k) => binomialProbability(k, 4, 1))).toEqual([0, 0, 1]);
    expect([binomialQuantile(0, 9, 0.4), binomialQuantile(1, 9, 0.4), binomialQuantile(1, 9, 0)]).toEqual([0, 9, 0]);
  });

  test("a J-shaped beta puts the likeliest count at the end: shapes 2, 1 rise as (k + 1), shapes 1, 2 fall as (n − k + 1)", () => {
    // P(k) = (k + 1)/Σ(j + 1) for α = 2, β = 1 (Johnson, Kemp and Kotz, 6.2.2, with B(k + 2, n − k + 1)).
    const rising = betaBinomialProbabilities(5, 2, 1);
    const falling = betaBinomialProbabilities(5, 1, 2);
    for (let k = 0; k <= 5; k += 1) {
      expect(rising[k]).toBeCloseTo((k + 1) / 21, 14);
      expect(falling[k]).toBeCloseTo((6 - k) / 21, 14);
    }
  });

  test("an upper bound after all of n failed is 1", () => {
    expect(upperBoundOfShare(5, 5)).toBe(1);
    expect(upperBoundOfShare(0, 59)).toBeCloseTo(1 - 0.05 ** (1 / 59), 12);
  });
});

test("what cannot be asked for is a fault of the program", () => {
  const faults: readonly (() => unknown)[] = [
    () => shareAtAcceptance(10, 10, 0.5),
    () => shareAtAcceptance(10, 1, 1),
    () => acceptanceOfBatch(11, 1, 10, 2),
    () => acceptanceOfBatch(5, 1, 10, 11),
    () => binomialProbability(1, 2.5, 0.5),
    () => binomialProbability(1, 2, 1.5),
    () => betaBinomialProbabilities(2e7, 1, 1),
    () => betaBinomialProbabilities(5, 0, 1),
    () => capabilityOf(1, 0, [1, 1], 0, 2),
    () => conformanceProbability(1, -1, 0, 2),
    () => gaugeStudy([]),
    () => gaugeStudy([[[1, 2]], [[1]]]),
    () => gaugeStudy([[], []]),
    () => upperBoundOfShare(1, 5, 1),
    () => quantilesOfLinearHistogram(emptyLinearHistogram(0, 1, 4))(1.5),
    () => coverChance(3, [0.5, 0.5], [1]),
    () => chooseSteps([{ weight: 1, steps: [] }], 1, 1),
    () => oneSidedToleranceFactor(10, 1, 0.95),
    () => twoSidedToleranceFactor(1, 0.9, 0.95),
    () => combineUncertainty([], 1),
  ];
  for (const fault of faults) expect(fault, String(fault)).toThrow(InternalError);
});

test("values outside the limits are counted on their own side", () => {
  const values = [1, 2, 3, 4, 5, 6, 9];
  expect(capabilityOf(30 / 7, 2.7, values, 2.5, 5.5).counted).toEqual({ below: 2, above: 2 });
});

test("tolerance wider than the process by far: no risk to either side (JCGM 106, 9.5: R_C and R_P vanish)", () => {
  const wide = { low: -100, high: 100 };
  const risks = globalRisks({ mean: 0, sd: 1 }, 0.1, wide, wide);
  expect(Math.max(risks.consumerRiskRatio, risks.producerRiskRatio, risks.nonconformingRatio)).toBeLessThan(1e-15);
});

test("values that are all alike break no rule of a control chart", () => {
  expect(controlChart(new Array<number>(12).fill(3)).signals).toEqual([]);
});

describe("a gauge", () => {
  test("read by one operator: the one-way analysis, s_part² = (MS_P − MS_E)/r, no part of an operator", () => {
    // Parts 10 and 12, repeats ±0.5: MS_P = 2·(1 + 1) = 4, MS_E = (4·0.25)/2 = 0.5; s_part² = 3.5/2.
    const study = gaugeStudy([[[9.5, 10.5]], [[11.5, 12.5]]]);
    expect(study.partVariance).toBeCloseTo(1.75, 12);
    expect(study.repeatabilityVariance).toBeCloseTo(0.5, 12);
    expect([study.operatorVariance, study.interactionVariance]).toEqual([0, 0]);
    expect(study.contributionRatio).toBeCloseTo(0.5 / 2.25, 12);
  });

  test("that always reads the same has no ratio to anything", () => {
    const study = gaugeStudy([[[5, 5]], [[5, 5]]]);
    expect([study.contributionRatio, study.studyRatio]).toEqual([Number.NaN, Number.NaN]);
  });

  test("lots without any spread share nothing", () => {
    expect(
      lotSpread([
        [3, 3],
        [3, 3],
      ]),
    ).toEqual({ lots: 2, withinSd: 0, betweenSd: 0, batchShareRatio: 0 });
  });
});

describe("histograms", () => {
  test("of a range: only selected values, and quantiles below the range spread from the least value to it", () => {
    const histogram = emptyLinearHistogram(0, 10, 10);
    addToLinearHistogram(histogram, [-4, -3, -2, -1, 5, 99], 6, [1, 1, 1, 1, 1, 0]);
    expect([histogram.under, histogram.over, histogram.max]).toEqual([4, 0, 5]);
    // Rank 2 of the four below: −4 + (2.5/4)·4.
    expect(quantilesOfLinearHistogram(histogram)(0.5)).toBeCloseTo(-1.5, 12);
  });

  test("without a range: counts made elsewhere are the same as the values counted here", () => {
    const here = new LogHistogram();
    here.add([1, 1.0001, 1.5, 0]);
    const there = new LogHistogram();
    const counts = new Float64Array(1024);
    counts[0] = 2;
    counts[512] = 1;
    there.add([0]);
    there.addCounted(counts, logBinKey(0), 1, 1.5);
    expect(there.toState()).toEqual(here.toState());
    there.addCounted(counts, logBinKey(0), 1, 1.5);
    expect(there.count).toBe(7);
  });

  test("the share up to a value: 0 below the least, 1 from the greatest on, in proportion inside a bin", () => {
    const histogram = new LogHistogram();
    histogram.add([-2, 1, 1, 4]);
    expect([-3, -2, 0, 2, 4, 5].map((x) => histogram.cdf(x))).toEqual([0, 0.25, 0.25, 0.75, 1, 1]);
    // Half-way through the bin from 1 to 1 + 2⁻¹⁰ with two of the four.
    expect(histogram.cdf(1 + 2 ** -11)).toBeCloseTo(0.5, 12);
    expect(new LogHistogram().cdf(1)).toBeNaN();
  });
});

describe("stock", () => {
  test("a kind that nobody asks for needs none, and its chance is that of the others", () => {
    expect(coverChance(4, [0.5, 0.5, 0], [4, 4, 0])).toBeCloseTo(1, 12);
    // P(at most 3 of each of two equal kinds, of 4) = 1 − 2·2⁻⁴.
    expect(coverChance(4, [0.5, 0.5, 0], [3, 3, 0])).toBeCloseTo(0.875, 12);
    expect(stockFor(4, [0.5, 0.5, 0], 0.99).stock).toEqual([4, 4, 0]);
  });

  test("a batch too large for the joint law is served kind by kind, with at least the chance asked for (Bonferroni)", () => {
    const { stock, coverRatio } = stockFor(3000, [0.5, 0.5], 0.95);
    expect(coverRatio).toBe(0.95);
    // 97.5 % of Bin(3000, ½): 1500 + 1.96·27.39 = 1553.7.
    expect(stock).toEqual([1554, 1554]);
    expect(coverChance(3000, [0.5, 0.5], stock)).toBeGreaterThan(0.95);
  });
});

describe("tolerances", () => {
  const reciprocal = { kind: "power", a: 0, b: 1, k: 1 } as const;
  const part = { curve: reciprocal, weight: 1, low: 1e-3, high: 10 };

  test("the slope of either cost curve is its derivative (central difference)", () => {
    for (const curve of [
      { kind: "power", a: 2, b: 3, k: 1.5 } as const,
      { kind: "exponential", a: 4, b: 0.7 } as const,
    ]) {
      const difference = (costOf(curve, 1.3 + 1e-5) - costOf(curve, 1.3 - 1e-5)) / 2e-5;
      expect(costSlope(curve, 1.3)).toBeCloseTo(difference, 8);
    }
  });

  test("a budget that all the widest fit in is not used up, and one that not the tightest fit in is none", () => {
    expect([...allocateTolerances([part, part], 25, 1)!]).toEqual([10, 10]);
    expect(allocateTolerances([part, part], 1e-3, 1)).toBeNull();
  });

  test("a part that takes nothing of the budget is made as wide as it may be", () => {
    const [free, other] = allocateTolerances([{ ...part, weight: 0 }, part], 2, 1)!;
    expect(free).toBe(10);
    expect(other).toBeCloseTo(2, 10);
  });

  test.each([1e-40, 1e40])(
    "money in units of %d: the same tolerances (Lagrange's conditions are without scale)",
    (unit) => {
      const curve = (b: number) => ({ kind: "power", a: 0, b: b * unit, k: 1 }) as const;
      const [one, four] = allocateTolerances(
        [
          { ...part, curve: curve(1) },
          { ...part, curve: curve(4) },
        ],
        3,
        1,
      )!;
      expect(one).toBeCloseTo(1, 9);
      expect(four).toBeCloseTo(2, 9);
    },
  );

  test("exponential costs: at an end where the saving is never, or always, worth the budget", () => {
    const steep = { kind: "exponential", a: 1000, b: 1 } as const;
    const flat = { kind: "exponential", a: 1e-9, b: 1 } as const;
    const [worth, never] = allocateTolerances(
      [
        { curve: steep, weight: 1, low: 1, high: 2 },
        { curve: flat, weight: 1, low: 1, high: 20 },
      ],
      3.5,
      1,
    )!;
    expect(worth).toBe(2);
    expect(never).toBeCloseTo(1.5, 9);
  });

  test("of two steps of one price the one that takes less stands", () => {
    const steps = [
      { name: "rough", tolerance: 3, price: 1 },
      { name: "fine", tolerance: 2, price: 1 },
    ];
    expect(chooseSteps([{ weight: 1, steps }], 2.5, 1)).toEqual({ chosen: [1], isProven: true });
    expect(chooseSteps([{ weight: 1, steps }], 1, 1)).toBeNull();
  });

  test("a single value holds nothing between its extremes; n values hold the share x with n·x^(n−1) − (n−1)·x^n = 1 − confidence", () => {
    expect(coverageOfExtremes(1, 0.95)).toBe(0);
    const share = coverageOfExtremes(10, 0.95);
    expect(10 * share ** 9 - 9 * share ** 10).toBeCloseTo(0.05, 10);
  });
});
