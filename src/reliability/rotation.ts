/** Rotation of the space of normal scores, so that its first axis points along a direction of choice. */
import { InternalError } from "../errors.ts";

/** A Householder reflection H = I - 2vvᵀ/|v|²; its own inverse. Independent standard normals stay so. */
export interface Rotation {
  readonly direction: Float64Array;
  readonly vector: Float64Array;
  /** 2/|v|², or 0 where the direction is the first axis already. */
  readonly scale: number;
}

/**
 * The reflection that carries the first axis to the direction: H·e₁ = a, with v = e₁ - a.
 *
 * @param direction any length but 0
 * @throws InternalError when it has no length
 *
 * Source: A. S. Householder, J. ACM 5 (1958) 339-342. 1 - a₁ is taken as Σ aᵢ²/(1 + a₁), so that directions near the axis lose no digits.
 */
export function rotationTo(direction: ArrayLike<number>): Rotation {
  const largest = Array.from(direction).reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  if (!(largest > 0 && largest < Number.POSITIVE_INFINITY)) throw new InternalError("a direction needs a length");
  const unit = Float64Array.from(direction, (x) => x / largest);
  let square = 0;
  for (const x of unit) square += x * x;
  const length = Math.sqrt(square);
  for (let d = 0; d < unit.length; d += 1) unit[d] /= length;
  let rest = 0;
  for (let d = 1; d < unit.length; d += 1) rest += unit[d] * unit[d];
  const vector = unit.map((x) => -x);
  vector[0] = unit[0] > 0 ? rest / (1 + unit[0]) : 1 - unit[0];
  const norm = vector[0] * vector[0] + rest;
  return { direction: unit, vector, scale: norm > 0 ? 2 / norm : 0 };
}

/** Applies the reflection to every point, in place: rotated scores to scores of the variables, or back. */
export function rotateColumns(rotation: Rotation, columns: readonly Float64Array[], count: number): void {
  const { vector, scale } = rotation;
  if (columns.length !== vector.length) throw new InternalError(`no rotation of ${columns.length} columns`);
  if (scale === 0) return;
  const along = new Float64Array(count);
  for (let d = 0; d < columns.length; d += 1) {
    const [column, v] = [columns[d], vector[d]];
    for (let i = 0; i < count; i += 1) along[i] += v * column[i];
  }
  for (let d = 0; d < columns.length; d += 1) {
    const [column, step] = [columns[d], scale * vector[d]];
    for (let i = 0; i < count; i += 1) column[i] -= step * along[i];
  }
}

/**
 * The direction in which the values change most on average, from samples: E[z·(g - mean g)], which for standard normals is the mean gradient.
 *
 * @returns not normed; all zeros when nothing changes
 *
 * Source: C. M. Stein, "Estimation of the mean of a multivariate normal distribution", Ann. Statist. 9 (1981) 1135-1151.
 */
export function meanGradient(scores: readonly Float64Array[], values: Float64Array, count: number): Float64Array {
  let mean = 0;
  for (let i = 0; i < count; i += 1) mean += values[i] / count;
  return Float64Array.from(scores, (column) => {
    let sum = 0;
    for (let i = 0; i < count; i += 1) sum += column[i] * (values[i] - mean);
    return sum / count;
  });
}
