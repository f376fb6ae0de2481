import { staticEquivalentLoadN } from "../physics/equivalent-load.ts";
import { frictionFactors, frictionLoadN, loadTorqueNmm } from "../physics/friction-torque.ts";
import type { Bearing, PreloadMethod, ResolvedScenario, VariableIndex } from "../scenario/types.ts";
import { INNER_SEAT_LOST_A, INNER_SEAT_LOST_B, OUTER_SEAT_LOST_A, OUTER_SEAT_LOST_B } from "./outcome.ts";

/** A spring with its counts hoisted: rate = drawn · rateRatio, travel = travelRatio · (drawn length less drawn end). */
export interface SpringPlan {
  readonly rate: VariableIndex;
  readonly rateRatio: number;
  /** Minuend and subtrahend of the travel; null stands for 0, both null for a spring without an end. */
  readonly travelFrom: VariableIndex | null;
  readonly travelLess: VariableIndex | null;
  readonly travelRatio: number;
  /** Which bearing's ring slides, 0 for a, and the flag that says its seat is loose, as it must be. */
  readonly slidingBearing: 0 | 1;
  readonly looseFlag: number;
}

/** Friction torque of one bearing under an axial load, M = loadScale·F^exponent, beside what it has without load. */
export interface TorquePlan {
  readonly loadScale: number;
  readonly exponent: number;
  readonly greaseFactor: number;
  readonly oilBathFactor: number;
  readonly pitchDiameterMm: number;
}

export interface AdjusterPlan {
  readonly setting: "advance" | "torque";
  readonly value: VariableIndex;
  readonly noLoadTorque: VariableIndex | null;
}

export interface ShimPlan {
  readonly measure: "dimensions" | "play";
  readonly stepMm: number;
  readonly lowMm: number;
  readonly highMm: number;
  readonly error: VariableIndex;
  /** NaN until the nominal window is known. */
  readonly aimMm: number;
}

const LOOSE_FLAGS = {
  "outer-a": OUTER_SEAT_LOST_A,
  "outer-b": OUTER_SEAT_LOST_B,
  "inner-a": INNER_SEAT_LOST_A,
  "inner-b": INNER_SEAT_LOST_B,
} as const;

/** The spring of a method in the form the model reads; null where the preload is set otherwise. */
export function planSpring(method: PreloadMethod): SpringPlan | null {
  if (method.kind !== "spring") return null;
  const { end, slides, parallelCount, seriesCount } = method;
  return {
    rate: method.rate,
    rateRatio: parallelCount / seriesCount,
    travelFrom: end === null ? null : end.kind === "solid" ? method.freeLength : end.variable,
    travelLess: end?.kind === "solid" ? end.variable : null,
    travelRatio: seriesCount,
    slidingBearing: slides.endsWith("a") ? 0 : 1,
    looseFlag: LOOSE_FLAGS[slides],
  };
}

/** The adjuster of a method; null where there is none. */
export function planAdjuster(method: PreloadMethod): AdjusterPlan | null {
  return method.kind === "adjuster"
    ? { setting: method.setting, value: method.value, noLoadTorque: method.noLoadTorque }
    : null;
}

/** The choice of shims of a method; null where there is none. Without an aim given it is NaN until the plan has found one. */
export function planShim(method: PreloadMethod): ShimPlan | null {
  if (method.kind !== "shim") return null;
  const { measure, stepMm, lowMm, highMm, error, aimMm } = method;
  return { measure, stepMm, lowMm, highMm, error, aimMm: aimMm ?? Number.NaN };
}

/** A pure power law in the axial load, since the equivalent loads are in proportion to it. */
function planTorque(bearing: Bearing): TorquePlan {
  const factors = frictionFactors(bearing.frictionSeries);
  const staticN = staticEquivalentLoadN({
    radialN: 0,
    axialN: 1,
    contactAngleRad: tabulatedAngleRad(bearing.nominalContactAngleRad),
  });
  const loadScale = loadTorqueNmm(
    factors,
    staticN,
    bearing.staticRatingN,
    frictionLoadN(0, 1, bearing.kind),
    bearing.pitchDiameterMm,
  );
  return {
    loadScale,
    exponent: 1 + factors.loadExponent,
    greaseFactor: factors.greaseFactor,
    oilBathFactor: factors.oilBathFactor,
    pitchDiameterMm: bearing.pitchDiameterMm,
  };
}

const TABULATED_DEG = [0, 15, 20, 25, 30, 35, 40, 45];

/** The angle nearest to a contact angle that the standards tabulate load factors for, rad. */
export function tabulatedAngleRad(angleRad: number): number {
  if (angleRad === 0) return 0;
  const degrees = (angleRad * 180) / Math.PI;
  const nearest = TABULATED_DEG.slice(1).reduce((best, candidate) =>
    Math.abs(candidate - degrees) < Math.abs(best - degrees) ? candidate : best,
  );
  return (nearest * Math.PI) / 180;
}

/** Friction torque over the preload of both bearings. */
export function planTorques({ bearings }: ResolvedScenario): readonly [TorquePlan, TorquePlan] {
  return [planTorque(bearings.a), planTorque(bearings.b)];
}
