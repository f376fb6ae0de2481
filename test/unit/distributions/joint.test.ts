import { describe, expect, it } from "vitest";
import { applyCopula, combineBatch, createCopula } from "../../../src/distributions/index.ts";
import { InputError, InternalError } from "../../../src/errors.ts";
import { normalQuantile } from "../../../src/numeric/special.ts";
import { pseudoUniforms } from "../../support/distributions.ts";

const N = 100_000;

function correlation(a: Float64Array, b: Float64Array): number {
  let [ab, aa, bb] = [0, 0, 0];
  for (let i = 0; i < a.length; i++) {
    const [x, y] = [normalQuantile(a[i]), normalQuantile(b[i])];
    ab += x * y;
    aa += x * x;
    bb += y * y;
  }
  return ab / Math.sqrt(aa * bb);
}

describe("Gaussian copula", () => {
  const matrix = [1, 0.6, -0.3, 0.6, 1, 0.2, -0.3, 0.2, 1];

  it("L·Lᵀ is the correlation matrix to 1e-15", () => {
    const { factor } = createCopula(matrix, 3);
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        let sum = 0;
        for (let k = 0; k < 3; k++) sum += factor[3 * i + k] * factor[3 * j + k];
        expect(sum).toBeCloseTo(matrix[3 * i + j], 15);
      }
    }
  });

  it("normal scores correlate as asked within 4.5 standard errors (false alarm 7e-6 each)", () => {
    const columns = [1, 2, 3].map((seed) => pseudoUniforms(N, seed));
    const first = columns[0].slice();
    applyCopula(createCopula(matrix, 3), columns, N);
    for (const [i, j] of [
      [0, 1],
      [0, 2],
      [1, 2],
    ]) {
      const rho = matrix[3 * i + j];
      const standardError = (1 - rho * rho) / Math.sqrt(N);
      expect(Math.abs(correlation(columns[i], columns[j]) - rho)).toBeLessThan(4.5 * standardError);
    }
    for (let k = 0; k < 100; k++) expect(columns[0][k]).toBeCloseTo(first[k], 14);
  });

  it("every column stays uniform (Kolmogorov–Smirnov, 2.1/√n, false alarm 3e-4 each) and open", () => {
    const columns = [4, 5, 6].map((seed) => pseudoUniforms(N, seed));
    columns.forEach((column, i) => {
      column[0] = i === 0 ? 2 ** -53 : 1 - 2 ** -53;
    });
    applyCopula(createCopula(matrix, 3), columns, N);
    for (const column of columns) {
      const sorted = column.slice().sort();
      expect(sorted[0]).toBeGreaterThan(0);
      expect(sorted[N - 1]).toBeLessThan(1);
      let distance = 0;
      sorted.forEach((u, i) => {
        distance = Math.max(distance, Math.abs(u - (i + 0.5) / N));
      });
      expect(distance).toBeLessThan(2.1 / Math.sqrt(N));
    }
  });

  it("no correlation changes nothing past the rounding", () => {
    const columns = [pseudoUniforms(1000, 1), pseudoUniforms(1000, 2)];
    const before = columns.map((column) => column.slice());
    applyCopula(createCopula([1, 0, 0, 1], 2), columns, 1000);
    columns.forEach((column, i) => {
      column.forEach((u, k) => {
        expect(Math.abs(u - before[i][k])).toBeLessThan(1e-15);
      });
    });
  });

  it("refuses contradicting correlations and says how far to lower them", () => {
    const impossible = [1, 0.9, -0.9, 0.9, 1, 0.9, -0.9, 0.9, 1];
    // Eigenvalues of the off-diagonal part: −1.8, .9, .9; so 1 − 1.8·s > 0 up to s = 0.555.
    expect(() => createCopula(impossible, 3)).toThrow(/multiplied by 0\.55/);
    expect(() => createCopula([1, 1, 1, 1], 2)).toThrow(InputError);
  });

  it.each([
    ["a wrong size", [1, 0, 1], 2],
    ["no unit diagonal", [2, 0, 0, 1], 2],
    ["asymmetry", [1, 0.1, 0.2, 1], 2],
    ["a correlation above 1", [1, 1.5, 1.5, 1], 2],
    ["NaN", [1, Number.NaN, Number.NaN, 1], 2],
  ])("refuses %s", (_, values, size) => {
    expect(() => createCopula(values, size)).toThrow(InputError);
  });

  it("the wrong number of columns is a fault of the program", () => {
    expect(() => applyCopula(createCopula([1, 0, 0, 1], 2), [new Float64Array(1)], 1)).toThrow(InternalError);
  });
});

describe("combineBatch", () => {
  const batches = 2000;
  const share = 0.4;

  it("units of one batch correlate by the share (one-way analysis of variance, within 4.5 standard errors)", () => {
    const starts = pseudoUniforms(batches, 7);
    let [between, within] = [0, 0];
    const perBatch = 20;
    for (let batch = 0; batch < batches; batch++) {
      const column = pseudoUniforms(perBatch, 100 + batch);
      combineBatch(column, perBatch, starts[batch], share);
      const scores = [...column].map(normalQuantile);
      const middle = scores.reduce((sum, z) => sum + z, 0) / perBatch;
      between += (perBatch * middle * middle) / batches;
      within += scores.reduce((sum, z) => sum + (z - middle) ** 2, 0) / (batches * (perBatch - 1));
    }
    const found = (between - within) / (between + (perBatch - 1) * within);
    const standardError =
      ((1 - share) * (1 + (perBatch - 1) * share) * Math.sqrt(2)) / Math.sqrt(perBatch * (perBatch - 1) * batches);
    expect(Math.abs(found - share)).toBeLessThan(4.5 * standardError);
  });

  it("a share of 0 leaves the uniforms to the bit, a share of 1 makes all units the batch's own", () => {
    const column = pseudoUniforms(50, 3);
    const before = column.slice();
    combineBatch(column, 50, 0.2, 0);
    expect(column).toEqual(before);
    combineBatch(column, 50, 0.2, 1);
    for (const u of column) expect(u).toBeCloseTo(0.2, 15);
  });

  it("stays inside the open interval at both ends", () => {
    const column = Float64Array.of(2 ** -53, 1 - 2 ** -53);
    combineBatch(column, 2, 2 ** -53, 0.5);
    expect(column[0]).toBe(2 ** -53);
    const other = Float64Array.of(1 - 2 ** -53);
    combineBatch(other, 1, 1 - 2 ** -53, 0.5);
    expect(other[0]).toBe(1 - 2 ** -53);
  });
});
