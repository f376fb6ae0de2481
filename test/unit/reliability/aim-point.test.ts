import { describe, expect, test } from "vitest";
import { normalCdf } from "../../../src/numeric/special.ts";
import { seedKey } from "../../../src/random/streams.ts";
import { findAimPoint } from "../../../src/reliability/aim-point.ts";
import { importanceSampling } from "../../../src/reliability/importance.ts";
import type { LimitFunction } from "../../../src/reliability/limit-function.ts";

const DIMENSIONS = 12;

/** g = β − z·a with |a| = 1: the nearest point is β·a, P = Φ(−β). */
const plane = (beta: number, direction: readonly number[]): LimitFunction => {
  const length = Math.sqrt(direction.reduce((sum, x) => sum + x * x, 0));
  return (scores, out, count) => {
    for (let i = 0; i < count; i += 1) {
      out[i] = beta - direction.reduce((sum, x, d) => sum + (x / length) * scores[d][i], 0);
    }
  };
};

/** Fails only where both do: a corner. */
const both = (a: LimitFunction, b: LimitFunction): LimitFunction => {
  return (scores, out, count) => {
    const other = new Float64Array(count);
    a(scores, out, count);
    b(scores, other, count);
    for (let i = 0; i < count; i += 1) out[i] = Math.max(out[i], other[i]);
  };
};

describe("a point to aim at", () => {
  test("of a plane is its nearest point (closed form)", () => {
    const direction = Array.from({ length: DIMENSIONS }, (_, d) => (d % 3) - 0.7);
    const { scores, indexRatio } = findAimPoint(plane(4.25, direction), DIMENSIONS, 7);
    expect(indexRatio).toBeCloseTo(4.25, 3);
    const length = Math.sqrt(direction.reduce((sum, x) => sum + x * x, 0));
    direction.forEach((x, d) => {
      expect(scores?.[d]).toBeCloseTo((4.25 * x) / length, 2);
    });
  });

  test("is none where the limit lies beyond the reach, and where nothing changes anything", () => {
    expect(findAimPoint(plane(7.5, [1, 1]), DIMENSIONS, 7).scores).toBeNull();
    expect(findAimPoint((_, out) => out.fill(1), DIMENSIONS, 7).scores).toBeNull();
  });

  test("is found in a corner, where slopes jump, and serves to sample it (closed form)", () => {
    // Two independent planes at 3: P = Φ(−3)², the nearest point at 3·√2.
    const corner = both(plane(3, [1, 0, 0]), plane(3, [0, 1, 0]));
    const key = seedKey("corner");
    const { scores, indexRatio } = findAimPoint(corner, DIMENSIONS, 7);
    expect(indexRatio).toBeGreaterThan(3 * Math.SQRT2 - 1e-3);
    expect(indexRatio).toBeLessThan(3 * Math.SQRT2 + 0.2);
    const result = importanceSampling([corner], DIMENSIONS, key, {
      samples: 32_000,
      points: [{ scores: scores!, indexRatio, limit: 0 }],
    });
    const exact = normalCdf(-3) * normalCdf(-3);
    expect(result.isTrustworthy).toBe(true);
    // Four standard errors: one run in 16 000 by chance; the seed is fixed.
    expect(Math.abs(result.probability - exact)).toBeLessThan(4 * result.standardError);
    expect(result.standardError).toBeLessThan(0.06 * exact);
  });

  test("is found through steps", () => {
    const smooth = plane(4, [2, -1, 0.5]);
    const stepped: LimitFunction = (scores, out, count) => {
      smooth(scores, out, count);
      for (let i = 0; i < count; i += 1) out[i] = Math.floor(5 * out[i]) / 5;
    };
    expect(findAimPoint(stepped, DIMENSIONS, 7).indexRatio).toBeLessThan(4.5);
  });
});
