import type { OutcomeLimits } from "./outcomes.ts";

/** What the loops of a kernel work on, as plain columns and numbers. */

/** How the contact of both races of a bearing follows the conformities: polynomials of the scaled conformity. */
export interface BearingCurves {
  readonly ballCount: number;
  readonly ballDiameterMm: number;
  readonly innerCurve: CurveNumbers;
  readonly outerCurve: CurveNumbers;
}

export interface CurveNumbers {
  readonly centreRatio: number;
  readonly halfWidthRatio: number;
  /** Coefficients, lowest power first. */
  readonly compliance: Float64Array;
  readonly limitLoad: Float64Array;
}

/** Constants of one seat. */
export interface FitConstants {
  /** +1 where the mate is inside the ring, −1 where it is outside. */
  readonly sense: 1 | -1;
  readonly ringExpansionPerK: number;
  readonly mateExpansionPerK: number;
  readonly measuredFactor: number;
  readonly racewayRatio: number;
  /** Raised where the seat is loose. */
  readonly lostFlag: number;
}

/** A block of pairs for the solver: what each is given and where its solution goes. */
export interface PairColumns {
  /** Offset δ, not negative, mm. */
  readonly offsetMm: Float64Array;
  /** What gives way beside the common c, pair by pair, such as a spring, mm/N; 0 when left out. */
  readonly extraMmPerN?: Float64Array;
  /** A, w and Z·K of bearing a and of bearing b. */
  readonly distanceA: Float64Array;
  readonly wA: Float64Array;
  readonly stiffnessA: Float64Array;
  readonly distanceB: Float64Array;
  readonly wB: Float64Array;
  readonly stiffnessB: Float64Array;
  /** Preload F, N; 0 while there is play. */
  readonly forceN: Float64Array;
  /** Axial displacements x_a and x_b, mm; the half plays while there is play. */
  readonly xA: Float64Array;
  readonly xB: Float64Array;
}

export interface SettleLimits extends OutcomeLimits {
  /** Whether the columns of limit deflections count. */
  readonly pressureLimited: boolean;
  /** Raised where a limit deflection is passed. */
  readonly pressureFlag: number;
}

export interface SettledColumns {
  readonly preloadN: Float64Array;
  readonly playMm: Float64Array;
  readonly outcome: Uint8Array;
  readonly flags: Uint16Array;
}
