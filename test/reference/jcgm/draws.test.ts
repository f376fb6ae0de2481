import { describe, expect, test } from "vitest";
import type { Distribution } from "../../../src/distributions/types.ts";
import { createInputs, drawBatchBlock, drawBlock } from "../../../src/engine/draw.ts";
import { normalQuantile } from "../../../src/numeric/special.ts";
import { BLOCK_SIZE } from "../../../src/random/streams.ts";
import { binomialInterval } from "../../../src/stats/intervals.ts";
import { momentsOf, skewness, standardDeviation } from "../../../src/stats/moments.ts";
import { quantileOfSorted } from "../../../src/stats/quantiles.ts";
import { drawPlan, drawValues } from "../../support/draws.ts";

const SAMPLES = 1_000_000;

/** Every check below allows four standard errors: a false alarm in 16 000 at another seed. */
const ERRORS = 4;

const rectangular = (sd: number): Distribution => ({
  kind: "uniform",
  low: -sd * Math.sqrt(3),
  high: sd * Math.sqrt(3),
});
const normal = (mean: number, sd: number): Distribution => ({ kind: "normal", mean, sd });
const sum = (row: readonly number[]) => row.reduce((total, value) => total + value, 0);

interface Example {
  readonly name: string;
  readonly inputs: Readonly<Record<string, Distribution>>;
  readonly value: (row: readonly number[]) => number;
  readonly mean: number;
  readonly sd: number;
  readonly interval: readonly [number, number];
  /** Four standard errors of an end: 4·√(0.025·0.975/M)/density there. */
  readonly endTolerance: number;
}

const examples: Example[] = [
  {
    name: "9.2.2: sum of four standard normals",
    inputs: { x1: normal(0, 1), x2: normal(0, 1), x3: normal(0, 1), x4: normal(0, 1) },
    value: sum,
    mean: 0,
    sd: 2,
    interval: [-3.919927969, 3.919927969],
    endTolerance: 0.022,
  },
  {
    name: "9.2.3: sum of four rectangular ones",
    inputs: { x1: rectangular(1), x2: rectangular(1), x3: rectangular(1), x4: rectangular(1) },
    value: sum,
    mean: 0,
    sd: 2,
    interval: [-2 * Math.sqrt(3) * (2 - 0.6 ** 0.25), 3.8794067413],
    endTolerance: 0.022,
  },
  {
    name: "9.2.4: one rectangular contribution dominates",
    inputs: { x1: rectangular(1), x2: rectangular(1), x3: rectangular(1), x4: rectangular(10) },
    value: sum,
    mean: 0,
    sd: 10.1488915651,
    interval: [-17.0158140999, 17.0158140999],
    endTolerance: 0.045,
  },
  {
    name: "9.3: mass calibration, the model kept non-linear",
    inputs: {
      reference: normal(100_000, 0.05),
      added: normal(1.234, 0.02),
      air: { kind: "uniform", low: 1.1, high: 1.3 },
      weight: { kind: "uniform", low: 7000, high: 9000 },
      standard: { kind: "uniform", low: 7950, high: 8050 },
    },
    value: ([reference, added, air, weight, standard]) =>
      (reference + added) * (1 + (air - 1.2) * (1 / weight - 1 / standard)) - 100_000,
    mean: 1.234,
    sd: 0.0754797399,
    interval: [1.08446, 1.38356],
    endTolerance: 0.001,
  },
];

describe(`JCGM 101:2008 through the draws of the engine, ${SAMPLES} trials, four standard errors`, () => {
  test.each(examples)("$name", ({ inputs, value, mean, sd, interval, endTolerance }) => {
    const values = drawValues(drawPlan(inputs), SAMPLES, value).sort();
    const moments = momentsOf(values);
    expect(Math.abs(moments.mean - mean)).toBeLessThan((ERRORS * sd) / Math.sqrt(SAMPLES));
    // u/√(2M) is the error for a normal; flatter distributions have less.
    expect(Math.abs(standardDeviation(moments) - sd)).toBeLessThan((ERRORS * sd) / Math.sqrt(2 * SAMPLES));
    expect(Math.abs(quantileOfSorted(values, 0.025) - interval[0])).toBeLessThan(endTolerance);
    expect(Math.abs(quantileOfSorted(values, 0.975) - interval[1])).toBeLessThan(endTolerance);
  });
});

describe("a preload-like quantity with answers in closed form: P = 5·max(d, 0)^1.5, d ~ N(10, 2.5), target 100 to 250", () => {
  const preload = (d: number) => (d > 0 ? 5 * d * Math.sqrt(d) : 0);
  const plan = drawPlan({ d: normal(10, 2.5), temperature: { kind: "uniform", low: -30, high: 50 } });
  const share = (test: (d: number, temperatureC: number) => boolean) => {
    let count = 0;
    drawValues(plan, SAMPLES, ([d, temperature]) => {
      if (test(d, temperature)) count += 1;
      return 0;
    });
    return count;
  };
  const onTarget = (p: number) => p >= 100 && p <= 250;
  const within = (count: number, exact: number) =>
    Math.abs(count / SAMPLES - exact) / Math.sqrt((exact * (1 - exact)) / SAMPLES);

  test("yield, and its 95 % interval", () => {
    const count = share((d) => onTarget(preload(d)));
    expect(within(count, 0.77725209356525)).toBeLessThan(ERRORS);
    const { low, high } = binomialInterval(count, SAMPLES);
    // 1.96 of the 4 standard errors allowed: the interval is as wide as it should be, and so near the truth.
    expect((high - low) / 2).toBeCloseTo(1.95996 * Math.sqrt((0.777252 * 0.222748) / SAMPLES), 5);
    expect(Math.abs((low + high) / 2 - 0.77725209)).toBeLessThan(0.0017);
  });

  test("mean, standard deviation, skewness and quantiles", () => {
    const values = drawValues(plan, SAMPLES, ([d]) => preload(d)).sort();
    const moments = momentsOf(values);
    const sd = 59.043702422802;
    expect(Math.abs(moments.mean - 161.86828583138)).toBeLessThan((ERRORS * sd) / 1000);
    // Standard error of s: s·√((kurtosis − 1)/(4M)), kurtosis about 3.2.
    expect(Math.abs(standardDeviation(moments) - sd)).toBeLessThan((ERRORS * sd * Math.sqrt(2.2 / 4)) / 1000);
    // √(6/M) is that of a normal sample; the tail to the right adds half as much again.
    expect(Math.abs(skewness(moments) - 0.3790254336)).toBeLessThan((ERRORS * 1.5 * Math.sqrt(6)) / 1000);
    const quantile = (p: number, exact: number, slope: number) => {
      // d(P)/dd·σ·√(p(1 − p)/M)/φ(z), in closed form at the exact quantile.
      const z = normalQuantile(p);
      const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
      const error = (slope * 2.5 * Math.sqrt(p * (1 - p))) / density / 1000;
      expect(Math.abs(quantileOfSorted(values, p) - exact)).toBeLessThan(ERRORS * error);
    };
    quantile(0.5, 158.113883008, 7.5 * Math.sqrt(10));
    quantile(0.00135, 19.7649174624, 7.5 * Math.sqrt(2.5));
    quantile(0.99865, 366.03695699, 7.5 * Math.sqrt(17.5));
  });

  test("play is rare and counted: P(d < 0) = 3.167e-5", () => {
    expect(
      within(
        share((d) => d <= 0),
        3.16712418e-5,
      ),
    ).toBeLessThan(ERRORS);
  });

  test("with heat d + 0.05·T the yield averaged over T and the yield over the whole range are two numbers", () => {
    const averaged = share((d, temperature) => onTarget(preload(d + 0.05 * temperature)));
    expect(within(averaged, 0.738625688367)).toBeLessThan(ERRORS);
    const everywhere = share((d) => onTarget(preload(d - 1.5)) && onTarget(preload(d + 2.5)));
    expect(within(everywhere, 0.340622976585)).toBeLessThan(ERRORS);
  });
});

describe("variables that vary together", () => {
  test("a Gaussian copula gives normal scores the correlations asked for, and every variable its own distribution", () => {
    const matrix = [1, 0.7, -0.4, 0.7, 1, 0.1, -0.4, 0.1, 1];
    const plan = drawPlan(
      { x: normal(5, 2), y: { kind: "uniform", low: 2, high: 6 }, z: { kind: "triangular", low: 0, mode: 1, high: 4 } },
      { matrix },
    );
    const samples = 50 * BLOCK_SIZE;
    const inputs = createInputs(plan, BLOCK_SIZE);
    const uniforms = createInputs(plan, BLOCK_SIZE);
    const products = new Float64Array(9);
    const sums = new Float64Array(3);
    const squares = new Float64Array(3);
    for (let block = 0; block < 50; block += 1) {
      drawBlock(plan, block, inputs, BLOCK_SIZE, uniforms);
      for (let i = 0; i < BLOCK_SIZE; i += 1) {
        const scores = uniforms.map((column) => normalQuantile(column[i]));
        for (let a = 0; a < 3; a += 1) {
          sums[a] += inputs[a][i];
          squares[a] += inputs[a][i] ** 2;
          for (let b = 0; b < 3; b += 1) products[3 * a + b] += scores[a] * scores[b];
        }
      }
    }
    matrix.forEach((expected, place) => {
      // Standard error of a sample correlation: (1 − r²)/√n; of a variance of 1: √(2/n).
      const error = expected === 1 ? Math.sqrt(2 / samples) : (1 - expected * expected) / Math.sqrt(samples);
      const [a, b] = [Math.floor(place / 3), place % 3];
      const measured =
        a === b ? products[place] / samples : products[place] / Math.sqrt(products[4 * a] * products[4 * b]);
      expect(Math.abs(measured - expected)).toBeLessThan(ERRORS * error);
    });
    // Means and variances in closed form; triangular: (l + m + h)/3 and (l² + m² + h² − lm − lh − mh)/18.
    [
      [5, 4],
      [4, 16 / 12],
      [5 / 3, (1 + 16 - 4) / 18],
    ].forEach(([mean, variance], a) => {
      expect(Math.abs(sums[a] / samples - mean)).toBeLessThan(ERRORS * Math.sqrt(variance / samples));
      const measured = squares[a] / samples - (sums[a] / samples) ** 2;
      expect(Math.abs(measured / variance - 1)).toBeLessThan(ERRORS * Math.sqrt(2 / samples));
    });
  });

  test.each([0, 0.25, 0.7, 1])("units of a batch share %d of the variance, and no more", (batchShare) => {
    const plan = drawPlan({ x: normal(0, 1) }, { batchShare });
    const batches = 8000;
    const size = 20;
    const inputs = createInputs(plan, BLOCK_SIZE);
    const means = new Float64Array(batches);
    let within = 0;
    for (let batch = 0; batch < batches; batch += 1) {
      drawBatchBlock(plan, batch, batch, inputs, size);
      const values = inputs[0].subarray(0, size);
      const moments = momentsOf(values);
      means[batch] = moments.mean;
      within += standardDeviation(moments) ** 2 / batches;
    }
    const ofMeans = standardDeviation(momentsOf(means)) ** 2;
    // Analysis of variance: E[s²] = 1 − s, E[variance of means] = s + (1 − s)/n; chi-squared errors of both.
    const between = ofMeans - within / size;
    const errorBetween = (batchShare + (1 - batchShare) / size) * Math.sqrt(2 / (batches - 1));
    const errorWithin = (1 - batchShare) * Math.sqrt(2 / (batches * (size - 1)));
    expect(Math.abs(within - (1 - batchShare))).toBeLessThanOrEqual(ERRORS * errorWithin + 1e-12);
    expect(Math.abs(between - batchShare)).toBeLessThan(ERRORS * (errorBetween + errorWithin / size));
  });
});
