import { expect, test } from "vitest";
import { InternalError } from "../../../src/errors.ts";
import { symmetricEigen } from "../../../src/numeric/symmetric-eigen.ts";

test("Rosser's matrix: double, nearly equal, zero and opposite eigenvalues, known in closed form", () => {
  // Source: J. B. Rosser, C. Lanczos, M. R. Hestenes, W. Karush, J. Res. Nat. Bur. Standards 47 (1951) 291-297.
  const rosser = [
    [611, 196, -192, 407, -8, -52, -49, 29],
    [196, 899, 113, -192, -71, -43, -8, -44],
    [-192, 113, 899, 196, 61, 49, 8, 52],
    [407, -192, 196, 611, 8, 44, 59, -23],
    [-8, -71, 61, 8, 411, -599, 208, 208],
    [-52, -43, 49, 44, -599, 411, 208, 208],
    [-49, -8, 8, 59, 208, 208, 99, -911],
    [29, -44, 52, -23, 208, 208, -911, 99],
  ];
  const root = Math.sqrt(10405);
  const exact = [10 * root, 1020, 510 + 100 * Math.sqrt(26), 1000, 1000, 510 - 100 * Math.sqrt(26), 0, -10 * root];
  const { values, vectors } = symmetricEigen(rosser);
  exact.forEach((value, place) => {
    expect(Math.abs(values[place] - value), `${place}`).toBeLessThan(1e-11 * 1020);
  });
  vectors.forEach((vector, i) => {
    rosser.forEach((row, k) => {
      const product = row.reduce((sum, x, j) => sum + x * vector[j], 0);
      expect(Math.abs(product - values[i] * vector[k])).toBeLessThan(1e-9);
    });
    vectors.forEach((other, j) => {
      const product = vector.reduce((sum, x, k) => sum + x * other[k], 0);
      expect(product).toBeCloseTo(i === j ? 1 : 0, 13);
    });
  });
});

test("a diagonal matrix is put in order, nothing is nothing, and what is not finite is refused", () => {
  const { values, vectors } = symmetricEigen([
    [1, 0, 0],
    [0, 3, 0],
    [0, 0, 2],
  ]);
  expect(Array.from(values)).toEqual([3, 2, 1]);
  expect(vectors.map((vector) => vector.indexOf(1))).toEqual([1, 2, 0]);
  expect(symmetricEigen([]).values.length).toBe(0);
  expect(() => symmetricEigen([[Number.NaN]])).toThrow(InternalError);
});
