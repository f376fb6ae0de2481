import {
  clearanceForFreeAngleMm,
  freeContactAngleRad,
  grooveCentreDistanceMm,
} from "../../src/physics/axial-contact.ts";
import { type BallRow, createBallRow, innerGrooveRadiusMm } from "../../src/physics/ball-row.ts";
import { groovedContact, type Race, seriesStiffness } from "../../src/physics/hertz.ts";

/** Steel of the worked examples. */
export const EXAMPLE_STEEL = { youngsModulusMPa: 207_000, poissonRatio: 0.3 };

/** A ball row with exact Hertz stiffness, given by its clearance or by its free contact angle. */
export function bearingRow(bearing: {
  ballCount: number;
  ballDiameterMm: number;
  pitchDiameterMm: number;
  conformityInnerRatio?: number;
  conformityOuterRatio?: number;
  clearanceMm?: number;
  freeAngleDeg?: number;
  azimuthRad?: number;
}): BallRow {
  const inner = bearing.conformityInnerRatio ?? 0.52;
  const outer = bearing.conformityOuterRatio ?? 0.53;
  const distance = grooveCentreDistanceMm(inner, outer, bearing.ballDiameterMm);
  const clearanceMm =
    bearing.clearanceMm ?? clearanceForFreeAngleMm(distance, ((bearing.freeAngleDeg ?? 0) * Math.PI) / 180);
  const angle = freeContactAngleRad(distance, clearanceMm);
  const stiffness = (race: Race) =>
    groovedContact({
      ballDiameterMm: bearing.ballDiameterMm,
      pitchDiameterMm: bearing.pitchDiameterMm,
      conformityRatio: race === "inner" ? inner : outer,
      contactAngleRad: angle,
      race,
      ball: EXAMPLE_STEEL,
      ring: EXAMPLE_STEEL,
    }).stiffnessNPerMm15;
  return createBallRow({
    ballCount: bearing.ballCount,
    ballStiffnessNPerMm15: seriesStiffness(stiffness("inner"), stiffness("outer")),
    grooveDistanceMm: distance,
    clearanceMm,
    grooveRadiusMm: innerGrooveRadiusMm(bearing.pitchDiameterMm, bearing.ballDiameterMm, inner, angle),
    azimuthRad: bearing.azimuthRad,
  });
}

/** The row of nine balls that the tests of pairs on a shaft rest on. */
export function nineBallRow(clearanceMm = 0.0125, azimuthRad = 0): BallRow {
  return createBallRow({
    ballCount: 9,
    ballStiffnessNPerMm15: 265_145.67,
    grooveDistanceMm: 0.254,
    clearanceMm,
    grooveRadiusMm: 16.2,
    azimuthRad,
  });
}
