import * as defaults from "../catalogue/defaults.ts";
import type { Distribution } from "../distributions/types.ts";
import { withinLimits } from "./drawn.ts";

/** A default of the catalogue in the form that a plan takes it, with the reason that is printed. */
interface Assumed {
  readonly distribution: Distribution;
  readonly why: string;
}

function spread(nominal: number, halfWidth: number, why: string): Assumed {
  const round = (value: number) => Number(value.toFixed(9));
  return { distribution: withinLimits(round(nominal - halfWidth), round(nominal + halfWidth)), why };
}

const { CONFORMITY_INNER, CONFORMITY_OUTER, STAND_OUT_GROUND_PAIR, STAND_OUT_ORDINARY, SEAT_FRICTION, WINDOW } =
  defaults;

/** What is taken for a value that a scenario leaves out. */
export const assumed = {
  conformityInner: spread(
    CONFORMITY_INNER.value.nominalRatio,
    CONFORMITY_INNER.value.halfWidthRatio,
    CONFORMITY_INNER.source,
  ),
  conformityOuter: spread(
    CONFORMITY_OUTER.value.nominalRatio,
    CONFORMITY_OUTER.value.halfWidthRatio,
    CONFORMITY_OUTER.source,
  ),
  standOut: spread(STAND_OUT_ORDINARY.value.nominalMm, STAND_OUT_ORDINARY.value.halfWidthMm, STAND_OUT_ORDINARY.source),
  standOutGround: spread(
    STAND_OUT_GROUND_PAIR.value.nominalMm,
    STAND_OUT_GROUND_PAIR.value.halfWidthMm,
    STAND_OUT_GROUND_PAIR.source,
  ),
  seatFriction: {
    distribution: withinLimits(SEAT_FRICTION.value.lowRatio, SEAT_FRICTION.value.highRatio),
    why: SEAT_FRICTION.source,
  },
  clearanceGroup: { group: defaults.CLEARANCE_GROUP.value, why: defaults.CLEARANCE_GROUP.source },
  toleranceClass: { toleranceClass: defaults.RING_TOLERANCE_CLASS.value, why: defaults.RING_TOLERANCE_CLASS.source },
  ringMaterial: { material: defaults.RING_MATERIAL.value, why: defaults.RING_MATERIAL.source },
  ballMaterial: { material: defaults.BALL_MATERIAL.value, why: defaults.BALL_MATERIAL.source },
  roughnessRing: { roughnessMm: defaults.ROUGHNESS_RING_MM.value, why: defaults.ROUGHNESS_RING_MM.source },
  roughnessShaft: { roughnessMm: defaults.ROUGHNESS_SHAFT_MM.value, why: defaults.ROUGHNESS_SHAFT_MM.source },
  roughnessHousing: { roughnessMm: defaults.ROUGHNESS_HOUSING_MM.value, why: defaults.ROUGHNESS_HOUSING_MM.source },
  measuredAt: { temperatureC: defaults.MEASURED_AT_C.value, why: defaults.MEASURED_AT_C.source },
  window: { lowOfCRatio: WINDOW.value.lowRatio, highOfCRatio: WINDOW.value.highRatio, why: WINDOW.source },
  bindPreload: { ratioOfC: defaults.BIND_PRELOAD_RATIO.value, why: defaults.BIND_PRELOAD_RATIO.source },
  bindPressure: { pressureMPa: defaults.BIND_PRESSURE_MPA.value, why: defaults.BIND_PRESSURE_MPA.source },
  /** Materials of the parts around the bearings: plain machine-building steel. */
  seatMaterial: { material: "carbon-steel", why: "not given: carbon steel" },
  /** A usual hub: one and a half times the bearing's outside diameter. */
  housingOutsideDiameter: { ratioOfBearing: 1.5, why: "not given: 1.5 times the outside diameter of the bearing" },
  shaftBore: { boreMm: 0, why: "not given: solid shaft" },
  viscosity: { viscosityMm2PerS: 30, why: "not given: 30 mm²/s, a usual oil at running temperature" },
  extendedSamples: { samples: 10_000, why: "not given" },
  sideLoad: { forceN: 10, why: "not given" },
  shoulder: { ratio: 0.2, why: "not given: a fifth of the ball diameter, common practice, no source" },
  batchSize: { size: 1000, why: "not given" },
  samples: { samples: 200_000, why: "not given" },
  seed: { seed: "1", why: "not given" },
} as const;

/** How far the contact angle of one bearing may be from that of its kind. */
export const CONTACT_ANGLE_SPREAD = {
  halfWidthRad: (1 * Math.PI) / 180,
  why: "angle without a tolerance: ±1°, common practice, no source",
} as const;
