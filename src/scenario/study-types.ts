import type { Distribution } from "../distributions/types.ts";
import type { InternalUnit, VariableIndex } from "./types.ts";

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

/** What units cost, in one currency; a bench failure is reworked with a success of `reworkRatio`, else scrapped. */
export interface ResolvedCosts {
  /** A word; empty where none was written. */
  readonly currency: string;
  readonly unit: number;
  readonly scrap: number;
  /** Null where nothing is reworked. */
  readonly rework: number | null;
  readonly reworkRatio: number;
  readonly warranty: number;
}

/** A check of every unit on the bench, in the unit of its gauge; a limit may be infinite. */
export interface ResolvedBenchCheck {
  readonly gauge: "play" | "preload" | "torque";
  readonly unit: InternalUnit;
  readonly low: number;
  readonly high: number;
  readonly error: Distribution;
}

/** What is asked about a batch beside its yield. */
export interface ResolvedBatchPlans {
  readonly warrantyYears: number;
  /** One entry a state: share of units that see it in a year. */
  readonly seenPerYearRatio: readonly number[];
  readonly costs: ResolvedCosts | null;
  readonly sampling: readonly { readonly sample: number; readonly accept: number }[];
  readonly benchCheck: ResolvedBenchCheck | null;
}
