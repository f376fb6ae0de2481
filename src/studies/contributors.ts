import { compileDraw } from "../engine/draw.ts";
import { countedStateNames } from "../engine/kept.ts";
import type { ContributorsResult } from "../engine/tasks.ts";
import type { ModelPlan } from "../model/plan.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { valueWords } from "../scenario/words.ts";
import { pairedDifferenceInterval } from "../stats/intervals.ts";
import { firstOrderIndex } from "../stats/sensitivity.ts";
import type { Contributor, Contributors } from "./result.ts";
import type { AssumptionRange, CauseGroup } from "./variations.ts";

/**
 * Puts the contributors' counts into shares: what each cause adds to the variance of the preload, what the yield would
 * gain without it, and what the assumed values could do to it.
 */
export function summariseContributors(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  setup: { readonly causes: readonly CauseGroup[]; readonly assumptions: readonly AssumptionRange[] },
  result: ContributorsResult,
): Contributors {
  const { causes, assumptions } = setup;
  const { count, base, gained, lost } = result;
  const yieldGain = causes
    .map((cause, place) => ({ ...contributor(cause), ...gain(gained[place], lost[place], count) }))
    .sort((a, b) => b.gainRatio - a.gainRatio);
  const yieldWith = (place: number) => (base + gained[place] - lost[place]) / count;
  return {
    samples: count,
    preloadVariance: preloadVariance(scenario, plan, causes, result),
    yieldGain,
    assumptions: assumptions.map((assumption, place) => {
      const low = causes.length + 2 * place;
      return {
        label: assumption.label,
        source: assumption.source,
        lowEnd: { value: valueWords(assumption.lowValue, assumption.unit), yieldRatio: yieldWith(low) },
        highEnd: { value: valueWords(assumption.highValue, assumption.unit), yieldRatio: yieldWith(low + 1) },
      };
    }),
  };
}

function contributor({ group, groupLabel, origin }: CauseGroup): Contributor {
  return { group, groupLabel, origin };
}

function gain(gained: number, lost: number, count: number): { gainRatio: number; lowRatio: number; highRatio: number } {
  const { low, high } = pairedDifferenceInterval(gained, lost, count);
  return { gainRatio: (gained - lost) / count, lowRatio: low, highRatio: high };
}

function preloadVariance(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  causes: readonly CauseGroup[],
  result: ContributorsResult,
): Contributors["preloadVariance"] {
  const drawn = compileDraw(scenario).drawn;
  return countedStateNames(plan).map((state, stateIndex) => {
    const shareOf = (variable: number): number => {
      const place = drawn.findIndex(({ index }) => index === variable);
      return firstOrderIndex(result.bins[stateIndex][place]).indexRatio;
    };
    const rows = causes
      .map((cause) => ({
        ...contributor(cause),
        firstOrderRatio: cause.variables.reduce((sum, variable) => sum + shareOf(variable), 0),
      }))
      .sort((a, b) => b.firstOrderRatio - a.firstOrderRatio);
    return { state, rows };
  });
}
