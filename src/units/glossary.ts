/**
 * What every word of a result means: one record a quantity. It feeds column metadata, axis labels, the document's table and the naming test.
 * Symbols and equations are those of the preload model in the documentation.
 */

export interface GlossaryEntry {
  readonly name: string;
  /** Formula symbol; empty where there is none. */
  readonly symbol: string;
  readonly meaning: string;
  /** As printed; `1` for a pure number, empty for a name that has no unit (outcomes, flags). */
  readonly unit: string;
  /** What positive means; empty where a value cannot be negative. */
  readonly sign: string;
  readonly source: string;
}

function entry(
  name: string,
  symbol: string,
  unit: string,
  meaning: string,
  sign = "",
  source = "definition of this program",
): GlossaryEntry {
  return { name, symbol, unit, meaning, sign, source };
}

const HERTZ = "Hertz (1881); contact geometry as in Harris, Rolling Bearing Analysis";

/** Quantities of a unit, by the name that the program uses for them. */
export const QUANTITIES = {
  offset: entry(
    "offset",
    "δ",
    "mm",
    "how far the inner rings are displaced axially against the outer rings, summed over the pair and with the stand-out of both bearings",
    "positive in the direction that loads the intended arrangement",
  ),
  machinedOffset: entry(
    "machined offset",
    "δ₀",
    "mm",
    "the part of the offset that machining makes: the signed dimension chain alone, at 20 °C, without stand-out",
    "as the offset",
    "reference temperature 20 °C: ISO 1",
  ),
  standOut: entry(
    "stand-out",
    "s",
    "mm",
    "axial position of a bearing's inner groove against its outer groove, relative to the seated ring faces",
    "positive adds to the offset",
  ),
  freeClearance: entry(
    "radial clearance, free",
    "G_free",
    "mm",
    "play of the rings across the diameter before mounting",
    "positive is play",
    "ISO 5753-1",
  ),
  mountedClearance: entry(
    "radial clearance, mounted",
    "G",
    "mm",
    "play across the diameter after the fits and at the temperatures of the state",
    "positive is play, negative is radial interference",
    "Lamé cylinders (DIN 7190-1) and thermal growth of the grooves",
  ),
  axialPlay: entry(
    "axial play",
    "P_e",
    "mm",
    "free axial travel of one ring in the other, from end to end; 2·A·sin α₀",
    "",
    "Harris, Rolling Bearing Analysis, axial end play",
  ),
  residualPlay: entry(
    "residual play",
    "",
    "mm",
    "axial travel that is left in the assembled pair, from end to end, where it has no preload",
  ),
  onset: entry(
    "onset",
    "δ(0)",
    "mm",
    "offset at which the pair begins to carry: half the sum of the two axial plays",
    "positive",
  ),
  preload: entry(
    "preload",
    "F",
    "N",
    "axial force that the two bearings press on each other without outside load",
    "positive in the intended arrangement, negative in the opposite one",
  ),
  windowLow: entry(
    "window, low end",
    "δ(F_low)",
    "mm",
    "least bench offset that gives the lowest accepted preload in a state",
  ),
  windowHigh: entry(
    "window, high end",
    "δ(F_high)",
    "mm",
    "greatest bench offset that keeps the preload accepted in a state",
  ),
  window: entry(
    "acceptance window",
    "",
    "mm",
    "bench offsets that put the preload in the target in every state at once; when it is empty no machining tolerance can make that unit good",
  ),
  thermalShift: entry(
    "thermal shift",
    "",
    "mm",
    "change of the offset from the bench to a state by the growth of the chain members",
    "positive tightens",
  ),
  contactAngle: entry(
    "contact angle",
    "α",
    "°",
    "angle of the line through both groove centres against the radial plane",
    "",
    "cos α₀ = 1 − G/(2A): Harris, Rolling Bearing Analysis",
  ),
  conformity: entry("conformity", "f", "1", "groove radius over ball diameter; more than 0.5", "", HERTZ),
  hertzPressure: entry(
    "Hertz pressure",
    "p_max",
    "MPa",
    "greatest contact pressure between ball and groove",
    "",
    HERTZ,
  ),
  interference: entry(
    "interference",
    "I",
    "mm",
    "by how much the inner part of a fit is larger than the outer one, on the diameter, at temperature and less the smoothing of the surfaces",
    "positive is tight, zero or negative is loose",
    "DIN 7190-1",
  ),
  seatPressure: entry(
    "seat pressure",
    "p",
    "MPa",
    "pressure between a ring and its seat",
    "",
    "Lamé cylinders (DIN 7190-1)",
  ),
  clampForce: entry(
    "clamp force",
    "P",
    "N",
    "axial force that holds the rings against their shoulders",
    "positive presses together",
  ),
  axialStiffness: entry(
    "axial stiffness",
    "k_a",
    "N/mm",
    "axial force on the pair per axial displacement, at the preload",
  ),
  radialStiffness: entry(
    "radial stiffness",
    "k_r",
    "N/mm",
    "radial force at the middle of the pair per radial movement there, the softer of two directions, tilt free to follow",
  ),
  tiltStiffness: entry(
    "tilt stiffness",
    "k_t",
    "N·mm/rad",
    "moment on the shaft per tilt, the softer of two directions, everything else free to follow",
  ),
  ballLoad: entry(
    "ball load",
    "Q",
    "N",
    "load of the most loaded ball",
    "",
    "Harris, ball bearings under combined load",
  ),
  shoulderRoom: entry(
    "room to the shoulder",
    "",
    "°",
    "angle between the end of the contact ellipse and the edge of the groove",
    "negative where the ellipse is cut off",
    "Harris, over-riding of the land",
  ),
  movementAtRadius: entry(
    "movement at radius",
    "",
    "mm",
    "axial movement of a rim when a side load comes on it, the other loads being there",
  ),
  playAtRadius: entry("play at radius", "", "mm", "axial play of a rim from end to end, tilt included"),
  liftOffLoad: entry(
    "lift-off load",
    "W",
    "N",
    "axial load that just unloads one bearing of the pair, in the weaker direction",
    "",
    "Harris, preloading",
  ),
  airGap: entry("air gap", "", "mm", "gap between a face on the shaft and one on the housing"),
  rotorMovement: entry(
    "rotor movement",
    "",
    "mm",
    "change of the air gap from the bench to a state",
    "positive opens the gap",
  ),
  frictionHeat: entry("friction heat", "Q", "W", "heat that the friction of both bearings makes under their preload"),
  frictionTorque: entry("friction torque", "M", "N·mm", "torque that both bearings take", "", "Palmgren; Harris"),
  ratingLife: entry("rating life", "L₁₀", "h", "life that 90 % of bearings reach", "", "ISO 281, ISO/TS 16281"),
} as const satisfies Readonly<Record<string, GlossaryEntry>>;

/** Shares of a batch. */
const SHARES = {
  yieldEveryState: entry("yield, every state", "", "1", "share of units whose preload is in the target in every state"),
  yieldAveraged: entry(
    "yield, averaged over states",
    "",
    "1",
    "mean over the states, by share of duty, of the units in the target there; never below the yield in every state",
  ),
  benchScrap: entry(
    "scrap at the bench",
    "",
    "1",
    "share of units out of the target in the bench state: a play or torque check finds them",
  ),
  serviceFailures: entry(
    "failures in service",
    "",
    "1",
    "share of units that pass at the bench and leave the target in another state",
  ),
  outcomeShare: entry("share of an outcome", "", "1", "share of units with that outcome in a state"),
  contribution: entry(
    "contribution",
    "",
    "1",
    "share of a result's variance, or of the lost yield, that goes back to one cause",
  ),
} as const satisfies Readonly<Record<string, GlossaryEntry>>;

/** Classes of a unit in a state; exactly one holds. In this order, loosest first. */
export const OUTCOMES = {
  reversed: entry("reversed", "", "", "wrong way round: the offset loads the opposite arrangement"),
  play: entry("play", "", "", "no preload: axial play is left"),
  light: entry("light", "", "", "preload below the target"),
  target: entry("target", "", "", "preload in the target"),
  heavy: entry("heavy", "", "", "preload above the target and below the bind limit"),
  bind: entry(
    "bind",
    "",
    "",
    "preload, contact pressure or friction torque at or past the bind limit",
    "",
    "4200 MPa: ISO 76",
  ),
} as const satisfies Readonly<Record<string, GlossaryEntry>>;

/** Findings that hold beside any outcome. */
export const FLAGS = {
  "seat-lost": entry("seat lost", "", "", "the fit of a ring is loose in a state"),
  "ring-walk": entry(
    "ring walk",
    "",
    "",
    "the preload pushes a ring off its shoulder and seat friction does not hold it",
  ),
  "clamp-exceeded": entry(
    "clamp exceeded",
    "",
    "",
    "the preload reaches the clamp force and lifts a ring off its seat",
  ),
  "spring-solid": entry("spring solid", "", "", "the spring has no travel left: the structure sets the preload"),
  "spring-stuck": entry(
    "spring stuck",
    "",
    "",
    "the ring that the spring must slide is held by its fit: the spring is bypassed",
  ),
  "thermal-runaway": entry(
    "thermal runaway",
    "",
    "",
    "friction heat tightens the pair faster than heat can leave, up to the bind limit",
  ),
} as const satisfies Readonly<Record<string, GlossaryEntry>>;

export type QuantityName = keyof typeof QUANTITIES;
export type ShareName = keyof typeof SHARES;
export type OutcomeName = keyof typeof OUTCOMES;
export type FlagName = keyof typeof FLAGS;

/** Every record, in the order in which a document lists them. */
export function allGlossaryEntries(): readonly GlossaryEntry[] {
  return [QUANTITIES, SHARES, OUTCOMES, FLAGS].flatMap((group) => Object.values<GlossaryEntry>(group));
}
