import type { VariableIndex } from "./types.ts";

/** What a dimension costs with the tolerance ±t. Lengths in mm. */
export interface ToleranceCost {
  readonly variable: VariableIndex;
  /** Price falls along a curve, or each process has its own tolerance and price. */
  readonly price: /** a + b/t^k */
    | { readonly kind: "power"; readonly a: number; readonly bPerMmPower: number; readonly exponentRatio: number }
    /** a·exp(−t/scale) */
    | { readonly kind: "exponential"; readonly a: number; readonly scaleMm: number }
    | {
        readonly kind: "processes";
        readonly steps: readonly { readonly process: string; readonly toleranceMm: number; readonly price: number }[];
      };
  /** Tolerances that the price holds for. */
  readonly lowMm: number;
  readonly highMm: number;
}

/** What tolerances cost; changes no run. */
export interface ToleranceCosts {
  readonly currency: string;
  readonly members: readonly ToleranceCost[];
}
