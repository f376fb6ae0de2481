import type { ResolvedBenchCheck, ResolvedCosts } from "../../scenario/types.ts";
import type { Provenance, Share } from "../result.ts";

/** What a batch may bring: every count over whole batches, not over units. */
export interface BatchStudyResult {
  readonly study: "batch";
  readonly provenance: Provenance;
  readonly title: string;
  readonly size: number;
  readonly warrantyYears: number;
  /** Whole batches drawn; units of each that were drawn one by one (a larger batch is scaled up from them). */
  readonly batches: number;
  readonly unitsDrawn: number;
  /** False where nothing is shared by a batch: counts are then those of independent units. */
  readonly isShared: boolean;
  readonly requiredYieldRatio: number | null;
  readonly good: CountDistribution;
  readonly benchFailures: CountDistribution;
  /** Units that pass the bench and fail in some state, whether they ever see it or not. */
  readonly serviceFailures: CountDistribution;
  /** Of those, the ones that see such a state within the warranty. */
  readonly warrantyFailures: CountDistribution;
  /** Batches that reach the required yield; null without one. */
  readonly reachesYield: Share | null;
  readonly costs: BatchCosts | null;
  readonly sampling: readonly SamplingResult[];
  readonly check: CheckResult | null;
  /** The scenario's content, costs and plans in it. */
  readonly scenario: unknown;
  readonly verdict: readonly string[];
}

/** A count over batches. */
export interface CountDistribution {
  readonly expected: number;
  readonly sd: number;
  /** Standard deviation of the batches' own shares, and that of the count in a batch of such a share, in units. */
  readonly betweenSd: number;
  readonly withinSd: number;
  readonly quantiles: readonly { readonly probabilityRatio: number; readonly count: number }[];
  /** Chance of more than so many. */
  readonly more: readonly {
    readonly count: number;
    readonly chanceRatio: number;
    readonly lowRatio: number;
    readonly highRatio: number;
  }[];
  /** Smooth fit: mean share and correlation of two units of a batch (beta-binomial). */
  readonly fit: { readonly meanRatio: number; readonly correlationRatio: number };
  /** Batches by count, for the figure: equal bins from low on. */
  readonly histogram: { readonly low: number; readonly width: number; readonly batches: readonly number[] };
}

export interface BatchCosts {
  readonly settings: ResolvedCosts;
  /** Scrap, rework and warranty of a batch together. */
  readonly loss: MoneyDistribution;
  readonly scrap: MoneyDistribution;
  readonly rework: MoneyDistribution;
  readonly warranty: MoneyDistribution;
  /** Everything spent, making included, over the units that are good or were made good. */
  readonly perGoodUnit: number;
  readonly lossPerUnit: number;
}

export interface MoneyDistribution {
  readonly expected: number;
  readonly quantiles: readonly { readonly probabilityRatio: number; readonly amount: number }[];
}

export interface SamplingResult {
  readonly sample: number;
  readonly accept: number;
  /** True for a plan of the program's own, by the usual sample size. */
  readonly isUsual: boolean;
  /** Share of batches, as they are drawn, that the plan accepts. */
  readonly acceptedRatio: number;
  /** Failing shares that it accepts with 95 and 10 %. */
  readonly producerPointRatio: number;
  readonly consumerPointRatio: number;
  /** Mean failing share at the bench of the batches accepted, and of all. */
  readonly acceptedFailingRatio: number;
  readonly allFailingRatio: number;
  /** A batch accepted though more of it fail than the required yield allows, and the reverse; null without a required yield. */
  readonly badAcceptedRatio: number | null;
  readonly goodRejectedRatio: number | null;
  readonly curve: readonly { readonly failingRatio: number; readonly acceptanceRatio: number }[];
}

/** Risks of a check of every unit, as shares of all units (JCGM 106:2012, 9.5). */
export interface CheckResult {
  readonly settings: Omit<ResolvedBenchCheck, "low" | "high"> & {
    readonly low: number | null;
    readonly high: number | null;
  };
  readonly units: number;
  readonly now: CheckRisks;
  /** The same with both limits drawn inwards by a guard band (outwards where negative), in the unit of the gauge. */
  readonly guards: readonly (CheckRisks & { readonly guard: number })[];
}

export interface CheckRisks {
  readonly acceptedRatio: number;
  /** Outside the window at the bench, and accepted. */
  readonly escapesRatio: number;
  /** Accepted, and failing in some state of service though good at the bench: no bench check can see them. */
  readonly laterRatio: number;
  /** Good in every state, and rejected. */
  readonly falseRejectsRatio: number;
  /** Good at the bench, and rejected. */
  readonly rejectsAtBenchRatio: number;
}
