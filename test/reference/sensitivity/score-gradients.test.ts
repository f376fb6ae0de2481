import { describe, expect, it } from "vitest";
import { scoreOfUniform } from "../../../src/distributions/normal-score.ts";
import { InternalError } from "../../../src/errors.ts";
import { normalCdf } from "../../../src/numeric/special.ts";
import { BLOCK_SIZE, fillUniform, seedKey, variableId } from "../../../src/random/streams.ts";
import {
  addScores,
  emptyScoreSums,
  mergeScoreSums,
  type ScoreSums,
  yieldSlope,
} from "../../../src/stats/score-gradients.ts";

// Closed form of SOURCE.md: y = x1 - 2·x2 + x3/2, good from 5 to 7.2.
const A = [1, -2, 0.5];
const MEAN = [10, 3, 4];
const SD = [0.3, 0.2, 0.4];
const BY_MEAN = [0.07023998, -0.14047996, 0.03511999];
const BY_SPREAD = [-0.21346399, -0.56923731, -0.07115466];

type Failure = (y: number) => number;
const indicator: Failure = (y) => (y < 5 || y > 7.2 ? 1 : 0);

function sample(blocks: number, fails: (z: number[]) => number): ScoreSums {
  const key = seedKey("slopes");
  const total = emptyScoreSums(3);
  const columns = A.map(() => new Float64Array(BLOCK_SIZE));
  for (let block = 0; block < blocks; block += 1) {
    columns.forEach((column, index) => {
      fillUniform(key, variableId(`x${index}`), block, column);
      for (let i = 0; i < BLOCK_SIZE; i += 1) column[i] = scoreOfUniform(column[i]);
    });
    const failures = columns[0].map((_, i) => fails(columns.map((column) => column[i])));
    const part = emptyScoreSums(3);
    addScores(part, columns, failures, BLOCK_SIZE);
    mergeScoreSums(total, part);
  }
  return total;
}

const resultOf = (z: number[]) => z.reduce((sum, x, i) => sum + A[i] * (MEAN[i] + SD[i] * x), 0);

describe("slopes of the yield by the score function (source: SOURCE.md)", () => {
  const blocks = 50;
  const sums = sample(blocks, (z) => indicator(resultOf(z)));
  it("every mean and spread within 4 standard errors", () => {
    A.forEach((_, i) => {
      const { byMean, bySpread } = yieldSlope(sums, i, SD[i]);
      expect(Math.abs(byMean.value - BY_MEAN[i]), `mean ${i + 1}`).toBeLessThan(4 * byMean.standardError);
      expect(Math.abs(bySpread.value - BY_SPREAD[i]), `spread ${i + 1}`).toBeLessThan(4 * bySpread.standardError);
      // Failures are 4.5 % of 204 800: the score's spread over them is near 1.5, so about √0.1/√N over σ.
      expect(byMean.standardError).toBeLessThan(0.45 / Math.sqrt(blocks * BLOCK_SIZE) / SD[i]);
    });
  });
  it("the error is that of repeated runs: 24 runs spread by it, to a factor 1.6 (false alarms 1 in 1000)", () => {
    const parts = Array.from({ length: 24 }, () => emptyScoreSums(3));
    const key = seedKey("repeat");
    const columns = A.map(() => new Float64Array(BLOCK_SIZE));
    const values = parts.map((part, run) => {
      columns.forEach((column, index) => {
        fillUniform(key, variableId(`x${index}`), run, column);
        for (let i = 0; i < BLOCK_SIZE; i += 1) column[i] = scoreOfUniform(column[i]);
      });
      addScores(
        part,
        columns,
        columns[0].map((_, i) => indicator(resultOf(columns.map((c) => c[i])))),
        BLOCK_SIZE,
      );
      return yieldSlope(part, 1, SD[1]).bySpread;
    });
    const mean = values.reduce((sum, { value }) => sum + value / 24, 0);
    const seen = Math.sqrt(values.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / 23);
    const stated = values.reduce((sum, { standardError }) => sum + standardError / 24, 0);
    expect(stated / seen).toBeGreaterThan(1 / 1.6);
    expect(stated / seen).toBeLessThan(1.6);
  });
  it("conditional probabilities in place of 0 and 1 give the same slopes with less error", () => {
    // The third variable integrated out: given the others, y is normal with its spread 0.2.
    const smooth = sample(blocks, ([z1, z2]) => {
      const middle = resultOf([z1, z2, 0]);
      return normalCdf((5 - middle) / 0.2) + normalCdf((middle - 7.2) / 0.2);
    });
    for (const i of [0, 1]) {
      const found = yieldSlope(smooth, i, SD[i]);
      expect(Math.abs(found.byMean.value - BY_MEAN[i])).toBeLessThan(4 * found.byMean.standardError);
      expect(Math.abs(found.bySpread.value - BY_SPREAD[i])).toBeLessThan(4 * found.bySpread.standardError);
      expect(found.byMean.standardError).toBeLessThan(yieldSlope(sums, i, SD[i]).byMean.standardError);
    }
  });
  it("refuses unlike variables and a spread of 0", () => {
    expect(() => yieldSlope(sums, 0, 0)).toThrow(InternalError);
    expect(() => mergeScoreSums(emptyScoreSums(2), sums)).toThrow(InternalError);
    expect(() => addScores(emptyScoreSums(2), [new Float64Array(1)], [0], 1)).toThrow(InternalError);
  });
});
