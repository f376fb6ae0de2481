import { centre, practicalRange } from "../distributions/moments.ts";
import { freeContactAngleRad, grooveCentreDistanceMm } from "../physics/axial-contact.ts";
import { equivalentInnerDiameterMm, equivalentOuterDiameterMm, innerFit, outerFit } from "../physics/ring-fit.ts";
import type {
  Bearing,
  DutyState,
  ResolvedScenario,
  RingSeat,
  Side,
  VariableIndex,
  ZoneTemperature,
} from "../scenario/types.ts";
import { ZONES, type Zone } from "../scenario/types.ts";
import { fitRaceCurve, type RaceCurve } from "./contact-curve.ts";
import {
  type AdjusterPlan,
  planAdjuster,
  planShim,
  planSpring,
  planTorques,
  type ShimPlan,
  type SpringPlan,
  type TorquePlan,
} from "./device-plan.ts";
import {
  type GapPlan,
  type NetworkPlan,
  planGap,
  planNetwork,
  planRequirements,
  type RequirementPlan,
} from "./request-plan.ts";
import { nominalAimMm } from "./shim-aim.ts";

/** What holds a ring that the preload pushes off its seat. */
export type Hold = "seat" | "clamp" | "friction";

/** One seat with everything that does not change from sample to sample hoisted. */
export interface SeatPlan {
  readonly ringDiameter: VariableIndex;
  readonly mateDiameter: VariableIndex;
  readonly smoothing: VariableIndex;
  readonly ringZone: number;
  readonly mateZone: number;
  readonly mateExpansionPerK: number;
  /** Mate length measured away from 20 °C, brought back to it. */
  readonly measuredFactor: number;
  /** Growth (inner) or shrink (outer) of the raceway per mm of interference. */
  readonly racewayRatio: number;
  /** Seat pressure per mm of interference, MPa/mm. */
  readonly pressurePerMm: number;
  /** π·diameter·width, mm²: area that friction acts on. */
  readonly frictionAreaMm2: number;
  readonly hold: Hold;
}

export interface BearingPlan {
  readonly key: "a" | "b";
  /** Its clearance follows from the drawn contact angle, and its stand-out counts from ball contact. */
  readonly isAngularContact: boolean;
  readonly ballCount: number;
  readonly ballDiameterMm: number;
  readonly clearance: VariableIndex;
  readonly conformityInner: VariableIndex;
  readonly conformityOuter: VariableIndex;
  readonly standOut: VariableIndex;
  readonly ringExpansionPerK: number;
  readonly ballExpansionPerK: number;
  readonly innerRacewayMm: number;
  readonly outerRacewayMm: number;
  readonly ballsZone: number;
  readonly innerCurve: RaceCurve;
  readonly outerCurve: RaceCurve;
  /** Free contact angle at nominal clearance and conformities: where the curvatures are taken. */
  readonly nominalContactAngleRad: number;
  readonly inner: SeatPlan;
  readonly outer: SeatPlan;
}

export interface MemberPlan {
  readonly length: VariableIndex;
  /** +1 where more length means more preload. */
  readonly sign: number;
  readonly zone: number;
  readonly expansionPerK: number;
  readonly measuredFactor: number;
  /** 1/(E·A) of a member in the clamp path, 1/N; 0 otherwise. */
  readonly clampPerN: number;
}

export interface StatePlan {
  readonly name: string;
  readonly isBench: boolean;
  /** Temperatures that differ from one another in this state. */
  readonly temperatures: readonly ZoneTemperature[];
  /** Which of them each zone has, in the order of `ZONES`. */
  readonly zones: readonly number[];
  /** The heat balance that gives the temperatures instead; null where they are given. */
  readonly network: NetworkPlan | null;
}

/** A resolved scenario with every constant of the model hoisted, ready for blocks of samples. */
export interface ModelPlan {
  readonly variableCount: number;
  readonly members: readonly MemberPlan[];
  readonly bearings: readonly [BearingPlan, BearingPlan];
  readonly states: readonly StatePlan[];
  readonly clampForce: VariableIndex | null;
  readonly seatFriction: VariableIndex;
  /** Elastic give of the members that carry the preload, mm/N. */
  readonly complianceMmPerN: number;
  readonly limits: { readonly lowN: number; readonly highN: number; readonly bindN: number };
  readonly pressureLimited: boolean;
  /** A ring is held by seat friction only, so that it may walk and the bench must be looked at again. */
  readonly canWalk: boolean;
  readonly clampHolds: boolean;
  readonly spring: SpringPlan | null;
  readonly adjuster: AdjusterPlan | null;
  readonly shim: ShimPlan | null;
  readonly torques: readonly [TorquePlan, TorquePlan];
  readonly gap: GapPlan | null;
  readonly requirements: readonly RequirementPlan[];
  /** Whether the extended outputs need the offset of each pair as it stands. */
  readonly keepsEffective: boolean;
}

/** Hoists the constants of the model out of a resolved scenario. Pure: the same scenario gives the same plan. */
export function compilePlan(scenario: ResolvedScenario): ModelPlan {
  const plan = hoistPlan(scenario);
  if (plan.shim === null || !Number.isNaN(plan.shim.aimMm)) return plan;
  const means = scenario.variables.map((variable) => Float64Array.of(centre(variable.distribution)));
  return { ...plan, shim: { ...plan.shim, aimMm: nominalAimMm({ ...plan, shim: null }, plan.shim, means) } };
}

function hoistPlan(scenario: ResolvedScenario): ModelPlan {
  const direction = scenario.arrangement === "back-to-back" ? 1 : -1;
  const members = scenario.chain.map((member) => ({
    length: member.length,
    sign: direction * (member.side === "housing" ? 1 : -1) * member.factor,
    zone: zoneIndex(member.zone),
    expansionPerK: member.material.expansionPerK,
    measuredFactor: measuredFactor(member.material.expansionPerK, scenario.measuredAtC),
    clampPerN:
      member.inClampPath && member.areaMm2 !== null ? 1 / (member.material.youngsModulusMPa * member.areaMm2) : 0,
  }));
  let complianceMmPerN = 0;
  for (const member of scenario.chain) {
    if (member.carriesPreload && member.areaMm2 !== null) {
      const lengthMm = centre(scenario.variables[member.length].distribution) * Math.abs(member.factor);
      complianceMmPerN += lengthMm / (member.material.youngsModulusMPa * member.areaMm2);
    }
  }
  const bearings = [
    compileBearing(scenario, scenario.bearings.a),
    compileBearing(scenario, scenario.bearings.b),
  ] as const;
  const holds = bearings.flatMap((bearing) => [bearing.inner.hold, bearing.outer.hold]);
  return {
    variableCount: scenario.variables.length,
    members,
    bearings,
    states: scenario.states.map((state) => compileState(scenario, state)),
    clampForce: scenario.clamp === null ? null : scenario.clamp.force,
    seatFriction: scenario.seatFriction,
    complianceMmPerN,
    limits: scenario.limits,
    pressureLimited: scenario.limits.bindPressureMPa !== null,
    canWalk: holds.includes("friction"),
    clampHolds: holds.includes("clamp"),
    spring: planSpring(scenario.method),
    adjuster: planAdjuster(scenario.method),
    shim: planShim(scenario.method),
    torques: planTorques(scenario),
    gap: planGap(scenario.gap, direction, scenario.measuredAtC),
    requirements: planRequirements(scenario),
    keepsEffective: scenario.extended !== null,
  };
}

function compileState(scenario: ResolvedScenario, state: DutyState): StatePlan {
  const temperatures: ZoneTemperature[] = [];
  const seen = new Map<string, number>();
  const zones = ZONES.map((zone) => {
    const terms = state.zones[zone];
    const key = JSON.stringify(terms);
    const known = seen.get(key);
    if (known !== undefined) return known;
    seen.set(key, temperatures.length);
    temperatures.push(terms);
    return temperatures.length - 1;
  });
  return { name: state.name, isBench: state.isBench, temperatures, zones, network: planNetwork(scenario, state) };
}

/** Factor that brings a length measured at a temperature back to 20 °C. */
function measuredFactor(expansionPerK: number, measuredAtC: number): number {
  return 1 / (1 + expansionPerK * (measuredAtC - 20));
}

function zoneIndex(zone: Zone): number {
  return ZONES.indexOf(zone);
}

function compileBearing(scenario: ResolvedScenario, bearing: Bearing): BearingPlan {
  const grooveDistanceMm = grooveCentreDistanceMm(
    bearing.nominalConformityInnerRatio,
    bearing.nominalConformityOuterRatio,
    bearing.ballDiameterMm,
  );
  const contactAngleRad = freeContactAngleRad(grooveDistanceMm, Math.max(0, bearing.nominalClearanceMm));
  const limitPressureMPa = scenario.limits.bindPressureMPa;
  const curve = (race: "inner" | "outer", variable: VariableIndex): RaceCurve => {
    const range = practicalRange(scenario.variables[variable].distribution);
    const centre = 0.5 * (range.low + range.high);
    // A constant conformity still needs a range to fit over.
    const half = Math.max(0.5 * (range.high - range.low), 1e-3 * (centre - 0.5));
    return fitRaceCurve({
      race,
      ballDiameterMm: bearing.ballDiameterMm,
      pitchDiameterMm: bearing.pitchDiameterMm,
      contactAngleRad,
      ball: bearing.ballMaterial,
      ring: bearing.ringMaterial,
      lowRatio: centre - half,
      highRatio: centre + half,
      limitPressureMPa,
    });
  };
  const innerRacewayMm = bearing.pitchDiameterMm - bearing.ballDiameterMm;
  const outerRacewayMm = bearing.pitchDiameterMm + bearing.ballDiameterMm;
  const innerSeat = compileSeat(scenario, bearing, "shaft", bearing.inner, innerRacewayMm);
  const outerSeat = compileSeat(scenario, bearing, "housing", bearing.outer, outerRacewayMm);
  return {
    key: bearing.key,
    isAngularContact: bearing.kind === "angular-contact",
    ballCount: bearing.ballCount,
    ballDiameterMm: bearing.ballDiameterMm,
    clearance: bearing.clearance,
    conformityInner: bearing.conformityInner,
    conformityOuter: bearing.conformityOuter,
    standOut: bearing.standOut,
    ringExpansionPerK: bearing.ringMaterial.expansionPerK,
    ballExpansionPerK: bearing.ballMaterial.expansionPerK,
    innerRacewayMm,
    outerRacewayMm,
    ballsZone: zoneIndex(`balls-${bearing.key}`),
    innerCurve: curve("inner", bearing.conformityInner),
    outerCurve: curve("outer", bearing.conformityOuter),
    nominalContactAngleRad: contactAngleRad,
    inner: innerSeat,
    outer: outerSeat,
  };
}

function compileSeat(
  scenario: ResolvedScenario,
  bearing: Bearing,
  side: Side,
  seat: RingSeat,
  grooveBottomMm: number,
): SeatPlan {
  const ring = bearing.ringMaterial;
  const mate = seat.mateMaterial;
  const isInner = side === "shaft";
  const seatDiameterMm = isInner ? bearing.boreMm : bearing.outsideDiameterMm;
  const meanGroove = bearing.ringModel === "mean-groove";
  const fit = isInner
    ? innerFit({
        seatDiameterMm,
        shaftBoreMm: seat.mateFarDiameterMm,
        racewayDiameterMm: meanGroove
          ? equivalentInnerDiameterMm(bearing.boreMm, bearing.outsideDiameterMm)
          : grooveBottomMm,
        shaft: mate,
        ring,
      })
    : outerFit({
        seatDiameterMm,
        housingOutsideDiameterMm: seat.mateFarDiameterMm,
        racewayDiameterMm: meanGroove
          ? equivalentOuterDiameterMm(bearing.boreMm, bearing.outsideDiameterMm)
          : grooveBottomMm,
        housing: mate,
        ring,
      });
  return {
    ringDiameter: seat.ringDiameter,
    mateDiameter: seat.mateDiameter,
    smoothing: seat.smoothing,
    ringZone: zoneIndex(isInner ? `inner-${bearing.key}` : `outer-${bearing.key}`),
    mateZone: zoneIndex(side),
    mateExpansionPerK: mate.expansionPerK,
    measuredFactor: measuredFactor(mate.expansionPerK, scenario.measuredAtC),
    racewayRatio: fit.racewayRatio,
    pressurePerMm: fit.pressurePerInterferenceMPaPerMm,
    frictionAreaMm2: Math.PI * seatDiameterMm * bearing.widthMm,
    hold: holdOf(scenario, side, seat),
  };
}

/**
 * What holds a ring against the preload. Back-to-back the balls push the inner rings outboard and the outer rings
 * inboard; face-to-face the other way round. A push towards the seat is taken by the seat. A push off the seat is taken
 * by a retaining ring or cover (counted as a seat), else by the clamp of that side, else by friction alone.
 */
function holdOf(scenario: ResolvedScenario, side: Side, seat: RingSeat): Hold {
  const pushedOutboard = (scenario.arrangement === "back-to-back") === (side === "shaft");
  const pushedOnSeat = pushedOutboard === (seat.seatSide === "outboard");
  if (pushedOnSeat || seat.retained) return "seat";
  return scenario.clamp !== null && scenario.clamp.side === side ? "clamp" : "friction";
}
