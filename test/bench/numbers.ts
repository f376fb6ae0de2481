/**
 * A resolved scenario as one flat list of plain numbers, which the numpy and the C version of the model read in order, so
 * that all of them share every constant. A list goes as its length and then its elements.
 */
import { prepare } from "../../src/distributions/prepare.ts";
import type { Distribution } from "../../src/distributions/types.ts";
import type { RaceCurve } from "../../src/model/contact-curve.ts";
import type { BearingPlan, MemberPlan, SeatPlan, StatePlan } from "../../src/model/plan.ts";
import { compilePlan } from "../../src/model/plan.ts";
import { normalCdf, normalSurvival } from "../../src/numeric/special.ts";
import type { ResolvedScenario } from "../../src/scenario/types.ts";

/** Kinds of a variable: 0 constant (value), 1 uniform (low, high), 2 normal (mean, sd), 3 truncated normal. */
function variableNumbers(distribution: Distribution): number[] {
  switch (distribution.kind) {
    case "constant":
      return [0, distribution.value, 0, 0, 0, 0, 0];
    case "uniform":
      return [1, distribution.low, distribution.high, 0, 0, 0, 0];
    case "normal":
      return [2, distribution.mean, distribution.sd, 0, 0, 0, 0];
    case "truncated-normal": {
      const { mean, sd, low, high } = distribution;
      const below = normalCdf((low - mean) / sd);
      return [3, mean, sd, low, high, below, 1 - below - normalSurvival((high - mean) / sd)];
    }
    default:
      throw new Error(`the comparison knows no ${distribution.kind} distribution (${prepare(distribution).mean})`);
  }
}

const list = (values: ArrayLike<number>): number[] => [values.length, ...Array.from(values)];

const curveNumbers = (curve: RaceCurve): number[] => [
  curve.centreRatio,
  curve.halfWidthRatio,
  ...list(curve.compliance),
  ...list(curve.limitLoad),
];

const seatNumbers = (seat: SeatPlan): number[] => [
  seat.ringDiameter,
  seat.mateDiameter,
  seat.smoothing,
  seat.ringZone,
  seat.mateZone,
  seat.mateExpansionPerK,
  seat.measuredFactor,
  seat.racewayRatio,
];

const bearingNumbers = (bearing: BearingPlan): number[] => [
  bearing.ballCount,
  bearing.ballDiameterMm,
  bearing.clearance,
  bearing.conformityInner,
  bearing.conformityOuter,
  bearing.standOut,
  bearing.ringExpansionPerK,
  bearing.ballExpansionPerK,
  bearing.innerRacewayMm,
  bearing.outerRacewayMm,
  bearing.ballsZone,
  ...curveNumbers(bearing.innerCurve),
  ...curveNumbers(bearing.outerCurve),
  ...seatNumbers(bearing.inner),
  ...seatNumbers(bearing.outer),
];

const memberNumbers = (member: MemberPlan): number[] => [
  member.length,
  member.sign * member.measuredFactor,
  member.zone,
  member.expansionPerK,
  member.clampPerN,
];

const stateNumbers = (state: StatePlan): number[] => [
  state.temperatures.length,
  ...state.temperatures.flatMap((terms) => [
    terms.length,
    ...terms.flatMap(({ variable, factor }) => [variable, factor]),
  ]),
  ...list(state.zones),
];

/** @throws Error for what the comparison does not model: rings that may walk, correlations, rarer distributions */
export function scenarioNumbers(scenario: ResolvedScenario): number[] {
  const plan = compilePlan(scenario);
  if (plan.canWalk) throw new Error("the comparison does not follow rings that walk");
  if (scenario.correlations.length > 0) throw new Error("the comparison knows no correlations");
  return [
    scenario.variables.length,
    ...scenario.variables.flatMap((variable) => variableNumbers(variable.distribution)),
    plan.members.length,
    ...plan.members.flatMap(memberNumbers),
    ...plan.bearings.flatMap(bearingNumbers),
    plan.clampForce ?? -1,
    plan.clampHolds ? 1 : 0,
    plan.complianceMmPerN,
    plan.limits.lowN,
    plan.limits.highN,
    Math.min(plan.limits.bindN, 1e300),
    plan.pressureLimited ? 1 : 0,
    plan.states.length,
    ...plan.states.flatMap(stateNumbers),
  ];
}
