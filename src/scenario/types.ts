import type { Distribution } from "../distributions/types.ts";
import type { Warning } from "../warnings.ts";

/** Where a value came from. */
export type Origin = "given" | "catalogue" | "standard" | "assumption" | "derived";

/** One line of the table of inputs that `check` and the report print. Quantities are already in words. */
export interface ResolvedInput {
  /** Address in the scenario, e.g. `bearings.a.clearance`. */
  readonly path: string;
  readonly label: string;
  /** As a person reads it, with its unit: `5–20 µm, truncated normal`. */
  readonly value: string;
  readonly origin: Origin;
  /** Standard, table or reason, e.g. `ISO 5753-1:2009, group CN, bore over 18 to 24 mm`. */
  readonly source: string;
}

/** Internal units of a drawn quantity. */
export type InternalUnit = "mm" | "N" | "N/mm" | "degC" | "K" | "1" | "MPa" | "N.mm" | "W" | "W/K" | "mm2/s" | "1/min";

/** The kinds of cause that a result is broken down by; both bearings share one group. */
export type VariableGroup =
  | "clearance"
  | "conformity"
  | "stand-out"
  | "bearing bore"
  | "bearing outside diameter"
  | "ring width"
  | "shaft seats"
  | "housing bores"
  | "surface smoothing"
  | "chain dimensions"
  | "clamp force"
  | "seat friction"
  | "temperature"
  | "preload device"
  | "heat";

/** One quantity of the plan: drawn per unit, or held constant. Its stream is keyed by its name. */
export interface Variable {
  /** Address, unique: `bearings.a.clearance`, `chain.housing shoulder spacing`, `states.hot.housing`. */
  readonly name: string;
  /** In words: `radial clearance of bearing a`. */
  readonly label: string;
  /** The group that contributors are named by; chain dimensions and temperatures carry their own name in `groupLabel`. */
  readonly group: VariableGroup;
  /** What the group is called in a sentence: `the housing shoulder spacing`, `the radial clearance of the bearings`. */
  readonly groupLabel: string;
  readonly unit: InternalUnit;
  readonly distribution: Distribution;
  /** Share (0 to 1) of the variance of the normal score that all units of one batch have in common. */
  readonly batchShare: number;
  readonly origin: Origin;
}

/** Index into `ResolvedScenario.variables`. */
export type VariableIndex = number;

export interface Material {
  readonly name: string;
  readonly expansionPerK: number;
  readonly youngsModulusMPa: number;
  readonly poissonRatio: number;
  readonly densityKgPerM3: number;
  /** Range of temperature that the figures are stated for. */
  readonly lowestC: number;
  readonly highestC: number;
  readonly source: string;
}

export type Side = "housing" | "shaft";
export type SeatSide = "inboard" | "outboard";

/** One ring on its seat: the inner ring on the shaft or the outer ring in the housing. */
export interface RingSeat {
  /** The side of the ring where its shoulder is: inboard faces the other bearing. */
  readonly seatSide: SeatSide;
  /** A retaining ring, cover or shoulder holds the ring on the side away from its seat. */
  readonly retained: boolean;
  /** Bore (inner) or outside diameter (outer) of the ring as drawn at 20 °C, mm. */
  readonly ringDiameter: VariableIndex;
  /** Shaft diameter (inner) or housing bore (outer) as drawn at 20 °C, mm. */
  readonly mateDiameter: VariableIndex;
  /** 0.8·(Rz ring + Rz mate), mm on the diameter (DIN 7190-1). */
  readonly smoothing: VariableIndex;
  readonly mateMaterial: Material;
  /** Bore of a hollow shaft (0 when solid) or outside diameter of the housing, mm. */
  readonly mateFarDiameterMm: number;
}

export interface Bearing {
  /** `a` (left) or `b` (right). */
  readonly key: "a" | "b";
  readonly designation: string | null;
  readonly boreMm: number;
  readonly outsideDiameterMm: number;
  readonly widthMm: number;
  readonly ballCount: number;
  readonly ballDiameterMm: number;
  readonly pitchDiameterMm: number;
  readonly dynamicRatingN: number;
  readonly staticRatingN: number;
  readonly ringMaterial: Material;
  readonly ballMaterial: Material;
  /** Which equivalent cylinder stands for a ring in the Lamé equations. */
  readonly ringModel: "groove-bottom" | "mean-groove";
  /** Nominal values that fix the contact angle at which the Hertz curvatures are taken. */
  readonly nominalClearanceMm: number;
  readonly nominalConformityInnerRatio: number;
  readonly nominalConformityOuterRatio: number;
  readonly clearance: VariableIndex;
  readonly conformityInner: VariableIndex;
  readonly conformityOuter: VariableIndex;
  readonly standOut: VariableIndex;
  readonly inner: RingSeat;
  readonly outer: RingSeat;
}

/** Zones that have a temperature in every state. */
export const ZONES = ["housing", "shaft", "outer-a", "outer-b", "inner-a", "inner-b", "balls-a", "balls-b"] as const;
export type Zone = (typeof ZONES)[number];

/** One member of the signed dimension chain: offset = sign·(sum of housing members − sum of shaft members). */
export interface ChainMember {
  readonly name: string;
  readonly side: Side;
  /** +1, −1, or ±0.5 where two halves of one length stand in different zones. */
  readonly factor: number;
  readonly length: VariableIndex;
  readonly material: Material;
  readonly zone: Zone;
  /** Section area, mm²; null when not given (then neither clamp shortening nor elastic give is counted). */
  readonly areaMm2: number | null;
  readonly inClampPath: boolean;
  readonly carriesPreload: boolean;
}

/** Temperature of a zone in a state = Σ factor·variable, °C. */
export type ZoneTemperature = readonly { readonly variable: VariableIndex; readonly factor: number }[];

export interface DutyState {
  readonly name: string;
  readonly label: string;
  /** The state in which a play or torque check can find a bad unit. Exactly one, and it comes first. */
  readonly isBench: boolean;
  /** Share of duty, for the yield averaged over states; all shares sum to 1. */
  readonly weightRatio: number;
  readonly zones: Readonly<Record<Zone, ZoneTemperature>>;
}

export interface PreloadLimits {
  readonly lowN: number;
  readonly highN: number;
  readonly bindN: number;
  /** Peak Hertz pressure that also counts as bind; null when not limited. */
  readonly bindPressureMPa: number | null;
}

export type Arrangement = "back-to-back" | "face-to-face";

/** Readings of one length with what its instrument leaves open. */
export interface ResolvedReadings {
  readonly path: string;
  readonly label: string;
  readonly valuesMm: readonly number[];
  /** Limits of error, ± mm: every error between them is equally likely. */
  readonly limitMm: number;
  readonly resolutionMm: number;
  /** Readings with the same instrument share its error; null has one of its own. */
  readonly instrument: string | null;
}

/** One assembled unit that was measured. */
export interface ResolvedAudit {
  readonly unit: string;
  readonly from: string;
  /** While it was measured, °C. */
  readonly temperature: Distribution;
  readonly readings: readonly (ResolvedReadings & {
    readonly variable: VariableIndex;
    readonly expansionPerK: number;
  })[];
  /** Of each bearing before mounting, and of the shaft in the assembled unit. */
  readonly play: {
    readonly a: ResolvedReadings | null;
    readonly b: ResolvedReadings | null;
    readonly pair: ResolvedReadings | null;
  };
  /** Chance of being good from which it is a go. */
  readonly decideRatio: number;
  readonly shimStepMm: number;
}

/** Everything a run uses, checked, in internal units, frozen. */
export interface ResolvedScenario {
  /** File-safe name: letters, digits, `-` and `_` only. */
  readonly name: string;
  readonly title: string;
  readonly description: string;
  /** SHA-256 (hex) over the canonical JSON of everything below that changes a number. */
  readonly hash: string;
  readonly arrangement: Arrangement;
  readonly bearings: { readonly a: Bearing; readonly b: Bearing };
  readonly chain: readonly ChainMember[];
  /** Which side the clamp force acts on, or null without a clamp. */
  readonly clamp: { readonly force: VariableIndex; readonly side: Side } | null;
  readonly seatFriction: VariableIndex;
  /** Temperature at which the dimensions were (will be) measured, °C. */
  readonly measuredAtC: number;
  readonly states: readonly DutyState[];
  readonly limits: PreloadLimits;
  /** Yield that the batch must reach in every state together, 0 to 1, or null. */
  readonly requiredYieldRatio: number | null;
  readonly batchSize: number;
  /** What was measured on one unit; changes no run, only an audit. */
  readonly audit: ResolvedAudit | null;
  readonly seed: string;
  readonly samples: number;
  readonly variables: readonly Variable[];
  /** Correlated variables: a correlation matrix of normal scores over the named indices, row-major. */
  readonly correlations: readonly {
    readonly variables: readonly VariableIndex[];
    readonly matrix: readonly number[];
  }[];
  readonly inputs: readonly ResolvedInput[];
  readonly warnings: readonly Warning[];
}
