import type { Flag, Outcome } from "../model/outcome.ts";
import type {
  InternalUnit,
  Origin,
  PreloadMethod,
  RequirementQuantity,
  ResolvedInput,
  RingName,
  VariableGroup,
  Zone,
} from "../scenario/types.ts";
import type { Warning } from "../warnings.ts";
import type { Target } from "./conditional.ts";

/**
 * What a run found, as data. `result.json` is this object; the report, the terminal and the tables print from it.
 * Lengths in mm, forces in N, temperatures in °C unless the name says otherwise.
 */
export interface RunResult {
  readonly study: "run";
  readonly provenance: Provenance;
  readonly title: string;
  readonly description: string;
  readonly arrangement: string;
  /** How the preload is set. */
  readonly method: PreloadMethod["kind"];
  /** Rings that the preload pushes off their seat and that friction alone holds. */
  readonly unheldRings: readonly RingName[];
  readonly limits: {
    readonly lowN: number;
    readonly highN: number;
    readonly bindN: number;
    readonly bindPressureMPa: number | null;
  };
  readonly requiredYieldRatio: number | null;
  readonly nominal: NominalResult;
  /** In the order of the scenario; a last one with `isAfterService` where a ring may have walked. */
  readonly states: readonly StateResult[];
  readonly overall: OverallResult;
  readonly batch: BatchResult;
  readonly contributors: Contributors;
  readonly window: WindowResult;
  /** What good units must hold beside the window, and how many do. */
  readonly requirements: readonly RequirementResult[];
  /** Where the batch begins to run away thermally; one entry a state with a heat balance. */
  readonly runaway: readonly RunawayResult[];
  /** Stiffness, life and the like on the first units; null when nothing of it was asked for. */
  readonly extended: ExtendedResult | null;
  /** What integrating over the offset gave, beside the plain run; null where nothing enters the offset linearly. */
  readonly integration: IntegrationResult | null;
  /** What plain sampling saw too seldom to say how often it happens. */
  readonly rare: readonly RareResult[];
  readonly inputs: readonly ResolvedInput[];
  readonly warnings: readonly Warning[];
  /** What the run went on for; null: the scenario's samples were enough. A half-width of 0: until a time was over. */
  readonly target: Target | null;
  /** What else was asked for beside the scenario. */
  readonly asked: { readonly rare: boolean };
  /** The scenario's content, enough to run it again (`reproduce`). */
  readonly scenario: unknown;
  /** The verdict in plain words, most important sentence first. */
  readonly verdict: readonly string[];
}

/** Version of the form of `result.json`. Raise it when a result of an earlier program can no longer be read as it stands. */
export const RESULT_VERSION = 1;

export interface Provenance {
  readonly program: string;
  readonly version: string;
  readonly streamVersion: number;
  readonly catalogueVersion: string;
  readonly schemaVersion: number;
  readonly resultVersion: number;
  readonly scenario: string;
  readonly scenarioHash: string;
  readonly seed: string;
  readonly samples: number;
  readonly platform: string;
}

/** A share of units with its 95 % interval. */
export interface Share {
  readonly count: number;
  readonly shareRatio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
  /**
   * `integrated`: from windows and the law of the offset, with a t interval over scrambles; `importance` and `subset`: rare, from
   * samples drawn where it happens. `count` is the plain run's with each of them.
   */
  readonly method: "wilson" | "clopper-pearson" | "integrated" | "importance" | "subset";
}

/** Moments and quantiles of one quantity over the units counted. */
export interface QuantitySummary {
  readonly unit: InternalUnit;
  readonly count: number;
  readonly mean: number;
  readonly sd: number;
  readonly min: number;
  readonly max: number;
  readonly quantiles: readonly { readonly probabilityRatio: number; readonly value: number }[];
}

export interface StateResult {
  readonly name: string;
  readonly label: string;
  readonly isBench: boolean;
  /** The bench again, after rings have walked in service. */
  readonly isAfterService: boolean;
  readonly weightRatio: number;
  readonly temperatureC: Readonly<Record<Zone, { readonly mean: number; readonly sd: number }>>;
  readonly outcomes: Readonly<Record<Outcome, Share>>;
  readonly flags: Readonly<Record<Flag, Share>>;
  /** On target with every requirement met that is known of all units. */
  readonly good: Share;
  /** Over all units; zero where there is play, negative where reversed. */
  readonly preloadN: QuantitySummary;
  /** Axial play left, over the units of class `play` only. */
  readonly playMm: QuantitySummary;
  readonly offsetMm: QuantitySummary;
  readonly clearanceMm: { readonly a: QuantitySummary; readonly b: QuantitySummary };
  /** Gap between shaft and housing and its change from the bench; null without a gap. Over the rows kept for the figures. */
  readonly gapMm: QuantitySummary | null;
  readonly movementMm: QuantitySummary | null;
  /** Friction heat of both bearings where a heat balance gives the temperatures, else null. Over the same rows. */
  readonly frictionHeatW: QuantitySummary | null;
}

/** One requirement with the share of units that meet it. */
export interface RequirementResult {
  readonly quantity: RequirementQuantity;
  readonly unit: InternalUnit;
  /** Ends of what is good; null where there is none. */
  readonly low: number | null;
  readonly high: number | null;
  /** Whether it was looked at on the first units only. */
  readonly isExtended: boolean;
  readonly states: readonly { readonly state: string; readonly share: Share }[];
}

/** Share of units that run away in a state, as speed or surroundings go up, on the first units. */
export interface RunawayResult {
  readonly state: string;
  readonly samples: number;
  readonly bySpeed: readonly { readonly speedPerMin: number; readonly share: Share }[];
  readonly byAmbient: readonly {
    readonly ambientC: number;
    /** Mean temperature of the housing of the units that come to rest, °C; NaN without any. */
    readonly housingC: number;
    readonly share: Share;
  }[];
}

/** Something that happens too seldom for plain sampling, looked for where it is likeliest. */
export interface RareResult {
  readonly what: "outcome" | "bench" | "service";
  /** With `outcome`, which one in which state; else null. */
  readonly state: string | null;
  readonly outcome: Outcome | null;
  /**
   * `importance`: importance sampling around the design points; `subset`: subset simulation; `excluded`: the worst case of the
   * limits does not reach it; `remote`: more than six standard deviations away by the first order; `unresolved`: neither way of
   * sampling passed its own checks.
   */
  readonly method: "importance" | "subset" | "excluded" | "remote" | "unresolved";
  /** With its 95 % interval; 0 where excluded, 0 to the first-order share where remote, NaN where unresolved. */
  readonly shareRatio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
  /** Evaluations of the model. */
  readonly samples: number;
  /** How many equally weighted events the estimate is worth. */
  readonly effectiveCount: number;
  /** Distance of the nearest design point from the middle, in standard deviations; null without one. */
  readonly distanceRatio: number | null;
  /** Checks that importance sampling failed. */
  readonly doubts: readonly string[];
}

/** Names of the extended outputs, as columns end. */
export interface ExtendedQuantity {
  /** Column name without the state: `axialStiffnessNPerMm`. */
  readonly column: string;
  readonly label: string;
  readonly summary: QuantitySummary;
}

export interface ExtendedResult {
  /** The first so many units. */
  readonly samples: number;
  readonly states: readonly {
    readonly state: string;
    readonly quantities: readonly ExtendedQuantity[];
    /** Units with a contact ellipse that a shoulder cuts off. */
    readonly truncated: Share;
  }[];
  /** Good in every state with every requirement, the extended ones too. */
  readonly goodInEveryState: Share;
}

export interface OverallResult {
  /** In the target window in every state. */
  readonly goodInEveryState: Share;
  /** Mean over states of the share in the target window, by the states' shares of duty. */
  readonly averagedOverStates: { readonly shareRatio: number; readonly lowRatio: number; readonly highRatio: number };
  /** Outside the window at the bench: scrap or rework. */
  readonly failsAtBench: Share;
  /** Good at the bench and outside the window in some other state: warranty. */
  readonly failsInService: Share;
  /** Why units that were good at the bench fail: first failing state in order, and the class there. */
  readonly serviceCauses: readonly { readonly state: string; readonly outcome: Outcome; readonly share: Share }[];
}

export interface BatchResult {
  readonly size: number;
  /** `binomial`: no spread is shared by a batch; `nested`: batches were drawn with their shared parts. */
  readonly method: "binomial" | "nested";
  readonly good: CountRange;
  readonly benchFailures: CountRange;
  readonly serviceFailures: CountRange;
}

/** Expected count in a batch and the range that 90 % of batches fall in. */
export interface CountRange {
  readonly expected: number;
  readonly low: number;
  readonly high: number;
}

export interface Contributor {
  readonly group: VariableGroup;
  readonly groupLabel: string;
  readonly origin: Origin;
}

export interface Contributors {
  /** Units that these estimates rest on. */
  readonly samples: number;
  /** First-order share of the variance of the preload in a state, largest first. */
  readonly preloadVariance: readonly {
    readonly state: string;
    readonly rows: readonly (Contributor & { readonly firstOrderRatio: number })[];
  }[];
  /**
   * Change of the yield (good in every state) were every quantity of the group exactly at its median, on the same
   * units otherwise; largest first.
   */
  readonly yieldGain: readonly (Contributor & {
    readonly gainRatio: number;
    readonly lowRatio: number;
    readonly highRatio: number;
  })[];
  /** Yield at the two ends of the range of an assumed value, on the same units otherwise. */
  readonly assumptions: readonly {
    readonly label: string;
    readonly source: string;
    readonly lowEnd: { readonly value: string; readonly yieldRatio: number };
    readonly highEnd: { readonly value: string; readonly yieldRatio: number };
  }[];
}

/**
 * What units are integrated along, in closed form: the machined offset by its law, or lines along the standardised slope of the
 * limits.
 */
export type IntegrationDirection = "offset" | "slope";

/** Yield from acceptance windows: scrambled Sobol' points, one direction of each integrated in closed form. */
export interface IntegrationResult {
  readonly along: IntegrationDirection;
  readonly replicates: number;
  /** Points, or lines where those are integrated along. */
  readonly pointsPerReplicate: number;
  /** Evaluations of the model that a point took. */
  readonly evaluationsPerPoint: number;
  /** Share of the edges on lines that are crossed more than once; 0 without lines. */
  readonly manyCrossingsRatio: number;
  /**
   * What a pilot found of both directions before one was chosen: plain samples that one evaluation of the model is worth for the
   * yield, null where the pilot saw no spread. Empty where there was no choice.
   */
  readonly pilot: readonly { readonly along: IntegrationDirection; readonly worthRatio: number | null }[];
  /** Plain samples that one point is worth for the yield. */
  readonly worthRatio: number;
  /** The same shares by plain sampling, and how far apart the two are, over their joint standard error. */
  readonly crossCheck: readonly {
    readonly what: string;
    readonly plainRatio: number;
    readonly integratedRatio: number;
    readonly apartRatio: number;
  }[];
  /** Yield in every state over the nominal machined offset, tolerances as given. */
  readonly overNominal: readonly (CurvePoint & { readonly nominalOffsetMm: number })[];
  /** Yield in every state over the tolerances of the chain, all multiplied alike, nominal as given. */
  readonly overTolerance: readonly (CurvePoint & { readonly toleranceRatio: number })[];
}

export interface CurvePoint {
  readonly yieldRatio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
}

/** The offset that each unit would need (see the model's acceptance window), in terms of the machined offset at 20 °C. */
export interface WindowResult {
  readonly samples: number;
  readonly machinedOffsetMm: QuantitySummary;
  /** Lower and upper end of each unit's window over all states, over the units that have one. */
  readonly lowMm: QuantitySummary;
  readonly highMm: QuantitySummary;
  readonly widthMm: QuantitySummary;
  /** Units that no machining can make good: their states ask for offsets that exclude each other. */
  readonly empty: Share;
  /** Which two states exclude each other, most frequent first. */
  readonly collisions: readonly { readonly states: readonly [string, string]; readonly share: Share }[];
  /** Per state, the window ends over units. */
  readonly states: readonly {
    readonly state: string;
    readonly onsetMm: QuantitySummary;
    readonly lowMm: QuantitySummary;
    readonly highMm: QuantitySummary;
    readonly bindMm: QuantitySummary;
  }[];
}

/** Every quantity at its nominal or median value, no sampling. */
export interface NominalResult {
  readonly machinedOffsetMm: number;
  readonly worstCaseMm: { readonly low: number; readonly high: number };
  readonly rootSumSquareMm: { readonly low: number; readonly high: number };
  readonly states: readonly {
    readonly state: string;
    readonly offsetMm: number;
    readonly clearanceMm: { readonly a: number; readonly b: number };
    readonly axialPlayMm: { readonly a: number; readonly b: number };
    readonly contactAngleRad: { readonly a: number; readonly b: number };
    /** Offset in this state at which the pair starts to carry, (P_a + P_b)/2; likewise low, high and bind. */
    readonly onsetMm: number;
    /** What shop practice often takes for the onset: the sum of the two end-to-end plays. */
    readonly sumOfPlaysMm: number;
    readonly lowMm: number;
    readonly highMm: number;
    readonly bindMm: number;
    readonly preloadN: number;
    readonly outcome: Outcome;
  }[];
}

/** Columns kept of the first units, for `samples.arrow` and the figures. */
export interface SampleTable {
  readonly count: number;
  readonly columns: readonly SampleColumn[];
}

export interface SampleColumn {
  /** Unique, with its unit suffix: `bearings.a.clearanceMm`, `hot.preloadN`, `window.lowMm`. */
  readonly name: string;
  readonly unit: InternalUnit | "class" | "bits" | "index";
  readonly description: string;
  readonly values: Float64Array | Uint8Array | Uint16Array;
}
