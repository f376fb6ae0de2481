import type { Outcome } from "../../model/outcome.ts";
import type { CombinedUncertainty } from "../../stats/uncertainty-budget.ts";
import type { WeightedShare } from "../../stats/weighted.ts";
import type { Warning } from "../../warnings.ts";
import type { Provenance } from "../result.ts";
import type { TermKind } from "./evidence.ts";
import type { ChangePoint } from "./shim.ts";

export type Decision = "go" | "no-go" | "cannot tell";

/** What one measured unit is and will do. Lengths in mm. */
export interface AuditResult {
  readonly study: "audit";
  readonly provenance: Provenance;
  readonly title: string;
  readonly unit: string;
  readonly from: string;
  readonly arrangement: string;
  readonly decision: Decision;
  readonly decideRatio: number;
  /** In the window in every state. The interval is that of the simulation alone. */
  readonly good: WeightedShare;
  readonly states: readonly {
    readonly name: string;
    readonly label: string;
    readonly isBench: boolean;
    readonly outcomes: Readonly<Record<Outcome, WeightedShare>>;
  }[];
  /** Offset on the bench by the budget (JCGM 100) and by the draws (JCGM 101), 95 %. */
  readonly offset: {
    readonly estimateMm: number;
    readonly budget: readonly BudgetRow[];
    readonly combined: CombinedUncertainty;
    readonly drawnLowMm: number;
    readonly drawnHighMm: number;
  };
  /** The acceptance window of this unit in machined offsets: quantiles 2.5, 50 and 97.5 % of its ends. */
  readonly window: {
    readonly machinedMm: readonly [number, number, number];
    readonly lowMm: readonly [number, number, number];
    readonly highMm: readonly [number, number, number];
    readonly emptyRatio: number;
  };
  /** Where what is not known comes from, kept apart. */
  readonly uncertainty: {
    /** Of the chance of being good, from the number of draws: more samples shrink it, and only it. */
    readonly simulationRatio: number;
    readonly samples: number;
    readonly effectiveSamples: number;
    /** Of the offset on the bench, standard, mm. */
    readonly readingsMm: number;
    readonly instrumentMm: number;
    readonly notMeasuredMm: number;
    /** Of the place of the window: the bearings and fits, standard, mm. */
    readonly windowMm: number;
  };
  /** What each quantity would tell if it were known exactly, most first. */
  readonly toMeasure: readonly {
    readonly label: string;
    readonly isMeasured: boolean;
    /** False for what varies in service: no measurement of the unit settles it. */
    readonly isOfUnit: boolean;
    /** Chance of a right call, go or no-go, with it known exactly; now it is `rightNowRatio`. */
    readonly rightCallRatio: number;
    readonly gainRatio: number;
  }[];
  readonly rightNowRatio: number;
  /** What a change of a spacing would do; null where a device sets the preload and not the spacings. */
  readonly change: {
    /** The scenario asks for more than a preload (stiffness, a gap): the chances here are those of the preload alone. */
    readonly isPreloadOnly: boolean;
    readonly stepMm: number;
    readonly best: ChangePoint;
    readonly now: ChangePoint;
    readonly neighbours: readonly ChangePoint[];
    /** Range of changes that reach `decideRatio`, or null. */
    readonly goRange: { readonly lowMm: number; readonly highMm: number } | null;
    readonly curve: readonly ChangePoint[];
  } | null;
  readonly warnings: readonly Warning[];
  /** The scenario's content, the readings in it. */
  readonly scenario: unknown;
  readonly verdict: readonly string[];
}

export interface BudgetRow {
  readonly label: string;
  readonly kind: TermKind;
  readonly unit: string;
  readonly estimate: number;
  readonly standardUncertainty: number;
  readonly sensitivity: number;
  readonly contributionMm: number;
  /** Null where it is without end: JSON has no infinity. */
  readonly degreesOfFreedom: number | null;
}
