import type { Distribution } from "../../distributions/types.ts";
import type { Capability } from "../../stats/capability.ts";
import type { ControlChart } from "../../stats/control-chart.ts";
import type { FittedFamily } from "../../stats/fit-distributions.ts";
import type { Deconvolution, GaugeStudy, LotSpread } from "../../stats/gauge-study.ts";
import type { Mixture } from "../../stats/mixture.ts";
import type { QuantitySummary } from "../result.ts";

/** What was measured on parts, and what it says of the process that made them. Values in the unit of `values`. */
export interface FitResult {
  readonly study: "fit";
  /** A fit draws nothing and takes nothing from the catalogue: its table stands where a scenario would. */
  readonly provenance: {
    readonly program: string;
    readonly version: string;
    readonly resultVersion: number;
    readonly platform: string;
    readonly file: string;
    /** SHA-256 of the table. */
    readonly tableHash: string;
    readonly column: string;
  };
  /** What the command line said, enough to fit again while the tables are there (`reproduce`). */
  readonly asked: object;
  readonly rows: {
    readonly used: number;
    readonly skipped: readonly { readonly line: number; readonly why: string }[];
  };
  readonly limits: { readonly low: number; readonly high: number } | null;
  readonly values: QuantitySummary & { readonly skewness: number; readonly excessKurtosis: number };
  /** Interval of 95 % for the mean and the sd of the process. */
  readonly meanInterval: { readonly low: number; readonly high: number };
  readonly sdInterval: { readonly low: number; readonly high: number };
  readonly normality: {
    readonly statisticRatio: number;
    readonly adjustedRatio: number;
    readonly pRatio: number;
  } | null;
  /** Families that fit the sample, best first; the one that is recommended has `isChosen`. */
  readonly candidates: readonly Candidate[];
  readonly mixture: Mixture | null;
  /** What is to be drawn in a scenario. `empirical` where no family fits or two populations are mixed. */
  readonly choice: "empirical" | FittedFamily;
  readonly instrument: (Deconvolution & { readonly source: string }) | null;
  readonly gaugeStudy: GaugeStudy | null;
  readonly lots: LotSpread | null;
  readonly capability: Capability | null;
  readonly tolerance: {
    /** Normal tolerance interval: 95 % of the parts with 95 % confidence. */
    readonly factor: number;
    readonly low: number;
    readonly high: number;
    /** Share of parts that lies between the least and the greatest value, with 95 % confidence, whatever the distribution. */
    readonly extremesRatio: number;
    /** Parts that the extremes need to hold 95 % and 99.73 % with 95 % confidence. */
    readonly partsFor95: number;
    readonly partsFor9973: number;
  };
  readonly control: ControlChart | null;
  /** Lines to paste into a scenario. */
  readonly paste: { readonly empirical: string; readonly fitted: string | null };
  /** What to do with it, most important sentence first. */
  readonly verdict: readonly string[];
}

export interface Candidate {
  readonly family: FittedFamily;
  readonly distribution: Distribution;
  readonly bic: number;
  readonly andersonDarlingRatio: number;
  readonly isChosen: boolean;
}
