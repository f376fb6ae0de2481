import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { normalCdf, normalQuantile } from "../../../src/numeric/special.ts";
import { createColumns, type LimitFunction } from "../../../src/reliability/limit-function.ts";
import { findCrossings, type Limits } from "../../../src/reliability/line-crossings.ts";
import { createShareOfAll, shareBelow } from "../../../src/reliability/line-shares.ts";
import { meanGradient, rotateColumns, rotationTo } from "../../../src/reliability/rotation.ts";
import { pseudoUniforms } from "../../support/distributions.ts";
import { lineProbabilities } from "../../support/lines.ts";

const scores = (dimensions: number, count: number) =>
  Array.from({ length: dimensions }, (_, d) => pseudoUniforms(count, d + 1).map(normalQuantile));

/** A limit function from one of a single point. */
const pointwise =
  (g: (z: number[]) => number): LimitFunction =>
  (columns, out, count) => {
    for (let i = 0; i < count; i += 1) out[i] = g(columns.map((column) => column[i]));
  };

describe("rotation of normal scores", () => {
  const directions = [
    [3, -4, 12],
    [-1, 0, 0],
    [1, 1e-9, -2e-9],
    [1, 0, 0],
    [-1, 1e-9, 0],
    [0, 0, -1e-200],
  ];
  it("carries the first axis to the direction, keeps lengths and is its own inverse", () => {
    for (const direction of directions) {
      const rotation = rotationTo(direction);
      const length = Math.hypot(...direction);
      const columns = [Float64Array.of(1, 0.3), Float64Array.of(0, -1.2), Float64Array.of(0, 2.5)];
      rotateColumns(rotation, columns, 2);
      columns.forEach((column, d) => {
        expect(column[0], `${direction}`).toBeCloseTo(direction[d] / length, 15);
      });
      expect(Math.hypot(...columns.map((c) => c[1]))).toBeCloseTo(Math.hypot(0.3, 1.2, 2.5), 14);
      rotateColumns(rotation, columns, 2);
      expect(columns[0][0]).toBeCloseTo(1, 15);
      expect(columns[2][1]).toBeCloseTo(2.5, 14);
    }
  });
  it("refuses a direction without a length", () => {
    expect(() => rotationTo([0, 0])).toThrow(InternalError);
    expect(() => rotationTo([Number.NaN, 1])).toThrow(InternalError);
    expect(() => rotateColumns(rotationTo([1, 1]), [new Float64Array(1)], 1)).toThrow(InternalError);
  });
  it("the mean gradient of a plane is its slope (Stein 1981), within 4 standard errors", () => {
    const columns = scores(3, 20000);
    const values = columns[0].map((_, i) => 7 + 2 * columns[0][i] - columns[2][i]);
    const found = meanGradient(columns, values, 20000);
    [2, 0, -1].forEach((slope, d) => {
      expect(Math.abs(found[d] - slope), `axis ${d + 1}`).toBeLessThan((4 * Math.sqrt(9)) / Math.sqrt(20000));
    });
  });
});

describe("probability along lines", () => {
  it("a plane has the same exact probability on every line, also far in the tail: Φ(-β)", () => {
    const direction = [0.6, -0.8, 0];
    const out = new Float64Array(50);
    for (const beta of [-6, 0, 1.3, 4.75, 7.5]) {
      const plane = pointwise((z) => beta - (0.6 * z[0] - 0.8 * z[1]));
      lineProbabilities(plane, rotationTo(direction), scores(3, 50), out, 50);
      for (const p of out) expect(Math.abs(p / normalCdf(-beta) - 1), `β ${beta}`).toBeLessThan(1e-8);
    }
  });
  it("two limits, each on its side: Φ(-2) + Φ(-3)", () => {
    const slab = pointwise((z) => Math.min(2 - z[1], 3 + z[1]));
    const out = new Float64Array(8);
    const result = lineProbabilities(slab, rotationTo([0, 1]), scores(2, 8), out, 8);
    for (const p of out) expect(p).toBeCloseTo(normalCdf(-2) + normalCdf(-3), 10);
    expect(result.linesByCrossings).toEqual([0, 0, 8, 0, 0]);
  });
  it("many crossings: cos 3t < 0.9, in closed form", () => {
    const wave = pointwise((z) => Math.cos(3 * z[0]) - 0.9);
    const out = new Float64Array(3);
    const result = lineProbabilities(wave, rotationTo([1, 0]), scores(2, 3), out, 3, { spacingRatio: 0.2 });
    let passes = 0;
    const half = Math.acos(0.9) / 3;
    for (let k = -6; k <= 6; k += 1) {
      const centre = (2 * Math.PI * k) / 3;
      passes += normalCdf(centre + half) - normalCdf(centre - half);
    }
    for (const p of out) expect(p).toBeCloseTo(1 - passes, 9);
    expect(result.linesByCrossings[4]).toBe(3);
  });
  it("a pair of crossings closer than the spacing is found from the curvature between them", () => {
    // Fails within 0.05 of 1.27: no point of the scan (0, 0.5, 1, 1.5 ...) is in it.
    const gap = pointwise((z) => (z[0] - 1.27) ** 2 - 0.0025);
    const out = new Float64Array(2);
    lineProbabilities(gap, rotationTo([1]), scores(1, 2), out, 2);
    for (const p of out) expect(p).toBeCloseTo(normalCdf(1.32) - normalCdf(1.22), 9);
  });
  it("a jump is found as well as a zero, and a function flat at both ends", () => {
    const jump = pointwise((z) => (z[0] > 0.777 ? -1 : 1));
    const out = new Float64Array(1);
    lineProbabilities(jump, rotationTo([1]), scores(1, 1), out, 1);
    expect(out[0]).toBeCloseTo(normalCdf(-0.777), 9);
    lineProbabilities(
      pointwise((z) => -5 * Math.max(z[0], 0) ** 1.5 + 1e-9),
      rotationTo([1]),
      scores(1, 1),
      out,
      1,
    );
    expect(out[0]).toBeCloseTo(normalCdf(-((1e-9 / 5) ** (2 / 3))), 9);
  });
  it("never or always failing lines", () => {
    const out = new Float64Array(2);
    expect(
      lineProbabilities(
        pointwise(() => 1),
        rotationTo([1]),
        scores(1, 2),
        out,
        2,
      ).linesByCrossings[0],
    ).toBe(2);
    expect(Array.from(out)).toEqual([0, 0]);
    lineProbabilities(
      pointwise(() => -1),
      rotationTo([1]),
      scores(1, 2),
      out,
      2,
    );
    expect(Array.from(out)).toEqual([1, 1]);
  });
  it("refuses a limit function that is not a number, and a scan that is none", () => {
    const out = new Float64Array(1);
    const bad = pointwise(() => Number.NaN);
    expect(() => lineProbabilities(bad, rotationTo([1]), createColumns(1, 1), out, 1)).toThrow(InternalError);
    const good = pointwise((z) => z[0]);
    expect(() => lineProbabilities(good, rotationTo([1]), createColumns(1, 1), out, 1, { spacingRatio: 0 })).toThrow(
      InternalError,
    );
  });
});

describe("several limits at once along lines", () => {
  const lines = (count: number) => {
    // Lines along (0.6, 0.8); the feet lie at right angles to it.
    const [across] = scores(1, count);
    return {
      direction: Float64Array.of(0.6, 0.8),
      feet: [across.map((x) => -0.8 * x), across.map((x) => 0.6 * x)],
      count,
    };
  };
  const limits =
    (...of: ((t: number, across: number) => number)[]): Limits =>
    ([x, y], out, count) => {
      for (let i = 0; i < count; i += 1) {
        of.forEach((limit, e) => {
          out[e][i] = limit(0.6 * x[i] + 0.8 * y[i], -0.8 * x[i] + 0.6 * y[i]);
        });
      }
    };

  it("a window between two parallel planes: the same exact share on every line, so no variance, and nothing to narrow", () => {
    const two = limits(
      (t) => 0.007 * (t + 0.9),
      (t) => 0.007 * (t - 1.7),
    );
    const crossings = findCrossings(two, 2, lines(40), { reachRatio: 5, spacingRatio: 1 });
    const within = createShareOfAll(crossings, [
      { limit: 0, isBelow: false },
      { limit: 1, isBelow: true },
    ]);
    for (let line = 0; line < 40; line += 1) {
      expect(Math.abs(within(line) - (normalCdf(1.7) - normalCdf(-0.9)))).toBeLessThan(1e-12);
    }
    expect(crossings.evaluations).toBe(11 * 40);
    expect(crossings.byCrossings).toEqual([0, 80, 0, 0, 0]);
  });
  it("a limit crossed twice, and windows that exclude each other on a part of the line, in closed form", () => {
    const three = limits(
      // Above 0 outside of -1.3 … 0.8: two crossings, further apart than the spacing.
      (t) => (t + 1.3) * (t - 0.8),
      (t) => t - 2.1,
      (t, across) => t + 2.6 + 0 * across,
    );
    const crossings = findCrossings(three, 3, lines(5), { spacingRatio: 1 });
    const within = createShareOfAll(crossings, [
      { limit: 0, isBelow: false },
      { limit: 1, isBelow: true },
      { limit: 2, isBelow: false },
    ]);
    const none = createShareOfAll(crossings, [
      { limit: 1, isBelow: false },
      { limit: 2, isBelow: true },
    ]);
    const expected = normalCdf(-1.3) - normalCdf(-2.6) + (normalCdf(2.1) - normalCdf(0.8));
    for (let line = 0; line < 5; line += 1) {
      expect(within(line)).toBeCloseTo(expected, 9);
      expect(none(line)).toBe(0);
      expect(shareBelow(crossings, line, 0)).toBeCloseTo(normalCdf(0.8) - normalCdf(-1.3), 9);
    }
    expect(crossings.byCrossings).toEqual([0, 10, 5, 0, 0]);
  });
  it("crossings read from the scan are as good as narrowed ones: curved, kinked and jumping limits within the tolerance", () => {
    const odd = limits(
      (t, across) => t - 0.4 + 0.05 * t * t + 0.01 * across * t + 0.3 * Math.sin(0.4 * t),
      (t, across) => (t < across ? 0.3 : 1.6) * (t - across) + 0.2,
      (t, across) => (t > 0.3 * across + 0.11 ? 1 : -1),
    );
    const loose = findCrossings(odd, 3, lines(200), { reachRatio: 5, spacingRatio: 1, toleranceShare: 5e-7 });
    const tight = findCrossings(odd, 3, lines(200), { reachRatio: 5, spacingRatio: 1 });
    expect(loose.evaluations).toBeLessThan(tight.evaluations);
    for (let line = 0; line < 200; line += 1) {
      for (let limit = 0; limit < 3; limit += 1) {
        const apart = shareBelow(loose, line, limit) - shareBelow(tight, line, limit);
        expect(Math.abs(apart), `line ${line}, limit ${limit}`).toBeLessThan(1e-6);
      }
    }
  });
});
