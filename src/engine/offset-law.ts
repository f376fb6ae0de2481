import { affine } from "../distributions/affine.ts";
import { mean, standardDeviation } from "../distributions/moments.ts";
import type { ModelPlan } from "../model/plan.ts";
import { type SumLaw, sumLaw } from "../reliability/sum-law.ts";
import type { ResolvedScenario, VariableIndex } from "../scenario/types.ts";

/**
 * The law of the part of the offset that enters every state linearly: the chain's dimensions and the stand-outs. Given
 * everything else, the chance of a window is a difference of its CDF, with no sampling.
 */
export interface OffsetLaw {
  /** Variables that the law integrates over; held at their means in the samples. */
  readonly variables: readonly VariableIndex[];
  /** Law of the offset's deviation from its mean, mm. */
  readonly law: SumLaw;
  /** Spread of the offset in each state over that of the law: growth stretches a deviation too. */
  readonly stateScale: Float64Array;
}

/**
 * Sets up the law, or null where nothing enters linearly on its own (every such quantity constant or correlated).
 *
 * A deviation of a member moves the offset of a state by (1 + α(T − 20) − P/(E·A)) times what it moves the machined offset:
 * a few thousandths more. The law is stretched by that much a state, at the mean temperature and clamp force, and the states
 * are taken to move together; the yield is off by less than 1e-5 for it (held by a test against plain sampling).
 *
 * @param spread factor on the deviations of the chain's dimensions (not of the stand-outs), above 0
 */
export function compileOffsetLaw(scenario: ResolvedScenario, plan: ModelPlan, spread = 1): OffsetLaw | null {
  const correlated = new Set(scenario.correlations.flatMap(({ variables }) => variables));
  const isDrawn = (index: VariableIndex) =>
    scenario.variables[index].distribution.kind !== "constant" &&
    !correlated.has(index) &&
    Number.isFinite(standardDeviation(scenario.variables[index].distribution));
  const slopes = new Map<VariableIndex, number>();
  for (const member of plan.members) {
    if (!isDrawn(member.length)) continue;
    slopes.set(member.length, (slopes.get(member.length) ?? 0) + member.sign * member.measuredFactor);
  }
  const chain = [...slopes.keys()];
  const standOuts = plan.bearings.map((bearing) => bearing.standOut).filter(isDrawn);
  const variables = [...chain, ...standOuts];
  if (variables.length === 0) return null;
  const terms = [
    ...chain.map((index) => ({ factor: spread * slopes.get(index)!, distribution: centred(scenario, index) })),
    ...standOuts.map((index) => ({ factor: 1, distribution: centred(scenario, index) })),
  ].filter(({ factor }) => factor !== 0);
  if (terms.length === 0) return null;
  const clampN = plan.clampForce === null ? 0 : mean(scenario.variables[plan.clampForce].distribution);
  const variance = (stretch: (index: VariableIndex) => number) => {
    let sum = 0;
    for (const index of variables) {
      const slope = slopes.get(index) ?? 1;
      const sd = slope * stretch(index) * standardDeviation(scenario.variables[index].distribution);
      sum += sd * sd;
    }
    return sum;
  };
  const plain = variance(() => 1);
  const stateScale = plan.states.map((state) => {
    const stretch = (index: VariableIndex): number => {
      const member = plan.members.find(({ length }) => length === index);
      if (member === undefined) return 1;
      const rise =
        state.temperatures[state.zones[member.zone]].reduce(
          (sum, { variable, factor }) => sum + factor * mean(scenario.variables[variable].distribution),
          0,
        ) - 20;
      return 1 + member.expansionPerK * rise - member.clampPerN * clampN;
    };
    return Math.sqrt(variance(stretch) / plain);
  });
  const bench = plan.states.findIndex((state) => state.isBench);
  return {
    variables,
    law: sumLaw(terms),
    stateScale: Float64Array.from(plan.canWalk ? [...stateScale, stateScale[bench]] : stateScale),
  };
}

/** A variable's distribution about its mean. */
function centred(scenario: ResolvedScenario, index: VariableIndex) {
  const { distribution } = scenario.variables[index];
  return affine(distribution, 1, -mean(distribution));
}
