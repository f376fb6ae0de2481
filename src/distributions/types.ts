/**
 * A continuous distribution of one quantity, as data. Values are in whatever internal unit the variable has.
 *
 * `low` and `high` are closed limits. A `constant` is not drawn at all.
 */
export type Distribution =
  | { readonly kind: "constant"; readonly value: number }
  | { readonly kind: "normal"; readonly mean: number; readonly sd: number }
  /** `mean` and `sd` are those of the normal before it is cut at the limits. */
  | {
      readonly kind: "truncated-normal";
      readonly mean: number;
      readonly sd: number;
      readonly low: number;
      readonly high: number;
    }
  | { readonly kind: "uniform"; readonly low: number; readonly high: number }
  | { readonly kind: "triangular"; readonly low: number; readonly mode: number; readonly high: number }
  | {
      readonly kind: "trapezoidal";
      readonly low: number;
      readonly shoulderLow: number;
      readonly shoulderHigh: number;
      readonly high: number;
    }
  /** Beta distribution stretched to the limits; `alpha` and `beta` are its two shapes. */
  | {
      readonly kind: "skewed";
      readonly low: number;
      readonly high: number;
      readonly alpha: number;
      readonly beta: number;
    }
  /** ln(x − shift) is normal with `logMean` and `logSd`. */
  | { readonly kind: "lognormal"; readonly logMean: number; readonly logSd: number; readonly shift: number }
  /** mean + scale·t, t of Student with the degrees of freedom (JCGM 101, 6.4.9). */
  | { readonly kind: "student-t"; readonly mean: number; readonly scale: number; readonly degreesOfFreedom: number }
  | { readonly kind: "arcsine"; readonly low: number; readonly high: number }
  /** Sorted measured values; the inverse CDF interpolates linearly between them (quantile type 7). */
  | { readonly kind: "empirical"; readonly values: readonly number[] };

export type DistributionKind = Distribution["kind"];
