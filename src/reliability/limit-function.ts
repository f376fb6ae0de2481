/**
 * What the methods for rare events ask of a model: a limit function over columns of standard normal scores. A unit fails where the value is below 0.
 *
 * @param scores one column a variable, of which the first `count` elements count
 * @param out receives g; must not keep the columns
 */
export type LimitFunction = (scores: readonly Float64Array[], out: Float64Array, count: number) => void;

/** Fails where any of several limits does: the least of their values. */
export function anyLimit(limits: readonly LimitFunction[]): LimitFunction {
  if (limits.length === 1) return limits[0];
  let spare = new Float64Array(0);
  return (scores, out, count) => {
    if (spare.length < count) spare = new Float64Array(count);
    limits[0](scores, out, count);
    for (let limit = 1; limit < limits.length; limit += 1) {
      limits[limit](scores, spare, count);
      for (let i = 0; i < count; i += 1) out[i] = Math.min(out[i], spare[i]);
    }
  };
}

/** Columns of one length. */
export function createColumns(dimensions: number, count: number): Float64Array[] {
  return Array.from({ length: dimensions }, () => new Float64Array(count));
}
