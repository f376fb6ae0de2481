import { InputError } from "../errors.ts";
import { basicDynamicRatingN, basicStaticRatingN } from "../physics/ratings.ts";
import { nearestName } from "../units/nearest.ts";
import type { BearingRecord, CatalogueBearing } from "./bearing-types.ts";
import { DEEP_GROOVE_BEARINGS } from "./deep-groove-data.ts";
import { otherFamily, refuseSuffix, splitDesignation } from "./designations.ts";

export type { BallSetOrigin, BearingRecord, CatalogueBearing } from "./bearing-types.ts";

const BY_DESIGNATION: ReadonlyMap<string, BearingRecord> = new Map(
  DEEP_GROOVE_BEARINGS.map((record) => [record.designation, record]),
);

const GIVE_FULLY = "Give bore, outsideDiameter, width, ballCount, ballDiameter and pitchDiameter instead.";

/** Every deep-groove bearing of the catalogue, by series and bore. */
export function listBearings(): readonly BearingRecord[] {
  return DEEP_GROOVE_BEARINGS;
}

/**
 * A deep-groove bearing by its designation, with the ratings of its ball set.
 *
 * 6804 and 61804, 685 and 618/5 are the same. A suffix is refused: it may say a clearance (`C3`), which belongs into the
 * clearance group, or seals, which are no part of the model.
 *
 * @throws InputError not-supported for suffixes and other kinds of bearing, unknown-name with the nearest known designation
 */
export function findBearing(designation: string | number, path = ""): CatalogueBearing {
  const text = String(designation);
  const parts = splitDesignation(text);
  const record = parts === null ? undefined : BY_DESIGNATION.get(parts.size);
  if (parts === null || record === undefined) throw unknownBearing(text, parts?.size ?? text, path);
  refuseSuffix(text, parts, path);
  return withRatings(record, "deep-groove", 0);
}

/** Adds C (ISO 281) and C0 (ISO 76) of one row of balls to a bearing's geometry. */
export function withRatings(
  record: BearingRecord,
  kind: CatalogueBearing["kind"],
  contactAngleRad: number,
): CatalogueBearing {
  const { ballCount, ballDiameterMm, pitchDiameterMm } = record;
  const ballSet = { ballCount, ballDiameterMm, pitchDiameterMm, contactAngleRad, rows: 1 };
  return Object.freeze({
    ...record,
    kind,
    contactAngleRad,
    dynamicRatingN: basicDynamicRatingN(ballSet),
    staticRatingN: basicStaticRatingN(ballSet),
  });
}

function unknownBearing(text: string, size: string, path: string): InputError {
  const expected = "a deep-groove bearing of series 60, 62, 63, 618 or 619 with a bore from 3 to 60 mm";
  if (/^7(?:\d{2,3}|1[89]\d{2})$/.test(size)) {
    return new InputError({
      code: "not-supported",
      path,
      expected,
      got: text,
      hint: "An angular-contact bearing needs its contactAngle (15, 25 or 40 deg) beside the designation.",
    });
  }
  const family = otherFamily(text);
  if (family !== null) {
    const hint = `This is one of the ${family}, which are outside this program: it knows ball bearings in one row only.`;
    return new InputError({ code: "not-supported", path, expected, got: text, hint });
  }
  // A larger bore of a known series, or series 64, 160, 617: no misspelling, so no near name is proposed.
  const largerOrOther = /^(?:6[0234]|61[789]|160)(?:\d{2}|\/\d{1,3})$/.test(size);
  const nearest = largerOrOther ? undefined : nearestName(size, BY_DESIGNATION.keys());
  const hint = nearest === undefined ? `Not in the catalogue. ${GIVE_FULLY}` : `Did you mean "${nearest}"?`;
  return new InputError({ code: "unknown-name", path, expected, got: text, hint });
}
