import { acos, asin } from "../numeric/elementary.ts";
import { requireBetween, requirePositive } from "./guards.ts";

/**
 * Largest contact angle that a groove covers, cos θ = 1 − 2h/Dw.
 *
 * @param shoulderHeightMm h, height of the shoulder over the bottom of the groove, mm, above 0 and up to Dw/2
 * @param ballDiameterMm Dw, mm
 * @returns θ, rad, from the bottom of the groove to the edge of the shoulder, seen from the ball's centre
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Over-riding of the land by the contact ellipse" (from memory).
 */
export function shoulderAngleRad(shoulderHeightMm: number, ballDiameterMm: number): number {
  requirePositive(ballDiameterMm, "ballDiameterMm", "mm");
  requirePositive(shoulderHeightMm, "shoulderHeightMm", "mm");
  requireBetween(
    shoulderHeightMm,
    0,
    0.5 * ballDiameterMm,
    "shoulderHeightMm",
    "a shoulder up to half the ball diameter",
  );
  return acos(1 - (2 * shoulderHeightMm) / ballDiameterMm);
}

/**
 * Room left between the contact ellipse and the edge of the shoulder, as an angle: θ − |α| − asin(2a/Dw).
 *
 * @param contactAngleRad α under load, rad
 * @param semiMajorMm a, long semi-axis of the contact ellipse, mm, 0 or more
 * @param shoulderHeightMm h, mm
 * @param ballDiameterMm Dw, mm
 * @returns rad; below 0 the ellipse is cut off by the edge, and pressure there is above the Hertz value
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, ibid. (from memory). The ellipse is taken to lie on the ball, which is
 * right to a few per cent of its length for usual grooves.
 */
export function shoulderRoomRad(
  contactAngleRad: number,
  semiMajorMm: number,
  shoulderHeightMm: number,
  ballDiameterMm: number,
): number {
  const half = Math.min(1, (2 * semiMajorMm) / ballDiameterMm);
  return shoulderAngleRad(shoulderHeightMm, ballDiameterMm) - Math.abs(contactAngleRad) - asin(half);
}
