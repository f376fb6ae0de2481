/** Correlated variables: a Gaussian copula, laid over the uniforms so that every variable keeps its own distribution. */
import { InputError, InternalError } from "../errors.ts";
import { openUniform } from "./batch.ts";
import { scoreOfUniform } from "./normal-score.ts";

export interface Copula {
  readonly size: number;
  /** Row-major lower triangle L of the correlation matrix R = L·Lᵀ, full square. */
  readonly factor: Float64Array;
}

/** Least square of a diagonal element of L: below it one variable is all but a sum of the others. */
const LEAST_PIVOT = 1e-12;

/**
 * Factors a correlation matrix of normal scores.
 *
 * @param matrix row-major, `size`·`size`, ones on the diagonal
 * @throws InputError when it is not square, not symmetric, has no unit diagonal, or is not positive definite
 */
export function createCopula(matrix: readonly number[], size: number, path = "correlations"): Copula {
  checkMatrix(matrix, size, path);
  const factor = cholesky(matrix, size, 1);
  if (factor !== null) return { size, factor };
  throw new InputError({
    code: "conflict",
    path,
    expected: "correlations that can hold together (a positive definite matrix)",
    got: `a ${size} by ${size} matrix that contradicts itself`,
    hint: `With all correlations multiplied by ${largestShrink(matrix, size).toFixed(2)} it would do`,
  });
}

/**
 * u′ᵢ = Φ( Σⱼ Lᵢⱼ·Φ⁻¹(uⱼ) ), in place. The first variable keeps its uniforms to the bit.
 *
 * @param columns one column of open uniforms a variable, in the order of the matrix
 */
export function applyCopula(copula: Copula, columns: readonly Float64Array[], count: number): void {
  const { size, factor } = copula;
  if (columns.length !== size) throw new InternalError(`The copula joins ${size} columns, got ${columns.length}`);
  const scores = new Float64Array(size);
  for (let i = 0; i < count; i++) {
    for (let row = 0; row < size; row++) {
      scores[row] = scoreOfUniform(columns[row][i]);
      if (row === 0) continue;
      let sum = 0;
      for (let j = 0; j <= row; j++) sum += factor[row * size + j] * scores[j];
      columns[row][i] = openUniform(sum);
    }
  }
}

function checkMatrix(matrix: readonly number[], size: number, path: string): void {
  const refuse = (expected: string, got: string) => new InputError({ code: "out-of-range", path, expected, got });
  if (matrix.length !== size * size) {
    throw refuse(`${size} by ${size} correlations`, `${matrix.length} numbers`);
  }
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const value = matrix[i * size + j];
      const place = `row ${i + 1}, column ${j + 1}: ${value}`;
      if (!(value >= -1 && value <= 1)) throw refuse("correlations from -1 to 1", place);
      if (i === j && value !== 1) throw refuse("1 on the diagonal", place);
      if (value !== matrix[j * size + i]) throw refuse("the same correlation both ways", place);
    }
  }
}

/** Lower triangle of the matrix with its off-diagonal elements multiplied by `shrink`; null when it is not positive definite. */
function cholesky(matrix: readonly number[], size: number, shrink: number): Float64Array | null {
  const factor = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = i === j ? 1 : shrink * matrix[i * size + j];
      for (let k = 0; k < j; k++) sum -= factor[i * size + k] * factor[j * size + k];
      if (i !== j) factor[i * size + j] = sum / factor[j * size + j];
      else if (sum < LEAST_PIVOT) return null;
      else factor[i * size + i] = Math.sqrt(sum);
    }
  }
  return factor;
}

/** The largest factor, in hundredths, that makes the matrix positive definite. */
function largestShrink(matrix: readonly number[], size: number): number {
  for (let hundredths = 99; hundredths > 0; hundredths--) {
    if (cholesky(matrix, size, hundredths / 100) !== null) return hundredths / 100;
  }
  return 0;
}
