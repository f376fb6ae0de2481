import { InputError } from "../errors.ts";
import { nearestName } from "../units/nearest.ts";
import { ANGULAR_CONTACT_BEARINGS } from "./angular-contact-data.ts";
import type { BearingRecord, CatalogueBearing } from "./bearing-types.ts";
import { withRatings } from "./bearings.ts";
import { refuseSuffix, splitDesignation } from "./designations.ts";

/** Contact angles that angular-contact bearings are usually made with, degrees. */
export const USUAL_CONTACT_ANGLES_DEG = [15, 25, 40] as const;

const LOWEST_ANGLE_DEG = 10;
const HIGHEST_ANGLE_DEG = 45;
/** The printed ball sets are those of bearings up to this angle. */
const HIGHEST_PRINTED_ANGLE_DEG = 25;
/** Keeps an angle that was written in whole degrees on its side of a limit whatever its conversion to radians rounded. */
const ANGLE_SLACK_DEG = 0.001;

const BY_DESIGNATION: ReadonlyMap<string, BearingRecord> = new Map(
  ANGULAR_CONTACT_BEARINGS.map((record) => [record.designation, record]),
);

/** Every angular-contact bearing of the catalogue: series 719, 70 and 72, bores 10 to 60 mm. */
export function listAngularContactBearings(): readonly BearingRecord[] {
  return ANGULAR_CONTACT_BEARINGS;
}

/** Whether a designation is one of a single-row angular-contact bearing, in the catalogue or not. */
export function isAngularContact(designation: string | number): boolean {
  const parts = splitDesignation(String(designation));
  return parts !== null && /^7(?:\d{2,3}|1[89]\d{2})$/.test(parts.size);
}

/**
 * An angular-contact bearing of series 719, 70 or 72 by its designation and nominal contact angle, with the ratings of its
 * ball set at that angle.
 *
 * The letters that stand behind a designation for the angle differ from maker to maker, so they are refused and the angle
 * is given. Beyond 25° the ball set is taken over from the printed one and marked as an estimate.
 *
 * @param contactAngleRad nominal contact angle, 10° to 45°, rad
 * @throws InputError unknown-name, not-supported (suffix) or out-of-range (angle)
 */
export function findAngularContactBearing(
  designation: string | number,
  contactAngleRad: number,
  path = "",
): CatalogueBearing {
  const text = String(designation);
  const parts = splitDesignation(text);
  const record = parts === null ? undefined : BY_DESIGNATION.get(parts.size);
  if (parts === null || record === undefined) {
    const nearest = nearestName(parts?.size ?? text, BY_DESIGNATION.keys());
    throw new InputError({
      code: "unknown-name",
      path,
      expected: "an angular-contact bearing of series 719, 70 or 72 with a bore from 10 to 60 mm",
      got: text,
      hint:
        nearest === undefined || isAngularContact(text)
          ? "Give bore, outsideDiameter, width, ballCount, ballDiameter and pitchDiameter instead."
          : `Did you mean "${nearest}"?`,
    });
  }
  refuseSuffix(text, parts, path);
  const angleDeg = (contactAngleRad * 180) / Math.PI;
  if (!(angleDeg >= LOWEST_ANGLE_DEG - ANGLE_SLACK_DEG && angleDeg <= HIGHEST_ANGLE_DEG + ANGLE_SLACK_DEG)) {
    throw new InputError({
      code: "out-of-range",
      path,
      expected: `a nominal contact angle from ${LOWEST_ANGLE_DEG}° to ${HIGHEST_ANGLE_DEG}°`,
      got: `${Math.round(angleDeg * 1000) / 1000}°`,
      hint: `Usual are ${USUAL_CONTACT_ANGLES_DEG.join(", ")} deg.`,
    });
  }
  const steep = angleDeg > HIGHEST_PRINTED_ANGLE_DEG + ANGLE_SLACK_DEG;
  const found: BearingRecord = steep
    ? { ...record, ballSet: "estimate", source: `${record.source}, taken over for a steeper contact angle` }
    : record;
  return withRatings(found, "angular-contact", Math.min(contactAngleRad, Math.PI / 4));
}
