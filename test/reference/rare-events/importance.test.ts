import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { normalCdf } from "../../../src/numeric/special.ts";
import { seedKey } from "../../../src/random/streams.ts";
import { findDesignPoints } from "../../../src/reliability/design-point.ts";
import { importanceSampling } from "../../../src/reliability/importance.ts";
import { LIMIT_STATES, pointwise } from "./limit-states.ts";

const KEY = seedKey("rare");
const { rp63, ...AIMABLE } = LIMIT_STATES;

describe("importance sampling against known probabilities, within 4 standard errors (source: SOURCE.md)", () => {
  it.each(Object.values(AIMABLE))("$name", ({ limits, dimensions, probability }) => {
    const found = importanceSampling(limits, dimensions, KEY);
    expect(found.doubts).toEqual([]);
    expect(found.isTrustworthy).toBe(true);
    expect(Math.abs(found.probability - probability)).toBeLessThan(4 * found.standardError);
    // An error that would hide anything is no check: 5 % is the most seen here (20 exponentials), times the 1.96 of the interval.
    expect(found.standardError / found.probability).toBeLessThan(0.05);
    expect(found.interval.low).toBeLessThan(found.probability);
    expect(found.interval.high).toBeGreaterThan(found.probability + 1.9 * found.standardError);
  });
  it("says that it cannot be trusted where the origin fails and failures lie all around (RP63)", () => {
    const found = importanceSampling(rp63.limits, rp63.dimensions, KEY, { samples: 8000, starts: 2 });
    expect(found.isTrustworthy).toBe(false);
    expect(found.doubts).toContain("few-effective-failures");
  });
  it("says so when a second failure region was missed, here by keeping only the nearest point", () => {
    const [near, far] = [pointwise(2, ([a]) => 3 - a), pointwise(2, ([a]) => 3.05 + a)];
    const joined = pointwise(2, ([a]) => Math.min(3 - a, 3.05 + a));
    const blind = importanceSampling([joined], 2, KEY, { starts: 0, rangeRatio: 0 });
    expect(blind.designPoints.length).toBe(1);
    expect(blind.isTrustworthy).toBe(false);
    const seeing = importanceSampling([near, far], 2, KEY, { starts: 0 });
    expect(seeing.designPoints.map(({ limit }) => limit)).toEqual([0, 1]);
    const exact = normalCdf(-3) + normalCdf(-3.05);
    expect(Math.abs(seeing.probability - exact)).toBeLessThan(4 * seeing.standardError);
    expect(seeing.isTrustworthy).toBe(true);
  });
  it("the 95 % interval holds the known value in at least 88 of 100 runs (fewer: 1.5 in 1000 at exact coverage)", () => {
    for (const { limits, dimensions, probability } of [LIMIT_STATES.strengthLoad, LIMIT_STATES.fourBranches7]) {
      let held = 0;
      for (let run = 0; run < 100; run += 1) {
        const { interval } = importanceSampling(limits, dimensions, seedKey(`coverage ${run}`), {
          samples: 4000,
          starts: 6,
        });
        if (interval.low <= probability && probability <= interval.high) held += 1;
      }
      expect(held).toBeGreaterThanOrEqual(88);
    }
  });
  it("the variance of a shifted density on a plane: relative variance a sample e^(β²)·Φ(-2β)/Φ(-β)² - 1, 4.51111 at β = 4", () => {
    // Recomputed from the closed form; a mixture with a tenth of defensive samples costs at most 1/0.9 of it.
    const plane = pointwise(2, ([a]) => 4 - a);
    const { probability, standardError } = importanceSampling([plane], 2, KEY, { samples: 64000, starts: 0 });
    const relative = (standardError / probability) ** 2 * 64000;
    expect(relative).toBeGreaterThan(4.51111 * 0.9);
    expect(relative).toBeLessThan((4.51111 + 1) / 0.9);
  });
  it("the same seed gives the same digits, another seed others", () => {
    const { limits, dimensions } = LIMIT_STATES.rp33;
    const once = importanceSampling(limits, dimensions, KEY, { samples: 4000 });
    expect(importanceSampling(limits, dimensions, KEY, { samples: 4000 })).toEqual(once);
    expect(importanceSampling(limits, dimensions, seedKey("other"), { samples: 4000 }).probability).not.toBe(
      once.probability,
    );
  });
  it("refuses sample counts and shares out of range", () => {
    const plane = pointwise(1, ([a]) => 4 - a);
    expect(() => importanceSampling([plane], 1, KEY, { samples: 0 })).toThrow(InternalError);
    expect(() => importanceSampling([plane], 1, KEY, { defensiveRatio: 0 })).toThrow(InternalError);
    expect(() => importanceSampling([pointwise(1, () => Number.NaN)], 1, KEY)).toThrow(InternalError);
  });
});

describe("design points", () => {
  it("R - S: β = 4.472136 at r = s = 180 (source: SOURCE.md)", () => {
    const { limits, dimensions } = LIMIT_STATES.strengthLoad;
    const { points } = findDesignPoints(limits, dimensions, KEY);
    expect(points.length).toBe(1);
    expect(points[0].indexRatio).toBeCloseTo(4.472136, 5);
    expect(200 + 10 * points[0].scores[0]).toBeCloseTo(180, 4);
    expect(100 + 20 * points[0].scores[1]).toBeCloseTo(180, 4);
  });
  it("four branches: two at 3, two at k/2, one on each branch", () => {
    const { limits, dimensions } = LIMIT_STATES.fourBranches7;
    const { points } = findDesignPoints(limits, dimensions, KEY);
    expect(points.map(({ indexRatio }) => Number(indexRatio.toFixed(4)))).toEqual([3, 3, 3.5, 3.5]);
    expect(points.map(({ limit }) => limit).sort()).toEqual([0, 1, 2, 3]);
  });
  it("a first-order guess alone is wrong: RP24 has β 2.5, Φ(-2.5) = 6.2e-3, against 2.86e-3", () => {
    const { limits, dimensions, probability } = LIMIT_STATES.rp24;
    const [point] = findDesignPoints(limits, dimensions, KEY).points;
    expect(normalCdf(-point.indexRatio) / probability).toBeGreaterThan(2);
  });
  it("a limit without a slope has none, and counts its starts as failed", () => {
    const search = findDesignPoints([pointwise(2, () => 1)], 2, KEY, { starts: 3 });
    expect(search.points).toEqual([]);
    expect(search.failedStarts).toBe(4);
    const found = importanceSampling([pointwise(2, () => 1)], 2, KEY, { samples: 1600 });
    expect(found.probability).toBe(0);
    expect(found.doubts).toContain("no-design-point");
  });
});
