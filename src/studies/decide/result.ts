import type { InternalUnit, Origin, VariableGroup } from "../../scenario/types.ts";
import type { IndexEstimate } from "../../stats/group-indices.ts";
import type { Warning } from "../../warnings.ts";
import type { Provenance } from "../result.ts";
import type { DifferenceEstimate, Fate, RatioEstimate } from "./assess.ts";

export type { IndexEstimate } from "../../stats/group-indices.ts";

/** What every study of decisions says of itself. */
export interface DecisionResult {
  readonly study: "compare" | "sweep" | "ranges" | "centre" | "allocate" | "shims" | "methods" | "contributors";
  readonly provenance: Provenance;
  readonly title: string;
  readonly requiredYieldRatio: number | null;
  readonly batchSize: number;
  /** How many units each estimate rests on, and how they were judged. */
  readonly basis: Basis;
  /** What was asked for beside the scenario, enough to judge again with its content (`reproduce`). */
  readonly asked: object;
  readonly scenario: unknown;
  readonly warnings: readonly Warning[];
  /** The recommendation in plain words, most important sentence first. */
  readonly verdict: readonly string[];
}

export interface Basis {
  readonly replicates: number;
  readonly pointsPerReplicate: number;
  /** Units of plain sampling where windows do not decide. */
  readonly samples: number;
}

export type Shares = Readonly<Record<Fate, RatioEstimate>>;

/** One variant beside the scenario as it stands. */
export interface ComparedVariant {
  readonly name: string;
  /** Changes in words: `bearings.both.clearanceGroup=C4`. */
  readonly changes: readonly string[];
  readonly scenarioHash: string;
  readonly method: "integrated" | "plain";
  readonly shares: Shares;
  readonly states: readonly { readonly state: string; readonly good: RatioEstimate }[];
  /** Variant less base, on the same units; null for the base itself. */
  readonly difference: Readonly<Record<Fate, DifferenceEstimate>> | null;
  /** With the nominal offset moved to where it suits the variant best; null where windows do not decide. */
  readonly centred: { readonly shiftMm: number; readonly good: RatioEstimate } | null;
  /** Cautions that the variant has and the base has not. */
  readonly cautions: readonly string[];
}

export interface CompareResult extends DecisionResult {
  readonly study: "compare";
  /** The base first, then the variants as given. */
  readonly variants: readonly ComparedVariant[];
  /** Best against second best, where there are two variants or more. */
  readonly lead: { readonly best: string; readonly second: string; readonly difference: DifferenceEstimate } | null;
}

/** One parameter that a sweep goes through. */
export interface SweepAxis {
  readonly path: string;
  /** As a person reads it. */
  readonly label: string;
  /** Unit of the numbers, or null for names. */
  readonly unit: string | null;
  readonly values: readonly { readonly text: string; readonly number: number | null }[];
  /** Spread that the swept value keeps, in words; empty without. */
  readonly kept: string;
}

/** Where the yield passes the target along the first axis. */
export interface Crossing {
  readonly direction: "falls below" | "rises above";
  /** In the unit of the axis. */
  readonly at: number;
  readonly low: number;
  readonly high: number;
}

export interface SweepSeries {
  /** Value of the second axis; empty without one. */
  readonly name: string;
  readonly cells: readonly { readonly method: "integrated" | "plain"; readonly shares: Shares }[];
  readonly crossings: readonly Crossing[];
}

export interface SweepResult extends DecisionResult {
  readonly study: "sweep";
  readonly over: SweepAxis;
  readonly and: SweepAxis | null;
  readonly targetRatio: number | null;
  readonly series: readonly SweepSeries[];
}

/** What one parameter does while everything else stays as it stands. */
export interface ParameterRange extends SweepAxis {
  readonly cells: readonly {
    readonly method: "integrated" | "plain";
    readonly shares: Shares;
    /** Yield less that of the scenario as it stands, on the same units. */
    readonly difference: DifferenceEstimate;
  }[];
  /** Places of the values with the lowest and the highest yield. */
  readonly least: number;
  readonly most: number;
  /** The highest yield less the lowest, on the same units. */
  readonly span: DifferenceEstimate;
}

export interface RangesResult extends DecisionResult {
  readonly study: "ranges";
  /** As it stands. */
  readonly base: { readonly method: "integrated" | "plain"; readonly shares: Shares };
  readonly parameters: readonly ParameterRange[];
}

/** What a nominal offset gives. */
export interface CentrePoint {
  /** Mean machined offset. */
  readonly offsetMm: number;
  readonly good: RatioEstimate;
  readonly bench: RatioEstimate;
  readonly service: RatioEstimate;
  /** What failures cost, shared out over the good units; null without prices. Per unit made, scrapping all would be cheap. */
  readonly costPerGoodUnit: { readonly mean: number; readonly low: number; readonly high: number } | null;
}

export interface CentreResult extends DecisionResult {
  readonly study: "centre";
  readonly objective: "yield" | "cost";
  readonly currency: string;
  /** The dimension to change. */
  readonly member: {
    readonly name: string;
    readonly fromMm: number;
    readonly toMm: number;
    readonly toleranceMm: number;
  };
  /** Other dimensions that would do as well. */
  readonly others: readonly string[];
  readonly resolutionMm: number;
  readonly current: CentrePoint;
  /** Best of all, not rounded. */
  readonly best: CentrePoint;
  /** On the drawing's grid. */
  readonly rounded: CentrePoint;
  /** Rounded less current, on the same units. */
  readonly gain: DifferenceEstimate;
  /** One step to either side. */
  readonly steps: readonly {
    readonly nominalMm: number;
    readonly point: CentrePoint;
    readonly lost: DifferenceEstimate;
  }[];
  readonly curve: readonly CentrePoint[];
  /** The changed drawing by plain sampling of other units. */
  readonly check: RatioEstimate & { readonly samples: number };
}

export interface AllocatedMember {
  readonly name: string;
  readonly nominalMm: number;
  /** Half-width of the tolerance as drawn and as recommended; null where the target cannot be reached. */
  readonly fromMm: number;
  readonly toMm: number | null;
  /** Process or grade; empty for a tolerance on the drawing's grid. */
  readonly step: string;
  /** In the currency of the result; NaN where no process holds the tolerance. */
  readonly priceFrom: number;
  readonly priceTo: number | null;
  /** Yield that the next piece of money would buy here (share per unit of money); null where it buys nothing. */
  readonly gainPerMoney: number | null;
}

export interface AllocationPoint {
  /** Spread of the chain over that as drawn. */
  readonly spreadRatio: number;
  /** Least total price of the free tolerances. */
  readonly cost: number;
  readonly good: RatioEstimate;
  readonly tolerancesMm: readonly number[];
}

export interface ToleranceSet {
  readonly good: RatioEstimate;
  readonly cost: number;
  /** Half-widths of the chain. */
  readonly worstCaseMm: number;
  readonly rootSumSquareMm: number;
}

/** Something else that could bring the yield up. */
export interface Remedy {
  readonly name: string;
  /** With the tolerances as drawn and a spacing of its own. */
  readonly good: RatioEstimate;
  /** With hardly any tolerance; null where windows do not decide. */
  readonly tightest: RatioEstimate | null;
  readonly reaches: boolean;
}

export interface AllocateResult extends DecisionResult {
  readonly study: "allocate";
  readonly targetRatio: number;
  readonly currency: string;
  /** Without prices a price in proportion to 1/t is assumed, 1 as drawn. */
  readonly hasPrices: boolean;
  readonly isReachable: boolean;
  /** Whether the search for the cheapest steps went to its end. */
  readonly isProven: boolean;
  readonly current: ToleranceSet;
  readonly chosen: (ToleranceSet & { readonly shiftMm: number }) | null;
  /** The dimension whose nominal is moved. */
  readonly member: { readonly name: string; readonly fromMm: number; readonly toMm: number };
  readonly members: readonly AllocatedMember[];
  readonly fixed: readonly { readonly name: string; readonly toleranceMm: number }[];
  /** The most that tolerances of any width can give. */
  readonly bestReachable: { readonly spreadRatio: number; readonly good: RatioEstimate };
  /** Cheapest sets from tight to wide. */
  readonly front: readonly AllocationPoint[];
  /** The recommended drawing by plain sampling of other units. */
  readonly check: (RatioEstimate & { readonly samples: number }) | null;
  readonly remedies: readonly Remedy[];
}

/** One way of choosing shims. */
export interface ShimRow {
  readonly measure: "dimensions" | "play";
  readonly stepMm: number;
  /** Machined offset aimed at (dimensions), or what lies past the onset (play). */
  readonly aimMm: number;
  readonly good: RatioEstimate;
  /** Standard deviation of what is left between aim and result. */
  readonly residualSdMm: number;
  /** Different thicknesses that the sampled units took. */
  readonly thicknesses: number;
  readonly lowMm: number;
  readonly highMm: number;
}

/** One thickness to keep. */
export interface StockedShim {
  readonly correctionMm: number;
  readonly thicknessMm: number;
  /** Share of units that take it. */
  readonly share: RatioEstimate;
  readonly expected: number;
  readonly stock: number;
}

export interface ShimsResult extends DecisionResult {
  readonly study: "shims";
  /** Without shims, as machined. */
  readonly before: RatioEstimate;
  readonly rows: readonly ShimRow[];
  readonly chosen: ShimRow;
  readonly member: { readonly name: string; readonly nominalMm: number };
  readonly error: { readonly words: string; readonly isAssumed: boolean };
  /** The chosen way with a measurement that errs by so many times as much. */
  readonly byError: readonly { readonly factorRatio: number; readonly good: RatioEstimate }[];
  readonly stock: readonly StockedShim[];
  readonly shimBatchSize: number;
  readonly serviceRatio: number;
  /** Chance that the stock lasts for the batch. */
  readonly coverRatio: number;
  /** The chosen way through the whole model, other units. */
  readonly check: RatioEstimate & { readonly samples: number };
}

/** One way of setting the preload. */
export interface ComparedMethod {
  readonly name: string;
  readonly how: string;
  readonly shares: Shares;
  /** Good units against as machined, on the same units; null for that itself. */
  readonly difference: DifferenceEstimate | null;
  readonly priceOfMethod: number | null;
  /** Price of the method and of failures over the good units; null without prices. */
  readonly costPerGoodUnit: number | null;
  /** In the state with the most duty, over the first units; null where the scenario does not ask for it. */
  readonly extended: {
    readonly state: string;
    readonly samples: number;
    readonly axialStiffnessNPerMm: { readonly median: number; readonly low: number };
    readonly basicLifeH: { readonly median: number; readonly low: number };
  } | null;
}

export interface MethodsResult extends DecisionResult {
  readonly study: "methods";
  readonly currency: string;
  /** As machined first. */
  readonly methods: readonly ComparedMethod[];
  readonly lead: { readonly best: string; readonly second: string; readonly difference: DifferenceEstimate };
}

/** Indices of one cause: shares of the variance that it makes by itself, and with all that it takes part in. */
export interface CauseIndices {
  readonly cause: string;
  readonly group: VariableGroup;
  readonly origin: Origin;
  /** Drawn quantities in it. */
  readonly quantities: number;
  readonly preload: readonly {
    readonly state: string;
    readonly firstOrder: IndexEstimate;
    readonly total: IndexEstimate;
  }[];
  readonly yield: { readonly firstOrder: IndexEstimate; readonly total: IndexEstimate };
}

/** How the yield answers to one drawn quantity. */
export interface VariableSlope {
  readonly name: string;
  readonly label: string;
  readonly unit: InternalUnit;
  /** Standard deviation, in the unit beside. */
  readonly sd: number;
  /** Change of the yield for a mean moved up by a tenth of the standard deviation. */
  readonly byTenthOfSd: SlopeEstimate;
  /** Change of the yield for a tenth more spread. */
  readonly byTenPercentSpread: SlopeEstimate;
}

export interface SlopeEstimate {
  readonly changeRatio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
}

export interface ContributorsStudyResult extends DecisionResult {
  readonly study: "contributors";
  readonly indexBasis: {
    readonly replicates: number;
    readonly pointsPerReplicate: number;
    readonly evaluations: number;
  };
  readonly good: RatioEstimate & { readonly samples: number };
  /** By the total index of the yield, largest first. */
  readonly causes: readonly CauseIndices[];
  /** By what a tenth less spread would gain, most first. */
  readonly slopes: readonly VariableSlope[];
}
