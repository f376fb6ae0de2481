import { affine } from "../../distributions/affine.ts";
import { standardDeviation } from "../../distributions/moments.ts";
import type { ModelPlan } from "../../model/plan.ts";
import type { ResolvedScenario, VariableIndex } from "../../scenario/types.ts";
import { usualRange } from "../../scenario/words.ts";

/** A dimension of the chain that a drawing can change. */
export interface DrawnMember {
  readonly name: string;
  readonly variable: VariableIndex;
  /** Change of the offset per change of the dimension. */
  readonly slopeRatio: number;
  /** Middle of its limits and half the distance between them (±3 sigma where it has none), mm. */
  readonly nominalMm: number;
  readonly toleranceMm: number;
  /** Standard deviation of the offset that it makes, mm. */
  readonly offsetSdMm: number;
}

/** The dimensions of the chain, in the order of the scenario; ring widths and springs are not on this drawing. */
export function drawnMembers(scenario: ResolvedScenario, plan: ModelPlan): DrawnMember[] {
  const members: DrawnMember[] = [];
  for (const { name, length } of scenario.chain) {
    if (scenario.variables[length].group !== "chain dimensions") continue;
    const slopeRatio = plan.members.reduce(
      (sum, member) => (member.length === length ? sum + member.sign * member.measuredFactor : sum),
      0,
    );
    if (slopeRatio === 0 || members.some(({ variable }) => variable === length)) continue;
    const { distribution } = scenario.variables[length];
    const { low, high } = usualRange(distribution);
    members.push({
      name,
      variable: length,
      slopeRatio,
      nominalMm: 0.5 * (low + high),
      toleranceMm: 0.5 * (high - low),
      offsetSdMm: distribution.kind === "constant" ? 0 : Math.abs(slopeRatio) * standardDeviation(distribution),
    });
  }
  return members;
}

/**
 * The scenario with dimensions moved and their spread scaled about the middle of their limits: as the drawing would be changed.
 * The draws stay the same.
 */
export function withDimensions(
  scenario: ResolvedScenario,
  changes: readonly { readonly member: DrawnMember; readonly shiftMm: number; readonly toleranceRatio: number }[],
): ResolvedScenario {
  const variables = scenario.variables.slice();
  for (const { member, shiftMm, toleranceRatio } of changes) {
    const variable = variables[member.variable];
    const { distribution } = variable;
    if (distribution.kind === "constant") {
      variables[member.variable] = { ...variable, distribution: affine(distribution, 1, shiftMm) };
      continue;
    }
    const centre = member.nominalMm;
    const scaled = affine(distribution, toleranceRatio, centre * (1 - toleranceRatio) + shiftMm);
    variables[member.variable] = { ...variable, distribution: scaled };
  }
  return { ...scenario, variables };
}
