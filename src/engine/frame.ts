import { openUniform } from "../distributions/batch.ts";
import { scoreOfUniform } from "../distributions/normal-score.ts";

/**
 * Directions in the space of normal scores that take the place of the variables' own axes: one for each drawn variable, orthogonal
 * and of length 1, the most telling first. Independent standard normals stay so. Plain data.
 */
export interface ScoreFrame {
  /** `axes[k][j]`: what a step along the k-th direction adds to the score of the j-th variable. */
  readonly axes: readonly Float64Array[];
}

/** Rooms for a block of scores, kept from call to call. */
export interface FrameRoom {
  readonly along: readonly Float64Array[];
}

/** Room for blocks of at most `size` points. */
export function createFrameRoom(frame: ScoreFrame, size: number): FrameRoom {
  return { along: frame.axes.map(() => new Float64Array(size)) };
}

/**
 * Turns independent uniforms along the directions of a frame into independent uniforms of the variables, in place:
 * u → z = Φ⁻¹(u) → Σ_k z_k·axis_k → Φ.
 */
export function turnUniforms(
  { axes }: ScoreFrame,
  { along }: FrameRoom,
  columns: readonly Float64Array[],
  count: number,
): void {
  columns.forEach((column, k) => {
    const scores = along[k];
    for (let i = 0; i < count; i += 1) scores[i] = scoreOfUniform(column[i]);
  });
  columns.forEach((column, j) => {
    sumAlong(axes, along, j, column, count);
    for (let i = 0; i < count; i += 1) column[i] = openUniform(column[i]);
  });
}

/** Scores of variable j from scores along the directions. */
export function sumAlong(
  axes: readonly Float64Array[],
  along: readonly Float64Array[],
  j: number,
  out: Float64Array,
  count: number,
): void {
  out.fill(0, 0, count);
  for (let k = 0; k < axes.length; k += 1) {
    const share = axes[k][j];
    const scores = along[k];
    for (let i = 0; i < count; i += 1) out[i] += share * scores[i];
  }
}
