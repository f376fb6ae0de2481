/** First-order and total sensitivity indices by exchanging one input at a time between two sets of points. */
import { InternalError } from "../errors.ts";

/** A function over columns of inputs; must not keep them. */
export type ColumnFunction = (inputs: readonly Float64Array[], out: Float64Array, count: number) => void;

export interface SensitivityIndices {
  /** One a variable. May fall a little below 0 or above 1 by noise; nothing is cut. */
  readonly firstOrderRatio: Float64Array;
  readonly totalRatio: Float64Array;
  readonly mean: number;
  readonly variance: number;
}

/**
 * Indices of a function of independent inputs.
 *
 * Equations: S_i = mean(f_B·(f_AB - f_A))/V, T_i = mean((f_A - f_AB)²)/(2V); f_AB takes column i from B and the others from A; f is centred at its mean
 * first, which does not move the estimate's mean and takes most of its noise away; V from A and B together. Costs (variables + 2)·count evaluations. For a
 * yield give the function 0 or 1: the total index then ranks the causes of scrap, first-order indices do not.
 *
 * Use scrambled Sobol' points, of 2·variables dimensions (A from the first half), and the spread over independent scrambles for the error.
 *
 * @param first, second independent points A and B, one column a variable
 * @returns zeros where nothing varies
 * @throws InternalError for unlike numbers of columns or fewer than two points
 *
 * Source: A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259-270, Table 2 (b) and (f); the total index: M. J. W. Jansen, ibid. 117 (1999) 35-43.
 */
export function exchangeIndices(
  f: ColumnFunction,
  first: readonly Float64Array[],
  second: readonly Float64Array[],
  count: number,
): SensitivityIndices {
  if (first.length !== second.length || !(count >= 2)) {
    throw new InternalError(`no indices of ${first.length} and ${second.length} columns, ${count} points`);
  }
  const fA = new Float64Array(count);
  const fB = new Float64Array(count);
  const exchanged = new Float64Array(count);
  f(first, fA, count);
  f(second, fB, count);
  let sum = 0;
  const shift = fA[0];
  for (let i = 0; i < count; i += 1) sum += fA[i] - shift + (fB[i] - shift);
  const mean = shift + sum / (2 * count);
  let squares = 0;
  for (let i = 0; i < count; i += 1) {
    const a = fA[i] - mean;
    const b = fB[i] - mean;
    squares += a * a + b * b;
  }
  const variance = squares / (2 * count - 1);
  const firstOrderRatio = new Float64Array(first.length);
  const totalRatio = new Float64Array(first.length);
  if (variance > 0) {
    const inputs = first.slice();
    for (let variable = 0; variable < first.length; variable += 1) {
      inputs[variable] = second[variable];
      f(inputs, exchanged, count);
      inputs[variable] = first[variable];
      let product = 0;
      let difference = 0;
      for (let i = 0; i < count; i += 1) {
        const change = exchanged[i] - fA[i];
        product += (fB[i] - mean) * change;
        difference += change * change;
      }
      firstOrderRatio[variable] = product / count / variance;
      totalRatio[variable] = difference / (2 * count) / variance;
    }
  }
  return { firstOrderRatio, totalRatio, mean, variance };
}
