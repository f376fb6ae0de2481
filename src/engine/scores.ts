import { openUniform } from "../distributions/batch.ts";
import { scoreOfUniform } from "../distributions/normal-score.ts";
import { fillScrambledSobol, scrambleKey } from "../random/owen.ts";
import { correlate, type DrawPlan } from "./draw.ts";

/**
 * Draws units from independent standard normal scores instead of streams: z → u = Φ(z) → inverse CDF, with the same
 * correlations. Scores beyond about ±8.2 are taken as that.
 *
 * @param scores one column a drawn variable, in the order of the plan
 */
export function drawScores(
  plan: DrawPlan,
  scores: readonly Float64Array[],
  inputs: readonly Float64Array[],
  count: number,
): void {
  plan.drawn.forEach(({ index }, place) => {
    const column = inputs[index];
    const own = scores[place];
    for (let i = 0; i < count; i += 1) column[i] = openUniform(own[i]);
  });
  correlate(plan, inputs, count);
  for (const { index, transform } of plan.drawn) transform(inputs[index], count);
}

/**
 * Fills independent normal scores from points `first` … of one replicate of a scrambled Sobol' sequence, one column a dimension,
 * each scrambled by the name of a variable.
 *
 * @param out at most as many columns as variables are drawn and as there are published dimensions
 */
export function fillSobolScores(
  plan: DrawPlan,
  replicate: number,
  first: number,
  count: number,
  out: readonly Float64Array[],
): void {
  out.forEach((column, dimension) => {
    fillScrambledSobol(scrambleKey(plan.key, replicate, plan.drawn[dimension].id), dimension + 1, first, count, column);
    for (let i = 0; i < count; i += 1) column[i] = scoreOfUniform(column[i]);
  });
}
