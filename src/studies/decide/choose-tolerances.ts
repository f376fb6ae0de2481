import { mean } from "../../distributions/moments.ts";
import { compileOffsetLaw } from "../../engine/offset-law.ts";
import { type WindowSet, windowChances } from "../../engine/window-set.ts";
import { compilePlan } from "../../model/plan.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { chooseSteps } from "../../stats/tolerance-allocation.ts";
import { type Assessment, overReplicates, type RatioEstimate } from "./assess.ts";
import { bestNominal } from "./best-nominal.ts";
import type { ChainSpread } from "./chain-spread.ts";
import { type DrawnMember, drawnMembers, withDimensions } from "./moved.ts";
import { continuousOptimum, type Grid, stepsOf, type TolerancePart } from "./tolerance-parts.ts";

/** How often the budget is made smaller until the exact law reaches the target. */
const MOST_ROUNDS = 12;
const SMALLER_RATIO = 0.985;

/** What may be put on the drawing. */
export interface DrawingRules {
  readonly grid: Grid;
  /** The member that takes up a move of the nominal offset, where it may move, and the step it goes by, mm. */
  readonly moved: DrawnMember;
  readonly movesNominal: boolean;
  readonly resolutionMm: number;
}

export interface ChosenTolerances {
  readonly scenario: ResolvedScenario;
  /** One a free part of the chain. */
  readonly tolerances: readonly { readonly mm: number; readonly name: string }[];
  readonly shiftMm: number;
  readonly good: RatioEstimate;
  readonly isProven: boolean;
}

/**
 * The cheapest tolerances in steps of the drawing whose yield, by their own exact law, surely reaches the target.
 *
 * @param spreadRatio of the whole chain, that the search begins at
 * @returns null where none does
 */
export function chooseTolerances(
  base: Assessment,
  windows: WindowSet,
  chain: ChainSpread,
  rules: DrawingRules,
  spreadRatio: number,
  targetRatio: number,
): ChosenTolerances | null {
  let budgetMm = chain.budgetMm(spreadRatio);
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const chosen = chooseWithin(base, windows, chain.free, rules, budgetMm);
    if (chosen === null || chosen.good.lowRatio >= targetRatio) return chosen;
    budgetMm *= SMALLER_RATIO;
  }
  return null;
}

function chooseWithin(
  base: Assessment,
  windows: WindowSet,
  free: readonly TolerancePart[],
  rules: DrawingRules,
  budgetMm: number,
): ChosenTolerances | null {
  const continuous = continuousOptimum(free, budgetMm);
  if (continuous === null) return null;
  const listed = free.map((part, i) => ({ weight: part.weight, steps: stepsOf(part, rules.grid, continuous[i]) }));
  const found = chooseSteps(listed, budgetMm, 2);
  if (found === null) return null;
  const tolerances = found.chosen.map((place, i) => {
    const { tolerance, name } = listed[i].steps[place];
    return { mm: tolerance, name };
  });
  const scaled = withDimensions(
    base.scenario,
    free.map(({ member }, i) => ({ member, shiftMm: 0, toleranceRatio: tolerances[i].mm / member.toleranceMm })),
  );
  const shiftMm = rules.movesNominal ? bestNominal(windows, lawOf(scaled)).shiftMm : 0;
  const stepMm = nominalStepMm(rules, shiftMm);
  const scenario =
    stepMm === 0 ? scaled : withDimensions(scaled, [{ member: rules.moved, shiftMm: stepMm, toleranceRatio: 1 }]);
  return { scenario, tolerances, shiftMm, good: yieldOf(scenario, base, windows), isProven: found.isProven };
}

/** What the drawing's nominal is changed by for a shift of the offset: a whole number of steps, mm. */
export function nominalStepMm({ moved, movesNominal, resolutionMm }: DrawingRules, shiftMm: number): number {
  const target = moved.nominalMm + shiftMm / moved.slopeRatio;
  return movesNominal ? resolutionMm * Math.round(target / resolutionMm) - moved.nominalMm : 0;
}

function lawOf(scenario: ResolvedScenario) {
  return compileOffsetLaw(scenario, compilePlan(scenario), [])!.law;
}

/** Yield of a changed chain on the windows of the unchanged one, by its own exact law. */
function yieldOf(changed: ResolvedScenario, base: Assessment, windows: WindowSet): RatioEstimate {
  let shiftMm = 0;
  for (const { variable, slopeRatio } of drawnMembers(base.scenario, base.plan)) {
    const from = base.scenario.variables[variable].distribution;
    const to = changed.variables[variable].distribution;
    shiftMm += slopeRatio * (mean(to) - mean(from));
  }
  return overReplicates(windowChances(windows, windows, lawOf(changed), shiftMm));
}
