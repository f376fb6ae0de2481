/**
 * Every value the program takes when a scenario leaves it out. Those of origin `assumption` are printed as such wherever
 * they are used, and stand among the contributors of a result.
 */

/** Raised by one whenever a figure of the catalogue or a default changes, since results then change with it. */
export const CATALOGUE_VERSION = 1;

export interface Default<Value> {
  readonly value: Value;
  readonly origin: "assumption" | "standard";
  /** Standard or reason, in words fit for the table of inputs. */
  readonly source: string;
}

/** A nominal value with symmetric limits; how a value lies within them is `WITHIN_LIMITS`. */
export interface SpreadRatio {
  readonly nominalRatio: number;
  readonly halfWidthRatio: number;
}
export interface SpreadMm {
  readonly nominalMm: number;
  readonly halfWidthMm: number;
}

const assumption = <Value>(value: Value, source: string): Default<Value> =>
  Object.freeze({ value: Object.freeze(value) as Value, origin: "assumption", source });
const standard = <Value>(value: Value, source: string): Default<Value> =>
  Object.freeze({ value: Object.freeze(value) as Value, origin: "standard", source });

export const CONFORMITY_INNER = assumption<SpreadRatio>(
  { nominalRatio: 0.515, halfWidthRatio: 0.003 },
  "groove conformity is not standardised; the sum of both fits most printed axial clearances",
);
export const CONFORMITY_OUTER = assumption<SpreadRatio>(
  { nominalRatio: 0.52, halfWidthRatio: 0.003 },
  "groove conformity is not standardised; the sum of both fits most printed axial clearances",
);

export const STAND_OUT_ORDINARY = assumption<SpreadMm>(
  { nominalMm: 0, halfWidthMm: 0.015 },
  "ordinary deep-groove bearing: ISO 492 does not control the stand-out",
);
/** About the offset that the pair was ground to, which the scenario gives. */
export const STAND_OUT_GROUND_PAIR = assumption<SpreadMm>(
  { nominalMm: 0, halfWidthMm: 0.002 },
  "pair ground to a stated offset: usual matching",
);

/** Rz of the surfaces in a seat, mm. */
export const ROUGHNESS_RING_MM = assumption(0.001, "Rz 1 µm: usual finish of a ring's seat");
export const ROUGHNESS_SHAFT_MM = assumption(0.003, "Rz 3 µm: usual finish of a ground shaft seat");
export const ROUGHNESS_HOUSING_MM = assumption(0.005, "Rz 5 µm: usual finish of a bored housing seat");
/** Share of both roughnesses that a fit loses: 0.8·(Rz ring + Rz mate). */
export const SMOOTHING_RATIO = standard(0.8, "DIN 7190-1: loss of interference 0.8·(Rz + Rz)");

export const SEAT_FRICTION = assumption(
  { nominalRatio: 0.12, lowRatio: 0.08, highRatio: 0.16 },
  "printed press-on value 0.12, drawn over 0.08 to 0.16",
);

export const MEASURED_AT_C = standard(20, "ISO 1: reference temperature 20 °C");

/** Preload window as shares of the dynamic rating C. */
export const WINDOW = assumption({ lowRatio: 0.005, highRatio: 0.015 }, "0.5 to 1.5 % of C: a trade rule, no source");

/** Bind: whichever is passed first. */
export const BIND_PRELOAD_RATIO = assumption(0.1, "bind at a preload of 10 % of C");
export const BIND_PRESSURE_MPA = assumption(4200, "bind at a peak Hertz pressure of 4200 MPa, the basis of ISO 76");

export const RING_TOLERANCE_CLASS = assumption("Normal", "ISO 492 class Normal, as ordinary bearings are sold");
export const CLEARANCE_GROUP = assumption("CN", "ISO 5753-1 group CN, as ordinary bearings are sold");
export const RING_MATERIAL = assumption("bearing-steel", "rings of hardened bearing steel");
export const BALL_MATERIAL = assumption("bearing-steel", "balls of hardened bearing steel");
/** Groove radius bound that ISO 76 and ISO 281 presuppose, over the ball diameter. */
export const CONFORMITY_BOUNDS = standard(
  { innerRatio: 0.52, outerRatio: 0.53 },
  "ISO 76 and ISO 281: grooves not wider than 0.52 (inner) and 0.53 (outer)",
);
