import { describe, expect, it } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { normalQuantile } from "../../../src/numeric/special.ts";
import { fillScrambledSobol, scrambleKey } from "../../../src/random/owen.ts";
import { seedKey, variableId } from "../../../src/random/streams.ts";
import { replicateEstimate } from "../../../src/stats/rqmc.ts";
import { exchangeIndices } from "../../../src/stats/total-indices.ts";

const KEY = seedKey("indices");
const REPLICATES = 16;

/** Indices over 16 scrambles of 2^m points: estimates with their errors. */
function indices(dimensions: number, points: number, g: (u: number[]) => number) {
  const columns = Array.from({ length: 2 * dimensions }, () => new Float64Array(points));
  const runs = Array.from({ length: REPLICATES }, (_, replicate) => {
    columns.forEach((column, d) => {
      fillScrambledSobol(scrambleKey(KEY, replicate, variableId(`x${d}`)), d + 1, 0, points, column);
    });
    const f = (inputs: readonly Float64Array[], out: Float64Array, count: number) => {
      for (let i = 0; i < count; i += 1) out[i] = g(inputs.map((column) => column[i]));
    };
    return exchangeIndices(f, columns.slice(0, dimensions), columns.slice(dimensions), points);
  });
  const estimates = (pick: (run: (typeof runs)[number]) => Float64Array) =>
    Array.from({ length: dimensions }, (_, d) => replicateEstimate(runs.map((run) => pick(run)[d])));
  return { first: estimates((run) => run.firstOrderRatio), total: estimates((run) => run.totalRatio) };
}

function expectNear(
  found: ReturnType<typeof indices>["first"],
  expected: number[],
  largestErrors: number | readonly number[],
) {
  expected.forEach((value, d) => {
    const { mean, standardError } = found[d];
    // 5e-7: the rounding of the printed values; 5 standard errors of 16 replicates: false alarms 1 in 6000.
    expect(Math.abs(mean - value), `x${d + 1}`).toBeLessThan(5 * standardError + 5e-7);
    const largest = typeof largestErrors === "number" ? largestErrors : largestErrors[d];
    expect(standardError, `error of x${d + 1}`).toBeLessThan(largest);
  });
}

/**
 * Standard errors of the g-function's total indices by plain sampling of as many points, in closed form: what scrambled points have to stay below. Of
 * X = (f - f_i)²/2, f = Π g, g = 1 + v, v even between ±1/(1 + a): E X = Π' E g²·E d²/2, E X² = Π' E g⁴·E d⁴/4, d the difference of two v; the variance
 * it is divided by is as good as known. A standard error of 16 replicates spreads as √(χ²₁₅/15): scrambled points of half this error or less, as all of
 * these are in the mean of 12 seeds but the fourth (0.6), would pass it less than once in 6000 runs.
 */
function plainErrors(a: readonly number[], points: number): number[] {
  const squares = a.map((x) => (1 / (1 + x)) ** 2);
  const second = squares.map((c) => 1 + c / 3);
  const fourth = squares.map((c) => 1 + 2 * c + (c * c) / 5);
  const product = (of: readonly number[], but: number) => of.reduce((all, x, j) => (j === but ? all : all * x), 1);
  const variance = product(second, -1) - 1;
  return squares.map((c, i) => {
    const mean = (product(second, i) * c) / 3;
    const meanSquare = (product(fourth, i) * ((2 / 5) * c * c + (6 / 9) * c * c)) / 4;
    return Math.sqrt((meanSquare - mean * mean) / points) / variance;
  });
}

describe("first-order and total indices from scrambled Sobol' points (source: SOURCE.md)", () => {
  it("Ishigami function", () => {
    const found = indices(3, 4096, (u) => {
      const [x1, x2, x3] = u.map((p) => Math.PI * (2 * p - 1));
      return Math.sin(x1) + 7 * Math.sin(x2) ** 2 + 0.1 * x3 ** 4 * Math.sin(x1);
    });
    // Plain sampling of as many points has an error of 0.004 to 0.005 in the first-order indices.
    expectNear(found.first, [0.3139051911, 0.4424111448, 0], 0.002);
    expectNear(found.total, [0.5575888552, 0.4424111448, 0.2436836641], 0.001);
  });
  it("g-function in eight dimensions", () => {
    const a = [0, 1, 4.5, 9, 99, 99, 99, 99];
    const found = indices(8, 2048, (u) =>
      u.reduce((product, x, i) => (product * (Math.abs(4 * x - 2) + a[i])) / (1 + a[i]), 1),
    );
    expectNear(found.first, [0.716192, 0.179048, 0.023676, 0.007162, 0.000072], 0.002);
    expectNear(
      found.total,
      [0.787144, 0.242198, 0.034317, 0.01046, 0.000105],
      plainErrors(a, REPLICATES * 2048).slice(0, 5),
    );
  });
  it("a yield: indicator of 3z1 + 2z2 + z3 > 2·√14, in closed form by the bivariate normal", () => {
    const found = indices(3, 8192, (u) => {
      const [z1, z2, z3] = u.map(normalQuantile);
      return 3 * z1 + 2 * z2 + z3 > 2 * Math.sqrt(14) ? 1 : 0;
    });
    expectNear(found.first, [0.257348, 0.063687, 0.010776], 0.01);
    expectNear(found.total, [0.910118, 0.678272, 0.359582], 0.01);
  });
});

describe("conventions", () => {
  const inputs = [Float64Array.of(1, 2, 3), Float64Array.of(5, 5, 6)];
  it("a function that does not vary has indices 0", () => {
    const flat = exchangeIndices((_, out) => void out.fill(7), inputs, inputs, 3);
    expect(Array.from(flat.totalRatio)).toEqual([0, 0]);
    expect([flat.mean, flat.variance]).toEqual([7, 0]);
  });
  it("refuses unlike columns and single points", () => {
    const f = () => undefined;
    expect(() => exchangeIndices(f, inputs, inputs.slice(1), 3)).toThrow(InternalError);
    expect(() => exchangeIndices(f, inputs, inputs, 1)).toThrow(InternalError);
  });
});
