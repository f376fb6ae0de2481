/** First-order and total indices of several outputs at once, for groups of inputs, from scrambled sets of points. */
import { InternalError } from "../errors.ts";
import { meanInterval } from "./intervals.ts";
import { momentsOf, standardDeviation } from "./moments.ts";

/** Fills every output (one column each) for `count` points; must not keep the inputs. */
export type OutputFunction = (inputs: readonly Float64Array[], outputs: readonly Float64Array[], count: number) => void;

/** An index with its 95 % interval over the replicates. */
export interface IndexEstimate {
  readonly indexRatio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
}

export interface OutputIndices {
  readonly mean: number;
  readonly variance: number;
  /** One a group. */
  readonly firstOrder: readonly IndexEstimate[];
  readonly total: readonly IndexEstimate[];
}

/**
 * Indices of groups of inputs by exchanging the columns of one group at a time between two sets of points.
 *
 * Equations: S_g = mean(f_B·(f_AB − f_A))/V, T_g = mean((f_A − f_AB)²)/(2V), f_AB with the columns of group g from B and the others from
 * A, f centred at its mean, V from A and B of all replicates together. The interval is Student's over the replicates. Costs (groups + 2)
 * evaluations a point. Inputs of one group may depend on each other, those of different groups may not.
 *
 * @param fill fills A and B of a replicate
 * @throws InternalError below two replicates or points
 *
 * Source: A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259-270, Table 2 (b); M. J. W. Jansen, ibid. 117 (1999) 35-43.
 */
export function groupIndices(
  f: OutputFunction,
  outputs: number,
  groups: readonly (readonly number[])[],
  replicates: number,
  points: number,
  fill: (replicate: number, first: readonly Float64Array[], second: readonly Float64Array[]) => void,
  createInputs: () => Float64Array[],
): OutputIndices[] {
  if (!(replicates >= 2 && points >= 2))
    throw new InternalError(`no indices of ${replicates} sets of ${points} points`);
  const columns = () => Array.from({ length: outputs }, () => new Float64Array(points));
  const first = createInputs();
  const second = createInputs();
  const mixed = first.slice();
  const ab = columns();
  // f at A and B of every replicate is kept until the mean of all is known.
  const stored = Array.from({ length: replicates }, () => ({
    a: columns(),
    b: columns(),
    exchanged: groups.map(columns),
  }));
  for (let replicate = 0; replicate < replicates; replicate += 1) {
    const { a, b, exchanged } = stored[replicate];
    fill(replicate, first, second);
    f(first, a, points);
    f(second, b, points);
    groups.forEach((group, g) => {
      for (const index of group) mixed[index] = second[index];
      f(mixed, ab, points);
      for (let o = 0; o < outputs; o += 1) exchanged[g][o].set(ab[o]);
      for (const index of group) mixed[index] = first[index];
    });
  }
  return Array.from({ length: outputs }, (_, o) => {
    const all = new Float64Array(2 * replicates * points);
    stored.forEach(({ a, b }, replicate) => {
      all.set(a[o], 2 * replicate * points);
      all.set(b[o], (2 * replicate + 1) * points);
    });
    const moments = momentsOf(all);
    const { mean } = moments;
    const variance = moments.m2 / (moments.count - 1);
    const estimate = (of: (a: number, b: number, mixedValue: number) => number, g: number): IndexEstimate => {
      if (!(variance > 0)) return { indexRatio: 0, lowRatio: 0, highRatio: 0 };
      const means = Float64Array.from(stored, ({ a, b, exchanged }) => {
        let sum = 0;
        for (let i = 0; i < points; i += 1) sum += of(a[o][i], b[o][i], exchanged[g][o][i]);
        return sum / points / variance;
      });
      const over = momentsOf(means);
      const { low, high } = meanInterval(over.mean, standardDeviation(over), over.count);
      return { indexRatio: over.mean, lowRatio: low, highRatio: high };
    };
    return {
      mean,
      variance,
      firstOrder: groups.map((__, g) => estimate((a, b, x) => (b - mean) * (x - a), g)),
      total: groups.map((__, g) => estimate((a, _b, x) => 0.5 * (a - x) * (a - x), g)),
    };
  });
}
