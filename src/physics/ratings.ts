import { InputError } from "../errors.ts";
import { cbrt, cos, pow } from "../numeric/elementary.ts";
import { requireBetween, requireCount, requirePositive } from "./guards.ts";
import { dynamicFactor, staticFactor } from "./rating-factors.ts";

/** The ball set that a load rating follows from. */
export interface BallSet {
  /** Z, balls per row, 3 or more. */
  readonly ballCount: number;
  /** Dw, mm. */
  readonly ballDiameterMm: number;
  /** Dpw, mm. */
  readonly pitchDiameterMm: number;
  /** α, nominal contact angle, rad, 0 to π/4: radial and angular-contact bearings. */
  readonly contactAngleRad: number;
  /** i, rows of balls. */
  readonly rows: number;
}

/** b_m, contemporary material and manufacture, radial and angular-contact ball bearings. Source: ISO 281:2007, Table 1. */
const MATERIAL_FACTOR_RATIO = 1.3;

/**
 * Basic dynamic radial load rating of a radial or angular-contact ball bearing.
 *
 * C_r = b_m·f_c·(i·cos α)^0.7·Z^(2/3)·Dw^1.8 for Dw ≤ 25.4 mm, 3.647·Dw^1.4 in place of Dw^1.8 above it.
 * f_c from the table over γ = Dw·cos α/Dpw, interpolated; b_m = 1.3; i → `rows`, Z → `ballCount`.
 *
 * @returns C_r, N
 * @throws InputError for a ball set that cannot be, or γ outside 0.01 to 0.40
 *
 * Source: ISO 281:2007, 5.1 and Tables 1 and 2. Valid for grooves no more open than 0.52·Dw (inner) and 0.53·Dw (outer);
 * more open grooves carry less. Accuracy: relative 1e-14 of the formula.
 */
export function basicDynamicRatingN(set: BallSet): number {
  requireBallSet(set);
  const { ballDiameterMm } = set;
  const cosine = cos(set.contactAngleRad);
  const factor = dynamicFactor((ballDiameterMm * cosine) / set.pitchDiameterMm);
  const root = cbrt(set.ballCount);
  const size = ballDiameterMm <= 25.4 ? pow(ballDiameterMm, 1.8) : 3.647 * pow(ballDiameterMm, 1.4);
  return MATERIAL_FACTOR_RATIO * factor * pow(set.rows * cosine, 0.7) * root * root * size;
}

/**
 * Basic static radial load rating of a radial or angular-contact ball bearing, C_0r = f₀·i·Z·Dw²·cos α.
 *
 * f₀ from the table over γ = Dw·cos α/Dpw, interpolated; i → `rows`, Z → `ballCount`.
 *
 * @returns C_0r, N: the load with 4200 MPa at the most loaded contact
 * @throws InputError for a ball set that cannot be, or γ outside 0 to 0.40
 *
 * Source: ISO 76:2006, 5.1 and Table 1. Accuracy: relative 1e-14 of the formula.
 */
export function basicStaticRatingN(set: BallSet): number {
  requireBallSet(set);
  const cosine = cos(set.contactAngleRad);
  const factor = staticFactor((set.ballDiameterMm * cosine) / set.pitchDiameterMm);
  return factor * set.rows * set.ballCount * set.ballDiameterMm * set.ballDiameterMm * cosine;
}

function requireBallSet(set: BallSet): void {
  requireCount(set.ballCount, 3, "ballCount");
  requireCount(set.rows, 1, "rows");
  requirePositive(set.ballDiameterMm, "ballDiameterMm", "mm");
  requirePositive(set.pitchDiameterMm, "pitchDiameterMm", "mm");
  requireBetween(set.contactAngleRad, 0, 0.25 * Math.PI, "contactAngleRad", "a contact angle from 0 to 45°");
  // A full ring of balls has chords of Dw between neighbours; Z·Dw < π·Dpw is the same but for the last half per cent.
  if (!(set.ballCount * set.ballDiameterMm < Math.PI * set.pitchDiameterMm)) {
    throw new InputError({
      code: "impossible-geometry",
      path: "ballCount",
      expected: `fewer than ${Math.ceil((Math.PI * set.pitchDiameterMm) / set.ballDiameterMm)} balls of ${set.ballDiameterMm} mm on a pitch circle of ${set.pitchDiameterMm} mm`,
      got: String(set.ballCount),
    });
  }
}
