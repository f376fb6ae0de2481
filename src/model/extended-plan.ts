import { practicalRange } from "../distributions/moments.ts";
import { cos } from "../numeric/elementary.ts";
import { type FrictionFactors, frictionFactors } from "../physics/friction-torque.ts";
import { groovedContact } from "../physics/hertz.ts";
import { staticFactor } from "../physics/rating-factors.ts";
import type {
  Bearing,
  ExtendedRequest,
  InternalUnit,
  RequirementQuantity,
  ResolvedScenario,
  VariableIndex,
} from "../scenario/types.ts";
import { fitLowest } from "./contact-curve.ts";
import { tabulatedAngleRad } from "./device-plan.ts";

/** What is worked out beyond the preload, one column a state, in this order. */
export const EXTENDED_COLUMNS = [
  { name: "contactAngleRad", unit: "rad", label: "contact angle of the most loaded ball" },
  { name: "ballLoadN", unit: "N", label: "largest ball load" },
  { name: "pressureInnerMPa", unit: "MPa", label: "largest Hertz pressure at an inner race" },
  { name: "pressureOuterMPa", unit: "MPa", label: "largest Hertz pressure at an outer race" },
  { name: "shoulderRoomRad", unit: "rad", label: "room of the contact ellipse to the groove shoulder" },
  { name: "axialStiffnessNPerMm", unit: "N/mm", label: "axial stiffness of the pair" },
  { name: "radialStiffnessNPerMm", unit: "N/mm", label: "radial stiffness of the pair" },
  { name: "tiltStiffnessNMmPerRad", unit: "N.mm/rad", label: "tilt stiffness of the pair" },
  { name: "movementAtRadiusMm", unit: "mm", label: "axial movement of the rim under the side load" },
  { name: "playAtRadiusMm", unit: "mm", label: "axial play of the rim" },
  { name: "liftOffN", unit: "N", label: "axial load that unloads a bearing" },
  { name: "frictionTorqueNMm", unit: "N.mm", label: "friction torque of both bearings" },
  { name: "basicLifeH", unit: "h", label: "basic rating life of both bearings" },
  { name: "ballLoadLifeH", unit: "h", label: "life of both bearings from the ball loads" },
] as const satisfies readonly { name: string; unit: InternalUnit; label: string }[];

export type ExtendedColumn = (typeof EXTENDED_COLUMNS)[number]["name"];

/** Which columns a requirement looks at; all of them must lie in its limits. */
const REQUIRED_COLUMNS: Readonly<Partial<Record<RequirementQuantity, readonly ExtendedColumn[]>>> = {
  "contact angle": ["contactAngleRad"],
  "ball load": ["ballLoadN"],
  pressure: ["pressureInnerMPa", "pressureOuterMPa"],
  "axial stiffness": ["axialStiffnessNPerMm"],
  "radial stiffness": ["radialStiffnessNPerMm"],
  "tilt stiffness": ["tiltStiffnessNMmPerRad"],
  "movement at radius": ["movementAtRadiusMm"],
  "play at radius": ["playAtRadiusMm"],
  "lift-off load": ["liftOffN"],
  "friction torque": ["frictionTorqueNMm"],
  "basic life": ["basicLifeH"],
  "ball-load life": ["ballLoadLifeH"],
};

/** Pressure and half length of the contact ellipse per cube root of the ball load, over the conformity (polynomials). */
export interface EllipseCurve {
  readonly centreRatio: number;
  readonly halfWidthRatio: number;
  readonly pressure: Float64Array;
  readonly semiMajor: Float64Array;
}

export interface ExtendedBearingPlan {
  readonly ballCount: number;
  readonly ballDiameterMm: number;
  readonly pitchDiameterMm: number;
  readonly dynamicRatingN: number;
  readonly staticRatingN: number;
  readonly kind: Bearing["kind"];
  /** Contact angle that the standards' factors are tabulated for, rad. */
  readonly tabulatedAngleRad: number;
  readonly nominalContactAngleRad: number;
  /** f₀ of ISO 76. */
  readonly relativeLoadFactor: number;
  readonly friction: FrictionFactors;
  readonly lubricantFactor: number;
  readonly conformityInner: VariableIndex;
  readonly conformityOuter: VariableIndex;
  readonly inner: EllipseCurve;
  readonly outer: EllipseCurve;
}

export interface ExtendedPlan {
  readonly request: ExtendedRequest;
  readonly arrangementSign: 1 | -1;
  readonly bearings: readonly [ExtendedBearingPlan, ExtendedBearingPlan];
  /** Loads of each state of the plan. */
  readonly loads: readonly ExtendedRequest["loads"][];
  /** Requirements on extended quantities: bit, columns, states, limits. */
  readonly requirements: readonly {
    readonly bit: number;
    readonly columns: readonly number[];
    readonly holds: readonly boolean[];
    readonly low: number;
    readonly high: number;
  }[];
}

/** Hoists what the extended outputs need; null when none were asked for. */
export function compileExtended(scenario: ResolvedScenario): ExtendedPlan | null {
  const { extended, requirements, states } = scenario;
  if (extended === null) return null;
  return {
    request: extended,
    arrangementSign: scenario.arrangement === "back-to-back" ? 1 : -1,
    bearings: [
      planBearing(scenario, scenario.bearings.a, extended),
      planBearing(scenario, scenario.bearings.b, extended),
    ],
    loads: states.map(({ name }) => extended.loads.filter((load) => load.states.includes(name))),
    requirements: requirements.flatMap((requirement, place) => {
      const names = REQUIRED_COLUMNS[requirement.quantity];
      if (names === undefined) return [];
      const { low, high } = requirement;
      const columns = names.map((name) => EXTENDED_COLUMNS.findIndex((column) => column.name === name));
      return [
        { bit: 1 << place, columns, holds: states.map(({ name }) => requirement.states.includes(name)), low, high },
      ];
    }),
  };
}

function planBearing(scenario: ResolvedScenario, bearing: Bearing, request: ExtendedRequest): ExtendedBearingPlan {
  const { ballCount, ballDiameterMm, pitchDiameterMm, kind, nominalContactAngleRad } = bearing;
  const friction = frictionFactors(bearing.frictionSeries);
  return {
    ballCount,
    ballDiameterMm,
    pitchDiameterMm,
    dynamicRatingN: bearing.dynamicRatingN,
    staticRatingN: bearing.staticRatingN,
    kind,
    tabulatedAngleRad: tabulatedAngleRad(nominalContactAngleRad),
    nominalContactAngleRad,
    relativeLoadFactor: staticFactor((ballDiameterMm * cos(nominalContactAngleRad)) / pitchDiameterMm),
    friction,
    lubricantFactor: request.lubrication === "oil bath" ? friction.oilBathFactor : friction.greaseFactor,
    conformityInner: bearing.conformityInner,
    conformityOuter: bearing.conformityOuter,
    inner: fitEllipse(scenario, bearing, "inner"),
    outer: fitEllipse(scenario, bearing, "outer"),
  };
}

function fitEllipse(scenario: ResolvedScenario, bearing: Bearing, race: "inner" | "outer"): EllipseCurve {
  const variable = race === "inner" ? bearing.conformityInner : bearing.conformityOuter;
  const range = practicalRange(scenario.variables[variable].distribution);
  const centreRatio = 0.5 * (range.low + range.high);
  const halfWidthRatio = Math.max(0.5 * (range.high - range.low), 1e-3 * (centreRatio - 0.5));
  const contact = (conformityRatio: number) =>
    groovedContact({
      ballDiameterMm: bearing.ballDiameterMm,
      pitchDiameterMm: bearing.pitchDiameterMm,
      conformityRatio,
      contactAngleRad: bearing.nominalContactAngleRad,
      race,
      ball: bearing.ballMaterial,
      ring: bearing.ringMaterial,
    });
  const low = centreRatio - halfWidthRatio;
  const high = centreRatio + halfWidthRatio;
  return {
    centreRatio,
    halfWidthRatio,
    pressure: fitLowest((ratio) => contact(ratio).pressureCoefficientMPa, low, high),
    semiMajor: fitLowest((ratio) => contact(ratio).semiMajorCoefficientMm, low, high),
  };
}
