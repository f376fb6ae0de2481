import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { normalCdf } from "../../../src/numeric/special.ts";
import { seedKey } from "../../../src/random/streams.ts";
import { anyLimit } from "../../../src/reliability/limit-function.ts";
import { repeatedSubsetSimulation, subsetSimulation } from "../../../src/reliability/subset-simulation.ts";
import { LIMIT_STATES, pointwise } from "./limit-states.ts";

const KEY = seedKey("rare");

describe("subset simulation against known probabilities, mean of 16 runs within 4 standard errors (source: SOURCE.md)", () => {
  it.each(Object.values(LIMIT_STATES))("$name", ({ limits, dimensions, probability }) => {
    const { estimate, hasReachedLimit } = repeatedSubsetSimulation(anyLimit(limits), dimensions, KEY, {
      samplesPerLevel: 1000,
    });
    expect(hasReachedLimit).toBe(true);
    expect(Math.abs(estimate.mean - probability)).toBeLessThan(4 * estimate.standardError);
    expect(estimate.standardError / estimate.mean).toBeLessThan(0.15);
  });
  it("a run's own coefficient of variation is that of many runs to a third (R - S, 48 runs)", () => {
    const { limits, dimensions } = LIMIT_STATES.strengthLoad;
    const limit = anyLimit(limits);
    const { estimate } = repeatedSubsetSimulation(limit, dimensions, KEY, { samplesPerLevel: 1000, runs: 48 });
    const seen = (estimate.standardError * Math.sqrt(48)) / estimate.mean;
    let own = 0;
    for (let replicate = 0; replicate < 8; replicate += 1) {
      own += subsetSimulation(limit, dimensions, KEY, { samplesPerLevel: 1000, replicate }).variationRatio / 8;
    }
    expect(own / seen).toBeGreaterThan(0.67);
    expect(own / seen).toBeLessThan(1.5);
    // Au & Beck 2001: never below independent samples, √(L(1 - p₀)/(N·p₀)), here with 5 full levels.
    expect(own).toBeGreaterThan(Math.sqrt((5 * 0.9) / 100));
  });
});

describe("conventions", () => {
  const { limits, dimensions } = LIMIT_STATES.rp33;
  it("levels, thresholds falling to 0, acceptance near 0.44", () => {
    const run = subsetSimulation(anyLimit(limits), dimensions, KEY);
    expect(run.levels).toBe(3);
    expect(run.thresholds.at(-1)).toBe(0);
    expect(run.thresholds.every((b, i) => i === 0 || b < run.thresholds[i - 1])).toBe(true);
    for (const ratio of run.acceptanceRatios) {
      expect(ratio).toBeGreaterThan(0.3);
      expect(ratio).toBeLessThan(0.65);
    }
    expect(run.evaluations).toBe(2000 + 2 * 1800);
  });
  it("the same address gives the same digits, another replicate others", () => {
    const once = subsetSimulation(anyLimit(limits), dimensions, KEY);
    expect(subsetSimulation(anyLimit(limits), dimensions, KEY)).toEqual(once);
    expect(subsetSimulation(anyLimit(limits), dimensions, KEY, { replicate: 1 }).probability).not.toBe(
      once.probability,
    );
  });
  it("says when the levels ran out, having come as far as five shares of a tenth go (closed form)", () => {
    const root = Math.sqrt(10);
    const plane = pointwise(10, (z) => 9 - z.reduce((sum, x) => sum + x, 0) / root);
    const run = subsetSimulation(plane, 10, KEY, { mostLevels: 4 });
    expect(run.hasReachedLimit).toBe(false);
    expect(run.levels).toBe(5);
    expect(run.failing.map((column) => column.length)).toEqual(new Array(10).fill(0));
    // Units that stayed where they were may tie at a threshold: they add to its share and never take from it.
    expect(run.probability).toBeGreaterThanOrEqual(1e-5 * (1 - 1e-12));
    // What it stands for is P(g <= b) = Φ(b - 9) at the last threshold b. The logarithm of their ratio has the run's own coefficient of variation, which
    // is known to a third (above): 4.5 of it are 3.4 true ones at worst, 1 in 1500; the seed is fixed.
    const exact = normalCdf((run.thresholds.at(-1) ?? Number.NaN) - 9);
    expect(Math.abs(Math.log(run.probability / exact))).toBeLessThan(4.5 * run.variationRatio);
    expect(run.variationRatio).toBeLessThan(0.3);
  });
  it("refuses counts out of range and limits that are not numbers", () => {
    const plane = pointwise(1, ([a]) => 4 - a);
    expect(() => subsetSimulation(plane, 1, KEY, { samplesPerLevel: 55 })).toThrow(InternalError);
    expect(() => subsetSimulation(plane, 1, KEY, { mostLevels: 64 })).toThrow(InternalError);
    expect(() =>
      subsetSimulation(
        pointwise(1, () => Number.NaN),
        1,
        KEY,
      ),
    ).toThrow(InternalError);
  });
});
