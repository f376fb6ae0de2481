import { describe, expect, it } from "vitest";
import { conformanceProbability, globalRisks, normalPosterior } from "../../../src/stats/conformity.ts";
import { combineUncertainty } from "../../../src/stats/uncertainty-budget.ts";

describe("budget of the end gauge, JCGM 100:2008, H.1", () => {
  // Contributions in nm with their degrees of freedom, table H.1.
  const terms = [
    { contribution: 25, degreesOfFreedom: 18 },
    { contribution: 9.7, degreesOfFreedom: 25.6 },
    { contribution: 2.9, degreesOfFreedom: 50 },
    { contribution: 16.6, degreesOfFreedom: 2 },
  ];

  it("has u = 32 nm, 16 degrees of freedom, k = 2.92 and U = 93 nm at 99 %", () => {
    const found = combineUncertainty(terms, 0.99);
    expect(Math.round(found.standard)).toBe(32);
    expect(Math.floor(found.effectiveDegreesOfFreedom)).toBe(16);
    expect(found.coverageFactor).toBeCloseTo(2.92, 2);
    expect(Math.abs(found.expanded - 93)).toBeLessThan(1);
  });

  it("is the normal where nothing is estimated from few readings: k = 1.96", () => {
    const found = combineUncertainty([{ contribution: 3, degreesOfFreedom: Number.POSITIVE_INFINITY }]);
    expect(found.coverageFactor).toBeCloseTo(1.95996, 4);
    expect(found.effectiveDegreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
  });

  it("has the degrees of freedom of its one term, which scale does not change", () => {
    const found = combineUncertainty([{ contribution: 1e-3, degreesOfFreedom: 4 }]);
    expect(found.effectiveDegreesOfFreedom).toBeCloseTo(4, 12);
    // Student's t, 97.5 %, 4 degrees of freedom (any table).
    expect(found.coverageFactor).toBeCloseTo(2.776, 3);
  });
});

describe("conformity, JCGM 106:2012", () => {
  it("has the posterior of a normal prior (7.2.2): N(0, 0.5), reading 0.8, u 0.1", () => {
    const found = normalPosterior({ mean: 0, sd: 0.5 }, 0.8, 0.1);
    expect(found.mean).toBeCloseTo(0.76923077, 8);
    expect(found.sd).toBeCloseTo(0.09805807, 8);
    expect(conformanceProbability(found.mean, found.sd, -1, 1)).toBeCloseTo(0.99069854, 7);
    expect(conformanceProbability(0.8, 0.1, -1, 1)).toBeCloseTo(0.97724987, 7);
  });

  it.each([
    [0, 0.018942, 0.037208],
    [0.02, 0.009878, 0.069027],
    [0.04, 0.004334, 0.114657],
    [0.08, 0.000469, 0.24767],
  ])("has the global risks of the resistor with a guard band of %d", (guard, consumer, producer) => {
    const found = globalRisks(
      { mean: 1500, sd: 0.12 },
      0.04,
      { low: 1499.8, high: 1500.2 },
      { low: 1499.8 + guard, high: 1500.2 - guard },
    );
    expect(found.consumerRiskRatio).toBeCloseTo(consumer, 5);
    expect(found.producerRiskRatio).toBeCloseTo(producer, 5);
    expect(found.nonconformingRatio).toBeCloseTo(0.095581, 6);
  });

  it("keeps digits far out and decides without doubt where nothing is uncertain", () => {
    expect(conformanceProbability(10, 1, 0, 1)).toBeGreaterThan(1e-20);
    expect(conformanceProbability(10, 1, 0, 1)).toBeLessThan(1e-18);
    expect(conformanceProbability(1, 0, 0, 1)).toBe(1);
    expect(conformanceProbability(1.1, 0, 0, 1)).toBe(0);
  });
});
