/** Eigenvalues and eigenvectors of small symmetric matrices. */
import { InternalError } from "../errors.ts";

const MOST_SWEEPS = 60;

export interface SymmetricEigen {
  /** Largest first. */
  readonly values: Float64Array;
  /** Orthonormal, in the order of the values. */
  readonly vectors: readonly Float64Array[];
}

/**
 * Jacobi's method: turns planes until nothing is left beside the diagonal. Accurate to a few units of rounding of the largest eigenvalue; only sums,
 * products, quotients and square roots, so that every runtime gives the same bits.
 *
 * @param matrix rows of a symmetric matrix; only the upper triangle is read
 * @throws InternalError where an element is not finite
 *
 * Source: C. G. J. Jacobi, J. reine angew. Math. 30 (1846) 51-94; G. H. Golub, C. F. Van Loan, Matrix Computations, section 8.5 (cyclic by row).
 */
export function symmetricEigen(matrix: readonly ArrayLike<number>[]): SymmetricEigen {
  const n = matrix.length;
  const a = matrix.map((row, i) => Float64Array.from({ length: n }, (_, j) => (j < i ? matrix[j][i] : row[j])));
  if (a.some((row) => !row.every(Number.isFinite))) throw new InternalError("no eigenvalues of what is not finite");
  // Row p is what will be the p-th eigenvector.
  const vectors = a.map((_, i) => Float64Array.from({ length: n }, (_, j) => (i === j ? 1 : 0)));
  for (let sweep = 0; sweep < MOST_SWEEPS && !isDiagonal(a); sweep += 1) {
    for (let p = 0; p < n; p += 1) for (let q = p + 1; q < n; q += 1) turnPlane(a, vectors, p, q);
  }
  const order = Array.from(vectors.keys()).sort((i, j) => a[j][j] - a[i][i] || i - j);
  return { values: Float64Array.from(order, (i) => a[i][i]), vectors: order.map((i) => vectors[i]) };
}

function isDiagonal(a: readonly Float64Array[]): boolean {
  let off = 0;
  let all = 0;
  a.forEach((row, i) => {
    row.forEach((x, j) => {
      all += x * x;
      if (i !== j) off += x * x;
    });
  });
  return off <= 1e-32 * all;
}

/** Turns the plane of two axes so that the element between them vanishes. */
function turnPlane(a: readonly Float64Array[], vectors: readonly Float64Array[], p: number, q: number): void {
  const between = a[p][q];
  if (between === 0) return;
  const theta = (a[q][q] - a[p][p]) / (2 * between);
  const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  for (const row of a) {
    const [x, y] = [row[p], row[q]];
    row[p] = c * x - s * y;
    row[q] = s * x + c * y;
  }
  turnRows(a[p], a[q], c, s);
  turnRows(vectors[p], vectors[q], c, s);
  a[p][q] = 0;
  a[q][p] = 0;
}

function turnRows(first: Float64Array, second: Float64Array, c: number, s: number): void {
  for (let k = 0; k < first.length; k += 1) {
    const [x, y] = [first[k], second[k]];
    first[k] = c * x - s * y;
    second[k] = s * x + c * y;
  }
}
