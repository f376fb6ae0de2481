import { findAngularContactBearing } from "../catalogue/angular-contact.ts";
import { findBearing, withRatings } from "../catalogue/bearings.ts";
import { InputError, type Problem } from "../errors.ts";
import { asin } from "../numeric/elementary.ts";
import { FRICTION_FACTORS } from "../physics/friction-torque.ts";
import { parseQuantity } from "../units/quantity.ts";
import { nominalAngleRad } from "./contact-angle.ts";
import type { Ledger } from "./ledger.ts";
import type { Merged } from "./merge.ts";
import type { BearingEntry } from "./schema.ts";
import type { Drawn } from "./schema-drawn.ts";
import type { BearingGeometry } from "./types.ts";
import { valueWords } from "./words.ts";

type BoundaryKey = "bore" | "outsideDiameter" | "width";
type BallKey = "ballCount" | "ballDiameter" | "pitchDiameter";
const BOUNDARY_KEYS: readonly BoundaryKey[] = ["bore", "outsideDiameter", "width"];
const BALL_KEYS: readonly BallKey[] = ["ballCount", "ballDiameter", "pitchDiameter"];
const RATING_KEYS = ["dynamicRating", "staticRating"] as const;

/** Keys of a bearing that go together when one bearing overrides what both have in common. */
export const BEARING_KEY_SETS: readonly (readonly (keyof BearingEntry)[])[] = [
  ["designation", ...BOUNDARY_KEYS, ...BALL_KEYS, ...RATING_KEYS],
  ["clearance", "clearanceGroup", "contactAngle"],
];

const UNKNOWN: BearingGeometry = {
  designation: null,
  kind: "deep-groove",
  nominalContactAngleRad: 0,
  frictionSeries: "60",
  boreMm: Number.NaN,
  outsideDiameterMm: Number.NaN,
  widthMm: Number.NaN,
  ballCount: Number.NaN,
  ballDiameterMm: Number.NaN,
  pitchDiameterMm: Number.NaN,
  dynamicRatingN: Number.NaN,
  staticRatingN: Number.NaN,
};

/**
 * Dimensions from the catalogue, or as given. A supplier's ball set may replace the catalogue's, as a whole; ratings are
 * taken only together with the ball set that they belong to, else they follow from it (ISO 281, ISO 76).
 */
export function resolveGeometry(
  ledger: Ledger,
  key: "a" | "b",
  { entry, pathOf }: Merged<BearingEntry>,
): BearingGeometry {
  return ledger.attempt(() => {
    checkCompleteness(entry, pathOf);
    const isAngular = entry.contactAngle !== undefined;
    const nominalContactAngleRad = isAngular ? nominalAngleRad(entry.contactAngle as Drawn, pathOf("contactAngle")) : 0;
    const record = recordOf(entry, nominalContactAngleRad, pathOf("designation"));
    const lengthMm = (name: BoundaryKey | BallKey, catalogued: number | undefined) =>
      entry[name] === undefined
        ? (catalogued ?? Number.NaN)
        : parseQuantity(entry[name], "length", pathOf(name), { bareUnit: "mm", low: 0, openLow: true, high: 2000 });
    const boreMm = lengthMm("bore", record?.boreMm);
    const outsideDiameterMm = lengthMm("outsideDiameter", record?.outsideDiameterMm);
    const widthMm = lengthMm("width", record?.widthMm);
    const ballCount = entry.ballCount ?? record?.ballCount ?? Number.NaN;
    const ballDiameterMm = lengthMm("ballDiameter", record?.ballDiameterMm);
    const pitchDiameterMm = lengthMm("pitchDiameter", record?.pitchDiameterMm);
    const dimensions = { boreMm, outsideDiameterMm, widthMm, ballCount, ballDiameterMm, pitchDiameterMm };
    checkGeometry(dimensions, pathOf);
    const computed = withRatings(
      { ...dimensions, designation: "", series: "", ballSet: "published", source: "" },
      isAngular ? "angular-contact" : "deep-groove",
      nominalContactAngleRad,
    );
    const ratingN = (name: (typeof RATING_KEYS)[number], computedN: number) =>
      entry[name] === undefined
        ? computedN
        : parseQuantity(entry[name], "force", pathOf(name), { low: 0, openLow: true });
    const geometry: BearingGeometry = {
      designation: record?.designation ?? null,
      kind: isAngular ? "angular-contact" : "deep-groove",
      nominalContactAngleRad,
      frictionSeries: frictionSeries(record?.series, isAngular),
      ...dimensions,
      dynamicRatingN: ratingN("dynamicRating", computed.dynamicRatingN),
      staticRatingN: ratingN("staticRating", computed.staticRatingN),
    };
    noteGeometry(ledger, key, entry, geometry, record);
    return geometry;
  }, UNKNOWN);
}

function recordOf({ designation }: Partial<BearingEntry>, angleRad: number, path: string) {
  if (designation === undefined) return null;
  const text = String(designation);
  return angleRad > 0 ? findAngularContactBearing(text, angleRad, path) : findBearing(text, path);
}

/** The series whose friction factors are taken: its own where the table has it, else the one it is built like. */
function frictionSeries(series: string | undefined, isAngular: boolean): string {
  if (series !== undefined && Object.hasOwn(FRICTION_FACTORS, series)) return series;
  return isAngular ? "70" : "60";
}

function checkCompleteness(entry: Partial<BearingEntry>, pathOf: Merged<BearingEntry>["pathOf"]): void {
  const problems: Problem[] = [];
  const has = (name: keyof BearingEntry) => entry[name] !== undefined;
  if (!has("designation")) {
    const missing = [...BOUNDARY_KEYS, ...BALL_KEYS].filter((name) => !has(name));
    if (missing.length > 0) {
      const nothing = missing.length === BOUNDARY_KEYS.length + BALL_KEYS.length;
      problems.push({
        code: "missing",
        path: pathOf(nothing ? "designation" : missing[0]),
        expected: nothing
          ? 'a designation such as "6004", or the dimensions and the ball set'
          : `all of ${[...BOUNDARY_KEYS, ...BALL_KEYS].join(", ")} for a bearing without a designation`,
        got: nothing ? "nothing" : `no ${missing.join(", ")}`,
      });
    }
  } else {
    const boundary = BOUNDARY_KEYS.find(has);
    if (boundary !== undefined) {
      problems.push({
        code: "conflict",
        path: pathOf(boundary),
        expected: "boundary dimensions only without a designation, which fixes them",
        got: boundary,
      });
    }
    const given = BALL_KEYS.filter(has);
    if (given.length > 0 && given.length < BALL_KEYS.length) {
      problems.push({
        code: "missing",
        path: pathOf(given[0]),
        expected: `the whole ball set: ${BALL_KEYS.join(", ")}`,
        got: `only ${given.join(" and ")}`,
      });
    }
  }
  const rating = RATING_KEYS.find(has);
  if (rating !== undefined && !BALL_KEYS.every(has)) {
    problems.push({
      code: "conflict",
      path: pathOf(rating),
      expected: "load ratings only together with the ball set that they belong to",
      got: `${rating} without ${BALL_KEYS.filter((name) => !has(name)).join(", ")}`,
      hint: "Leave the ratings out and they follow from the ball set (ISO 281, ISO 76)",
    });
  }
  if (problems.length > 0) throw new InputError(problems);
}

type Dimensions = Pick<
  BearingGeometry,
  "boreMm" | "outsideDiameterMm" | "widthMm" | "ballCount" | "ballDiameterMm" | "pitchDiameterMm"
>;

/** The rings must leave room for the balls, and the balls room for one another. */
function checkGeometry(dimensions: Dimensions, pathOf: Merged<BearingEntry>["pathOf"]): void {
  const { boreMm, outsideDiameterMm, ballCount, ballDiameterMm, pitchDiameterMm } = dimensions;
  const refuse = (name: keyof BearingEntry & string, expected: string, got: string, hint?: string) =>
    new InputError({ code: "impossible-geometry", path: pathOf(name), expected, got, hint });
  const mm = (value: number) => `${Number(value.toPrecision(6))} mm`;
  if (boreMm >= outsideDiameterMm) {
    throw refuse("bore", `a bore below the outside diameter of ${mm(outsideDiameterMm)}`, mm(boreMm));
  }
  if (!(Number.isInteger(ballCount) && ballCount >= 3)) {
    throw refuse("ballCount", "a whole number of balls, at least 3", String(ballCount));
  }
  if (pitchDiameterMm <= boreMm || pitchDiameterMm >= outsideDiameterMm) {
    const expected = `a pitch diameter between the bore of ${mm(boreMm)} and the outside diameter of ${mm(outsideDiameterMm)}`;
    throw refuse("pitchDiameter", expected, mm(pitchDiameterMm));
  }
  if (pitchDiameterMm - ballDiameterMm <= boreMm || pitchDiameterMm + ballDiameterMm >= outsideDiameterMm) {
    const largest = Math.min(pitchDiameterMm - boreMm, outsideDiameterMm - pitchDiameterMm);
    const expected = `balls below ${mm(largest)}, so that both rings keep a wall at the bottom of the groove`;
    throw refuse("ballDiameter", expected, mm(ballDiameterMm), "Check the ball diameter and the pitch diameter");
  }
  const room = Math.PI / asin(ballDiameterMm / pitchDiameterMm);
  if (ballCount > room) {
    const expected = `at most ${Math.floor(room)} balls of ${mm(ballDiameterMm)} on a pitch circle of ${mm(pitchDiameterMm)}`;
    throw refuse("ballCount", expected, String(ballCount));
  }
}

function noteGeometry(
  ledger: Ledger,
  key: "a" | "b",
  entry: Partial<BearingEntry>,
  geometry: BearingGeometry,
  record: ReturnType<typeof findBearing> | null,
): void {
  const path = `bearings.${key}`;
  const { boreMm, outsideDiameterMm, widthMm, ballCount, ballDiameterMm, pitchDiameterMm } = geometry;
  const plain = (value: number) => String(Number(value.toPrecision(6)));
  const given = (name: keyof BearingEntry) => entry[name] !== undefined;
  ledger.note({
    path: `${path}.boundary`,
    label: `bore × outside diameter × width of bearing ${key}`,
    value: `${plain(boreMm)} × ${plain(outsideDiameterMm)} × ${plain(widthMm)} mm${record === null ? "" : ` (${record.designation})`}`,
    origin: record === null ? "given" : "catalogue",
    source: record === null ? "" : "ISO 15 boundary dimensions",
  });
  const estimate = record !== null && record.ballSet === "estimate" && !given("ballCount");
  ledger.note({
    path: `${path}.ballSet`,
    label: `balls of bearing ${key}: number × diameter on pitch diameter`,
    value: `${ballCount} × ${plain(ballDiameterMm)} mm on ${plain(pitchDiameterMm)} mm`,
    origin: given("ballCount") ? "given" : estimate ? "assumption" : "catalogue",
    source: given("ballCount") ? "" : (record?.source ?? ""),
  });
  if (estimate) {
    const message = `The ball set of ${record.designation} is an estimate; ask the supplier for his and give it with C and C0.`;
    ledger.warn("estimate", `${path}.ballSet`, message);
  }
  const ratings = [
    ["dynamicRating", "basic dynamic load rating C", geometry.dynamicRatingN, "ISO 281 from the ball set"],
    ["staticRating", "basic static load rating C0", geometry.staticRatingN, "ISO 76 from the ball set"],
  ] as const;
  for (const [name, words, valueN, source] of ratings) {
    ledger.note({
      path: `${path}.${name}`,
      label: `${words} of bearing ${key}`,
      value: valueWords(Number(valueN.toPrecision(4)), "N"),
      origin: given(name) ? "given" : "standard",
      source: given(name) ? "" : source,
    });
  }
}
