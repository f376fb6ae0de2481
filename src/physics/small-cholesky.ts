/** Symmetric positive definite systems of a few unknowns, in place and without allocation. */

/**
 * Cholesky factor of the leading n×n block, over itself (lower triangle).
 *
 * @param matrix row by row with `width` columns; only the lower triangle is read
 * @param floors smallest pivot accepted for each unknown, above 0
 * @returns false when a pivot falls below its floor (the matrix is singular to working accuracy); the block is then spoilt
 *
 * Source: A.-L. Cholesky; N. J. Higham, Accuracy and Stability of Numerical Algorithms, ch. 10.
 */
export function factorise(matrix: Float64Array, width: number, n: number, floors: Float64Array): boolean {
  for (let column = 0; column < n; column++) {
    let pivot = matrix[column * width + column];
    for (let k = 0; k < column; k++) pivot -= matrix[column * width + k] * matrix[column * width + k];
    if (!(pivot > floors[column])) return false;
    const root = Math.sqrt(pivot);
    matrix[column * width + column] = root;
    for (let row = column + 1; row < n; row++) {
      let sum = matrix[row * width + column];
      for (let k = 0; k < column; k++) sum -= matrix[row * width + k] * matrix[column * width + k];
      matrix[row * width + column] = sum / root;
    }
  }
  return true;
}

/** Solve with the factor of `factorise`; `vector` holds the right-hand side and then the solution. */
export function substitute(factor: Float64Array, width: number, n: number, vector: Float64Array): void {
  for (let row = 0; row < n; row++) {
    let sum = vector[row];
    for (let k = 0; k < row; k++) sum -= factor[row * width + k] * vector[k];
    vector[row] = sum / factor[row * width + row];
  }
  for (let row = n - 1; row >= 0; row--) {
    let sum = vector[row];
    for (let k = row + 1; k < n; k++) sum -= factor[k * width + row] * vector[k];
    vector[row] = sum / factor[row * width + row];
  }
}
