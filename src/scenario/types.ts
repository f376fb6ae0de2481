import type { Distribution } from "../distributions/types.ts";
import type { Warning } from "../warnings.ts";
import type { ResolvedAudit, ResolvedBatchPlans } from "./study-types.ts";

export type {
  ResolvedAudit,
  ResolvedBatchPlans,
  ResolvedBenchCheck,
  ResolvedCosts,
  ResolvedReadings,
} from "./study-types.ts";

import type { ToleranceCosts } from "./decide-types.ts";

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
export type InternalUnit =
  | "mm"
  | "N"
  | "N/mm"
  | "degC"
  | "K"
  | "1"
  | "MPa"
  | "N.mm"
  | "W"
  | "W/K"
  | "mm2/s"
  | "1/min"
  | "rad"
  | "N.mm/rad"
  | "h";

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
  | "heat"
  | "contact angle"
  | "external load"
  | "lubricant";

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

/** Nominal dimensions, ball set and ratings of one bearing. */
export interface BearingGeometry {
  readonly designation: string | null;
  readonly kind: "deep-groove" | "angular-contact";
  /** Nominal contact angle that ratings and equivalent loads go by, rad; 0 for deep-groove bearings. */
  readonly nominalContactAngleRad: number;
  /** Series whose friction factors hold for it. */
  readonly frictionSeries: string;
  readonly boreMm: number;
  readonly outsideDiameterMm: number;
  readonly widthMm: number;
  readonly ballCount: number;
  readonly ballDiameterMm: number;
  readonly pitchDiameterMm: number;
  readonly dynamicRatingN: number;
  readonly staticRatingN: number;
}

export interface Bearing extends BearingGeometry {
  /** `a` (left) or `b` (right). */
  readonly key: "a" | "b";
  readonly ringMaterial: Material;
  readonly ballMaterial: Material;
  /** Which equivalent cylinder stands for a ring in the Lamé equations. */
  readonly ringModel: "groove-bottom" | "mean-groove";
  /** Nominal values that fix the contact angle at which the Hertz curvatures are taken. */
  readonly nominalClearanceMm: number;
  readonly nominalConformityInnerRatio: number;
  readonly nominalConformityOuterRatio: number;
  /** Free radial clearance; of an angular-contact bearing the free contact angle, which its clearance follows from. */
  readonly clearance: VariableIndex;
  readonly conformityInner: VariableIndex;
  readonly conformityOuter: VariableIndex;
  /** Axial position of the grooves; of an angular-contact bearing what it was ground to, counted from ball contact. */
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

/** One path of heat in every state that has a network. */
export interface HeatPath {
  readonly from: Zone;
  readonly to: Zone | "ambient";
  readonly conductance: VariableIndex;
}

/** What drives the temperatures of one state that are found by a heat balance. */
export interface NetworkState {
  readonly ambient: VariableIndex;
  /** Heat put into bodies from outside, W. */
  readonly heats: readonly { readonly zone: Zone; readonly heat: VariableIndex }[];
  readonly speed: VariableIndex;
  readonly viscosity: VariableIndex;
}

export interface DutyState {
  readonly name: string;
  readonly label: string;
  /** The state in which a play or torque check can find a bad unit. Exactly one, and it comes first. */
  readonly isBench: boolean;
  /** Share of duty, for the yield averaged over states; all shares sum to 1. */
  readonly weightRatio: number;
  /** Empty lists where the temperatures follow from a network. */
  readonly zones: Readonly<Record<Zone, ZoneTemperature>>;
  readonly network: NetworkState | null;
}

export interface PreloadLimits {
  readonly lowN: number;
  readonly highN: number;
  readonly bindN: number;
  /** Peak Hertz pressure that also counts as bind; null when not limited. */
  readonly bindPressureMPa: number | null;
}

export type RingName = "outer-a" | "outer-b" | "inner-a" | "inner-b";

/** How the preload is set, with what belongs to the device. */
export type PreloadMethod =
  | { readonly kind: "position" }
  | SpringMethod
  | {
      readonly kind: "adjuster";
      /** To zero play and on by this much, mm; or to this friction torque of both bearings turned slowly, N·mm. */
      readonly setting: "advance" | "torque";
      readonly value: VariableIndex;
      /** Torque of the bearings without preload, N·mm; null with an advance. */
      readonly noLoadTorque: VariableIndex | null;
    }
  | {
      readonly kind: "shim";
      readonly measure: "dimensions" | "play";
      readonly stepMm: number;
      /** Corrections that the stock allows, mm. */
      readonly lowMm: number;
      readonly highMm: number;
      readonly error: VariableIndex;
      /** Aimed machined offset (dimensions) or offset past the onset (play), mm; null for the middle of the nominal window. */
      readonly aimMm: number | null;
    };

export interface SpringMethod {
  readonly kind: "spring";
  readonly form: "wave" | "coil" | "diaphragm";
  /** The ring that the spring pushes and that must slide on its seat. */
  readonly slides: RingName;
  /** Of one spring. */
  readonly rate: VariableIndex;
  readonly freeLength: VariableIndex;
  /** Height when solid, or travel to a stop; of one spring. */
  readonly end: { readonly kind: "solid" | "stop"; readonly variable: VariableIndex } | null;
  /** Springs side by side (rates add) and behind one another (lengths and travels add). */
  readonly parallelCount: number;
  readonly seriesCount: number;
}

/** A second chain, from the seats of the bearing that locates the shaft to a gap between shaft and housing. */
export interface GapChain {
  readonly locating: "a" | "b";
  /** +1 where the shaft moving inboard opens the gap, −1 where it closes it. */
  readonly opensSign: 1 | -1;
  readonly members: readonly ChainMember[];
}

/** Quantities that a requirement may be set on. The first ones are known for every unit; the others of a subset. */
export const REQUIREMENT_QUANTITIES = ["preload", "rotor movement", "air gap"] as const;
export const EXTENDED_REQUIREMENTS = [
  "contact angle",
  "ball load",
  "pressure",
  "axial stiffness",
  "radial stiffness",
  "tilt stiffness",
  "movement at radius",
  "play at radius",
  "lift-off load",
  "friction torque",
  "basic life",
  "ball-load life",
] as const;
export type RequirementQuantity = (typeof REQUIREMENT_QUANTITIES)[number] | (typeof EXTENDED_REQUIREMENTS)[number];

export interface Requirement {
  readonly quantity: RequirementQuantity;
  readonly unit: InternalUnit;
  /** Names of the states that it holds in. */
  readonly states: readonly string[];
  /** Both ends included; infinite where there is no limit. */
  readonly low: number;
  readonly high: number;
}

/** An external load on the shaft; loads of one state act together. */
export interface ExternalLoad {
  readonly name: string;
  readonly states: readonly string[];
  /** Position along the shaft from the middle of the pair, positive towards b, mm. */
  readonly atMm: number;
  /** Distance from the axis at which the axial part acts, mm. */
  readonly radiusMm: number;
  readonly radial: VariableIndex | null;
  readonly axial: VariableIndex | null;
  /** About an axis across the shaft, in the plane of the radial load, N·mm. */
  readonly moment: VariableIndex | null;
}

/** What is asked beyond the preload, on the first units of a run. */
export interface ExtendedRequest {
  readonly samples: number;
  /** Distance of the ball planes, mm. */
  readonly spanMm: number;
  readonly loads: readonly ExternalLoad[];
  /** Where movement and play are looked at, and the side load that moves it. */
  readonly probe: { readonly radiusMm: number; readonly atMm: number; readonly sideLoadN: number };
  /** Per state. */
  readonly speeds: readonly VariableIndex[];
  readonly viscosities: readonly VariableIndex[];
  readonly lubrication: "grease" | "oil bath";
  readonly rotatingRing: "inner" | "outer";
  /** Height of the groove shoulder over the ball diameter. */
  readonly shoulderRatio: number;
}

export type Arrangement = "back-to-back" | "face-to-face";

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
  readonly method: PreloadMethod;
  readonly gap: GapChain | null;
  readonly heatPaths: readonly HeatPath[];
  /** Lubrication that the friction heat of a network is reckoned with. */
  readonly lubrication: "grease" | "oil bath";
  readonly requirements: readonly Requirement[];
  readonly extended: ExtendedRequest | null;
  readonly states: readonly DutyState[];
  readonly limits: PreloadLimits;
  /** Yield that the batch must reach in every state together, 0 to 1, or null. */
  readonly requiredYieldRatio: number | null;
  readonly batchSize: number;
  /** Costs, warranty, sampling and bench check; change no run, only the study of a batch. */
  readonly batchPlans: ResolvedBatchPlans;
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
  /** What tolerances cost; null where nothing is said of it. Changes no run. */
  readonly toleranceCosts: ToleranceCosts | null;
  /** Changes that the scenario wants compared with it as it stands. */
  readonly variants: readonly {
    readonly name: string;
    readonly changes: readonly { readonly path: string; readonly value: unknown }[];
  }[];
  readonly inputs: readonly ResolvedInput[];
  readonly warnings: readonly Warning[];
  /** What was read, with what the command line set and the values of measured files in place: enough to resolve it again. */
  readonly content: unknown;
}
