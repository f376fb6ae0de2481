/** Equivalent loads of single-row radial and angular-contact ball bearings. */
import { InputError } from "../errors.ts";
import { requireBetween, requirePositive } from "./guards.ts";

interface LoadFactors {
  /** f₀·F_a/C_0r where the row holds. */
  readonly relativeAxialLoad: number;
  /** e, limit of F_a/F_r above which the axial load counts. */
  readonly limit: number;
  /** Y for F_a/F_r above e. */
  readonly axial: number;
}

/** X = 0.56 throughout. Source: ISO 281:2007, Table 3, radial contact (from memory). */
const RADIAL_CONTACT: readonly LoadFactors[] = [
  { relativeAxialLoad: 0.172, limit: 0.19, axial: 2.3 },
  { relativeAxialLoad: 0.345, limit: 0.22, axial: 1.99 },
  { relativeAxialLoad: 0.689, limit: 0.26, axial: 1.71 },
  { relativeAxialLoad: 1.03, limit: 0.28, axial: 1.55 },
  { relativeAxialLoad: 1.38, limit: 0.3, axial: 1.45 },
  { relativeAxialLoad: 2.07, limit: 0.34, axial: 1.31 },
  { relativeAxialLoad: 3.45, limit: 0.38, axial: 1.15 },
  { relativeAxialLoad: 5.17, limit: 0.42, axial: 1.04 },
  { relativeAxialLoad: 6.89, limit: 0.44, axial: 1.0 },
];

/** 15°, X = 0.44. Source: ISO 281:2007, Table 3 (from memory). */
const FIFTEEN_DEGREES: readonly LoadFactors[] = [
  { relativeAxialLoad: 0.178, limit: 0.38, axial: 1.47 },
  { relativeAxialLoad: 0.357, limit: 0.4, axial: 1.4 },
  { relativeAxialLoad: 0.714, limit: 0.43, axial: 1.3 },
  { relativeAxialLoad: 1.07, limit: 0.46, axial: 1.23 },
  { relativeAxialLoad: 1.43, limit: 0.47, axial: 1.19 },
  { relativeAxialLoad: 2.14, limit: 0.5, axial: 1.12 },
  { relativeAxialLoad: 3.57, limit: 0.55, axial: 1.02 },
  { relativeAxialLoad: 5.35, limit: 0.56, axial: 1.0 },
  { relativeAxialLoad: 7.14, limit: 0.56, axial: 1.0 },
];

/** Larger angles do not depend on the load: [angle, e, X, Y, Y₀]. Source: ISO 281:2007 Table 3, ISO 76:2006 Table 2 (from memory). */
const LARGER_ANGLES: readonly (readonly [number, number, number, number, number])[] = [
  [20, 0.57, 0.43, 1.0, 0.42],
  [25, 0.68, 0.41, 0.87, 0.38],
  [30, 0.8, 0.39, 0.76, 0.33],
  [35, 0.95, 0.37, 0.66, 0.29],
  [40, 1.14, 0.35, 0.57, 0.26],
  [45, 1.34, 0.33, 0.5, 0.22],
];

const DEGREE_RAD = Math.PI / 180;

export interface BearingLoad {
  /** F_r, N, 0 or more. */
  readonly radialN: number;
  /** F_a, N; its sign does not matter. */
  readonly axialN: number;
  /** Nominal contact angle, rad: 0 (deep groove) or one that the standard tabulates, 15° to 45°. */
  readonly contactAngleRad: number;
}

/**
 * Dynamic equivalent radial load of one single-row ball bearing, P = X·F_r + Y·F_a, and P = F_r while F_a/F_r ≤ e.
 *
 * @param load F_r, F_a, nominal contact angle
 * @param relativeLoadFactor f₀, of ISO 76
 * @param staticRatingN C_0r, N, above 0
 * @returns P, N. Factors between the rows of the table interpolated linearly; held constant beyond its ends.
 * @throws InputError for an angle that the standard does not tabulate, a rating of 0
 *
 * Source: ISO 281:2007, 5.2 and Table 3 (values from memory). It knows neither preload nor clearance: the ball-load-based
 * life does.
 */
export function dynamicEquivalentLoadN(load: BearingLoad, relativeLoadFactor: number, staticRatingN: number): number {
  const { radialN, axialN } = checked(load);
  requirePositive(staticRatingN, "staticRatingN", "N");
  const degrees = nominalDegrees(load.contactAngleRad);
  const larger = LARGER_ANGLES.find((row) => row[0] === degrees);
  const row =
    larger === undefined
      ? interpolate(degrees === 0 ? RADIAL_CONTACT : FIFTEEN_DEGREES, (relativeLoadFactor * axialN) / staticRatingN)
      : { limit: larger[1], axial: larger[3] };
  const radialFactor = larger?.[2] ?? (degrees === 0 ? 0.56 : 0.44);
  return axialN <= row.limit * radialN ? radialN : radialFactor * radialN + row.axial * axialN;
}

/**
 * Static equivalent radial load of one single-row ball bearing, P₀ = X₀·F_r + Y₀·F_a, not below F_r.
 *
 * X₀, Y₀ = 0.6, 0.5 for radial contact; 0.5 and 0.46 (15°) to 0.22 (45°) for angular contact.
 *
 * @returns P₀, N
 * @throws InputError for an angle that the standard does not tabulate
 *
 * Source: ISO 76:2006, 5.2 and Table 2 (values from memory).
 */
export function staticEquivalentLoadN(load: BearingLoad): number {
  const { radialN, axialN } = checked(load);
  const degrees = nominalDegrees(load.contactAngleRad);
  const larger = LARGER_ANGLES.find((row) => row[0] === degrees);
  const axialFactor = degrees === 0 ? 0.5 : (larger?.[4] ?? 0.46);
  return Math.max(radialN, (degrees === 0 ? 0.6 : 0.5) * radialN + axialFactor * axialN);
}

function checked(load: BearingLoad): { radialN: number; axialN: number } {
  requireBetween(load.radialN, 0, Number.MAX_VALUE, "radialN", "a radial load of 0 N or more");
  requireBetween(Math.abs(load.axialN), 0, Number.MAX_VALUE, "axialN", "a finite axial load in N");
  return { radialN: load.radialN, axialN: Math.abs(load.axialN) };
}

function nominalDegrees(angleRad: number): number {
  const known = [0, 15, ...LARGER_ANGLES.map((row) => row[0])];
  const degrees = known.find((candidate) => Math.abs(angleRad - candidate * DEGREE_RAD) < 1e-6);
  if (degrees === undefined) {
    throw new InputError({
      code: "out-of-range",
      path: "contactAngleRad",
      expected: `a nominal contact angle of ${known.join(", ")} degrees`,
      got: `${angleRad / DEGREE_RAD} degrees`,
    });
  }
  return degrees;
}

function interpolate(rows: readonly LoadFactors[], relativeAxialLoad: number): { limit: number; axial: number } {
  const above = rows.findIndex((row) => row.relativeAxialLoad >= relativeAxialLoad);
  if (above <= 0) return above === 0 ? rows[0] : rows[rows.length - 1];
  const low = rows[above - 1];
  const high = rows[above];
  const place = (relativeAxialLoad - low.relativeAxialLoad) / (high.relativeAxialLoad - low.relativeAxialLoad);
  return {
    limit: low.limit + place * (high.limit - low.limit),
    axial: low.axial + place * (high.axial - low.axial),
  };
}
