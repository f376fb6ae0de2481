import { createColumns, type LimitFunction } from "../../src/reliability/limit-function.ts";
import { findCrossings, type LineOptions } from "../../src/reliability/line-crossings.ts";
import { shareBelow } from "../../src/reliability/line-shares.ts";
import { type Rotation, rotateColumns } from "../../src/reliability/rotation.ts";

/**
 * The probability of g < 0 along each line of rotated scores; the first rotated axis runs along the lines and is not read.
 *
 * @param out receives one probability a line
 */
export function lineProbabilities(
  limit: LimitFunction,
  rotation: Rotation,
  rotated: readonly Float64Array[],
  out: Float64Array,
  count: number,
  options: LineOptions = {},
): { evaluations: number; linesByCrossings: readonly number[] } {
  const feet = createColumns(rotated.length, count);
  for (let d = 1; d < rotated.length; d += 1) feet[d].set(rotated[d].subarray(0, count));
  rotateColumns(rotation, feet, count);
  const lines = { direction: rotation.direction, feet, count };
  const crossings = findCrossings((scores, columns, size) => limit(scores, columns[0], size), 1, lines, options);
  for (let line = 0; line < count; line += 1) out[line] = shareBelow(crossings, line, 0);
  return { evaluations: crossings.evaluations, linesByCrossings: crossings.byCrossings };
}
