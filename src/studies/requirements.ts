import { countedStateNames } from "../engine/kept.ts";
import type { Tally } from "../engine/tally.ts";
import type { ModelPlan } from "../model/plan.ts";
import { isExtendedQuantity } from "../scenario/requirements.ts";
import type { ResolvedScenario, RingName } from "../scenario/types.ts";
import type { RequirementResult } from "./result.ts";
import { shareOf } from "./share.ts";

/**
 * How many units meet each requirement, state by state.
 *
 * @param tally counts of the units that it was looked at on: all of them, or the first ones with what was asked beyond the preload
 */
export function summariseRequirements(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  tally: Tally,
  extendedTally: Tally | null,
): RequirementResult[] {
  const names = countedStateNames(plan);
  return scenario.requirements.map(({ quantity, unit, low, high, states }, place) => {
    const isExtended = isExtendedQuantity(quantity);
    const counted = isExtended && extendedTally !== null ? extendedTally : tally;
    return {
      quantity,
      unit,
      low: Number.isFinite(low) ? low : null,
      high: Number.isFinite(high) ? high : null,
      isExtended,
      states: names.flatMap((state, s) =>
        states.includes(plan.states[s]?.name ?? plan.states[0].name)
          ? [{ state, share: shareOf(counted.met[s][place], counted.samples) }]
          : [],
      ),
    };
  });
}

/** Rings that nothing but seat friction holds against the preload. */
export function unheldRings(plan: ModelPlan): RingName[] {
  return plan.bearings.flatMap((bearing) =>
    (["inner", "outer"] as const)
      .filter((ring) => bearing[ring].hold === "friction")
      .map((ring): RingName => `${ring}-${bearing.key}`),
  );
}
