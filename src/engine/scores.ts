import { LEAST_UNIFORM } from "../distributions/prepared.ts";
import { normalCdf } from "../numeric/special.ts";
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
    for (let i = 0; i < count; i += 1) {
      column[i] = Math.min(1 - LEAST_UNIFORM, Math.max(LEAST_UNIFORM, normalCdf(own[i])));
    }
  });
  correlate(plan, inputs, count);
  for (const { index, transform } of plan.drawn) transform(inputs[index], count);
}
