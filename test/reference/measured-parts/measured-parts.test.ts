import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { chiSquareQuantile } from "../../../src/numeric/chi-square.ts";
import { noncentralTCdf } from "../../../src/numeric/noncentral-t.ts";
import { studentTCdf } from "../../../src/numeric/special.ts";
import { chanceOfAdjusted, normalityTest } from "../../../src/stats/anderson-darling.ts";
import { capabilityLowerBound, capabilityOf, centredOutsideRatio } from "../../../src/stats/capability.ts";
import { controlChart } from "../../../src/stats/control-chart.ts";
import { deconvolve, gaugeStudy, lotSpread } from "../../../src/stats/gauge-study.ts";
import { momentsOf, standardDeviation } from "../../../src/stats/moments.ts";
import {
  coverageOfExtremes,
  oneSidedToleranceFactor,
  twoSidedToleranceFactor,
  wilksSampleSize,
} from "../../../src/stats/tolerance-interval.ts";
import cases from "./cases.json" with { type: "json" };

function test(values: readonly number[]) {
  const sorted = Float64Array.from(values).sort();
  const moments = momentsOf(sorted);
  return normalityTest(sorted, moments.mean, standardDeviation(moments));
}

function nist(file: string): number[] {
  const text = readFileSync(new URL(`../nist/${file}`, import.meta.url), "utf8");
  return text
    .split("\n")
    .slice(11)
    .map((line) => line.trim())
    .filter((line) => line !== "")
    .map(Number);
}

describe("Anderson-Darling test of a normal with estimated mean and sd", () => {
  // A², A* and p of the data by scipy; p by Stephens's piecewise exponentials.
  it.each([
    ["Michelso.dat", nist("Michelso.dat"), 0.460763856, 0.464323256, 0.254957],
    ["Lew.dat", nist("Lew.dat"), 6.000646916, 6.02348688, 8.3e-15],
    ["Shoshoni rectangles", cases.shoshoni, 1.186162983, 1.237316261, 0.00320943],
  ] as const)("of %s", (_, values, statistic, adjusted, p) => {
    const found = test(values);
    expect(found.statisticRatio).toBeCloseTo(statistic, 8);
    expect(found.adjustedRatio).toBeCloseTo(adjusted, 7);
    expect(Math.abs(found.pRatio / p - 1)).toBeLessThan(0.01);
  });

  it("gives the tabled chances at the tabled critical values (Stephens 1986, table 4.9)", () => {
    for (const [critical, level] of [
      [0.631, 0.1],
      [0.752, 0.05],
      [0.873, 0.025],
      [1.035, 0.01],
    ] as const) {
      expect(Math.abs(chanceOfAdjusted(critical) / level - 1)).toBeLessThan(0.02);
    }
  });

  it("falls from 1 to 0 without a step as the fit gets worse", () => {
    let last = chanceOfAdjusted(0.05);
    expect(last).toBeGreaterThan(0.99);
    for (let a = 0.06; a < 200; a *= 1.01) {
      const next = chanceOfAdjusted(a);
      expect(next).toBeLessThanOrEqual(last + 0.003);
      expect(last - next).toBeLessThan(0.03);
      last = next;
    }
    expect(last).toBe(0);
  });
});

describe("noncentral t and chi-square", () => {
  it("is the central t at no noncentrality", () => {
    for (const nu of [1, 2, 5, 30, 300]) {
      for (const t of [-4, -0.3, 0, 1.7, 6]) expect(noncentralTCdf(t, nu, 0)).toBeCloseTo(studentTCdf(t, nu), 11);
    }
  });

  it("has the tabled quantiles of chi-square (any table)", () => {
    expect(chiSquareQuantile(0.95, 10)).toBeCloseTo(18.307, 3);
    expect(chiSquareQuantile(0.025, 24)).toBeCloseTo(12.401, 3);
    expect(chiSquareQuantile(0.99, 1)).toBeCloseTo(6.635, 3);
    expect(chiSquareQuantile(0.05, 1)).toBeCloseTo(0.00393, 5);
  });
});

describe("tolerance intervals of a normal", () => {
  it("has the one-sided factor of the NIST handbook 7.2.6.3 (1.8740, exact 1.873954)", () => {
    expect(oneSidedToleranceFactor(43, 0.9, 0.99)).toBeCloseTo(1.873954, 6);
  });

  it("has the exact two-sided factor of the same case", () => {
    expect(twoSidedToleranceFactor(43, 0.9, 0.99)).toBeCloseTo(2.222825, 6);
  });

  it.each(Object.entries(cases.twoSided95Confidence))("two-sided, coverage %s, confidence 0.95", (coverage, table) => {
    for (const [n, factor] of Object.entries(table)) {
      expect(twoSidedToleranceFactor(Number(n), Number(coverage), 0.95)).toBeCloseTo(factor, 4);
    }
  });

  it("one-sided 0.95 with confidence 0.95", () => {
    for (const [n, factor] of Object.entries(cases.oneSided9595)) {
      expect(Math.abs(oneSidedToleranceFactor(Number(n), 0.95, 0.95) - factor)).toBeLessThan(6e-5);
    }
  });

  it("has Wilks's sample sizes", () => {
    expect([1, 2, 3, 4, 5, 6].map((m) => wilksSampleSize(0.95, 0.95, 1, m))).toEqual([59, 93, 124, 153, 181, 208]);
    expect([1, 2, 3].map((m) => wilksSampleSize(0.95, 0.95, 2, m))).toEqual([93, 153, 208]);
    expect(wilksSampleSize(0.99, 0.95, 1)).toBe(299);
    expect(wilksSampleSize(0.99, 0.95, 2)).toBe(473);
    expect(wilksSampleSize(0.95, 0.99, 2)).toBe(130);
    expect(wilksSampleSize(0.9, 0.95, 2)).toBe(46);
    expect(wilksSampleSize(0.9973, 0.95, 1)).toBe(1109);
  });

  it("says of 93 parts that their extremes hold 95 %, and of 92 that they do not", () => {
    expect(coverageOfExtremes(93, 0.95)).toBeGreaterThan(0.95);
    expect(coverageOfExtremes(92, 0.95)).toBeLessThan(0.95);
  });
});

describe("capability", () => {
  const spread = (mean: number, sd: number, n: number) => {
    // Two values either side give any mean and sd (divisor n − 1) exactly.
    const half = sd * Math.sqrt((n - 1) / n);
    return Array.from({ length: n }, (_, i) => mean + (i % 2 === 0 ? half : -half));
  };

  it("is that of the NIST handbook 6.1.6: USL 20, LSL 8, mean 16, sd 2 give Cp 1 and Cpk 0.6667", () => {
    const { Cp, Cpk } = capabilityOf(16, 2, spread(16, 2, 50), 8, 20);
    expect(Cp.valueRatio).toBeCloseTo(1, 12);
    expect(Cpk.valueRatio).toBeCloseTo(2 / 3, 12);
  });

  // Printed with z = 1.96, hence five decimals.
  it("has Bissell's interval: n 50, Cpk 1.33 from 1.05093 to 1.60907", () => {
    const { Cpk } = capabilityOf(0, 1, spread(0, 1, 50), -3.99, 3.99);
    expect(Cpk.lowRatio).toBeCloseTo(1.050934, 4);
    expect(Cpk.highRatio).toBeCloseTo(1.609066, 4);
  });

  it("has exact lower bounds (noncentral t by scipy)", () => {
    expect(capabilityLowerBound(1, 30)).toBeCloseTo(0.758372, 6);
    expect(capabilityLowerBound(1.33, 50)).toBeCloseTo(1.09307, 6);
    expect(capabilityLowerBound(1.33, 100)).toBeCloseTo(1.163692, 6);
  });

  it.each([
    [0.5, 133614.4],
    [2 / 3, 45500.2639],
    [1, 2699.796063],
    [1.1, 966.8483],
    [4 / 3, 63.34248367],
    [5 / 3, 0.5733031438],
    [2, 0.00197317529],
  ])("Cp %d leaves %d ppm outside (table of the normal)", (cp, ppm) => {
    expect(Math.abs((1e6 * centredOutsideRatio(cp)) / ppm - 1)).toBeLessThan(1e-6);
  });
});

describe("gauge study of Houf and Berman (10 parts, 3 operators, 3 readings)", () => {
  const study = gaugeStudy(cases.gaugeReadings);

  it("has the sums of squares of the analysis of variance", () => {
    const squares = [3935.955556, 39.266667, 48.511111, 30.666667];
    study.rows.forEach(({ squares: found }, index) => {
      expect(found).toBeCloseTo(squares[index], 6);
    });
    expect(study.rows.map(({ degreesOfFreedom }) => degreesOfFreedom)).toEqual([9, 2, 18, 60]);
  });

  it("has the variance components", () => {
    expect(study.partVariance).toBeCloseTo(48.292593, 6);
    expect(study.operatorVariance).toBeCloseTo(0.564609, 6);
    expect(study.interactionVariance).toBeCloseTo(0.727984, 6);
    expect(study.repeatabilityVariance).toBeCloseTo(0.511111, 6);
    expect(study.gaugeVariance).toBeCloseTo(1.803704, 6);
    expect(study.contributionRatio).toBeCloseTo(0.036, 4);
    expect(study.studyRatio).toBeCloseTo(0.18975, 5);
    expect(Math.floor(study.distinctCategories)).toBe(7);
  });

  it("takes the gauge out of a spread and clamps at nothing", () => {
    expect(deconvolve(5, 3)).toEqual({ observedSd: 5, gaugeSd: 3, partSd: 4, clamped: false });
    expect(deconvolve(2, 3)).toMatchObject({ partSd: 0, clamped: true });
  });
});

describe("spread between and within lots", () => {
  it("is that of the one-way analysis of variance by hand: lots 1 2 3, 4 5 6, 7 8 9", () => {
    // MS between 27, within 1: (27 − 1)/3 between, 1 within.
    const found = lotSpread([
      [1, 2, 3],
      [4, 5, 6],
      [7, 8, 9],
    ]);
    expect(found?.betweenSd).toBeCloseTo(Math.sqrt(26 / 3), 12);
    expect(found?.withinSd).toBeCloseTo(1, 12);
    expect(found?.batchShareRatio).toBeCloseTo(26 / 29, 12);
  });

  it("is not told from one lot, and is nothing where lots are alike", () => {
    expect(lotSpread([[1, 2, 3]])).toBeNull();
    expect(
      lotSpread([
        [1, 2, 3],
        [1, 2, 3],
      ])?.batchShareRatio,
    ).toBe(0);
  });
});

describe("chart of individuals", () => {
  it("has limits at 2.66 mean moving ranges and 3.267 of them for the ranges (ISO 7870-2, from memory)", () => {
    const chart = controlChart([10, 12, 9, 11, 10, 13, 10, 11]);
    const ranges = [2, 3, 2, 1, 3, 3, 1];
    const mean = ranges.reduce((sum, x) => sum + x, 0) / 7;
    expect(chart.meanRange).toBeCloseTo(mean, 12);
    expect((chart.highLimit - chart.centre) / mean).toBeCloseTo(2.66, 2);
    expect(chart.rangeLimit / mean).toBeCloseTo(3.267, 12);
    expect(chart.signals).toEqual([]);
  });

  it("sees a value beyond a limit, nine on one side, six rising, two of three and four of five", () => {
    const rules = (values: readonly number[]) => controlChart(values).signals.map(({ rule }) => rule);
    const calm = [0, 1, 0, -1, 0, 1, 0, -1, 0, 1, 0, -1, 0, 1, 0, -1];
    expect(rules(calm)).toEqual([]);
    expect(rules([...calm, 9, ...calm])).toContain("beyond-limits");
    expect(rules([...calm, ...calm, 1, 0.5, 1, 0.5, 1, 0.5, 1, 0.5, 1, 0.5])).toContain("one-side");
    expect(rules([...calm, -1.2, -0.8, -0.4, 0.1, 0.5, 1.2, ...calm])).toContain("trend");
    expect(rules([...calm, ...calm, 2.1, 0.4, 2.1, ...calm])).toContain("two-of-three");
    expect(rules([...calm, ...calm, 1.3, 1.2, 0, 1.3, 1.2, ...calm])).toContain("four-of-five");
  });
});
