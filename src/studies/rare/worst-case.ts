import { prepare } from "../../distributions/prepare.ts";
import type { LimitFunction } from "../../reliability/limit-function.ts";
import { createColumns } from "../../reliability/limit-function.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";

/** Scores at which a bounded variable stands at its limit to the last digit. */
const END_SCORE = 8.2;

/** Changes of one variable at a time before a search ends. */
const MOST_FLIPS = 200;

/** Whether every drawn quantity has a least and a greatest value. */
export function isBounded(scenario: ResolvedScenario): boolean {
  return scenario.variables.every(({ distribution }) => {
    if (distribution.kind === "constant") return true;
    const { low, high } = prepare(distribution);
    return Number.isFinite(low) && Number.isFinite(high);
  });
}

/**
 * The least value of a limit function with every variable at one end of its range: the worst case of the trade. Each variable
 * first goes to the end that is worse with all others in the middle; then one at a time is turned to its other end as long
 * as that lowers the value.
 *
 * Exact where each variable works one way whatever the others are, as dimensions, clearances and temperatures do; correlations
 * are left out of account, which only widens what can be reached.
 */
export function worstCase(limit: LimitFunction, dimensions: number): { value: number; evaluations: number } {
  const trials = createColumns(dimensions, 2 * dimensions);
  const values = new Float64Array(2 * dimensions);
  let evaluations = 0;
  const ask = (count: number, at: (d: number, i: number) => number) => {
    for (let d = 0; d < dimensions; d += 1) for (let i = 0; i < count; i += 1) trials[d][i] = at(d, i);
    limit(trials, values, count);
    evaluations += count;
  };
  ask(2 * dimensions, (d, i) => (d === i >> 1 ? END_SCORE * (1 - 2 * (i & 1)) : 0));
  const point = Float64Array.from({ length: dimensions }, (_, d) =>
    values[2 * d] <= values[2 * d + 1] ? END_SCORE : -END_SCORE,
  );
  ask(1, (d) => point[d]);
  let value = values[0];
  for (let flip = 0; flip < MOST_FLIPS; flip += 1) {
    ask(dimensions, (d, i) => (d === i ? -point[d] : point[d]));
    let least = 0;
    for (let d = 1; d < dimensions; d += 1) if (values[d] < values[least]) least = d;
    if (!(values[least] < value)) break;
    value = values[least];
    point[least] = -point[least];
  }
  return { value, evaluations };
}
