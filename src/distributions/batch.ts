import { normalCdf, normalQuantile } from "../numeric/special.ts";
import { scoreOfUniform } from "./normal-score.ts";
import { LEAST_UNIFORM } from "./prepared.ts";

/**
 * Gives a column of uniforms the part that all units of one batch share, in place:
 *
 *     u′ = Φ( √s·Φ⁻¹(u_batch) + √(1 − s)·Φ⁻¹(u) )
 *
 * u′ is uniform again over batches and units together, and any two units of a batch have normal scores that correlate by s.
 *
 * @param column uniforms of the units, open (0, 1)
 * @param count how many of them are used
 * @param batchUniform u_batch, the batch's own uniform, open (0, 1)
 * @param batchShareRatio s, share of the variance of the normal score between batches, 0 to 1
 */
export function combineBatch(column: Float64Array, count: number, batchUniform: number, batchShareRatio: number): void {
  if (batchShareRatio === 0) return;
  const shared = Math.sqrt(batchShareRatio) * normalQuantile(batchUniform);
  const own = Math.sqrt(1 - batchShareRatio);
  for (let i = 0; i < count; i++) column[i] = openUniform(shared + own * scoreOfUniform(column[i]));
}

/** Φ(z) kept inside the open interval that the column transforms take. */
export function openUniform(z: number): number {
  const u = normalCdf(z);
  return Math.min(Math.max(u, LEAST_UNIFORM), 1 - LEAST_UNIFORM);
}
