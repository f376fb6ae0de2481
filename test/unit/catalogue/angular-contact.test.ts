import { describe, expect, test } from "vitest";
import {
  findAngularContactBearing,
  isAngularContact,
  listAngularContactBearings,
  USUAL_CONTACT_ANGLES_DEG,
} from "../../../src/catalogue/angular-contact.ts";
import { findBearing } from "../../../src/catalogue/bearings.ts";
import { problemOf } from "./problem.ts";

const rad = (deg: number) => (deg * Math.PI) / 180;
const records = listAngularContactBearings();

test("series 719, 70 and 72 are complete from 00 to 12", () => {
  expect(records).toHaveLength(39);
  for (const series of ["719", "70", "72"]) {
    const codes = records.filter((record) => record.series === series).map(({ designation }) => designation.slice(-2));
    expect(codes).toEqual(Array.from({ length: 13 }, (_, code) => String(code).padStart(2, "0")));
  }
});

describe.each(records.map((record) => [record.designation, record] as const))("%s", (designation, record) => {
  const deepGroove = findBearing(designation.replace(/^7(?=19)|^7/, "6"));

  test("shares the boundary dimensions of the deep-groove bearing (ISO 15)", () => {
    expect(record.boreMm).toBe(deepGroove.boreMm);
    expect(record.outsideDiameterMm).toBe(deepGroove.outsideDiameterMm);
    expect(record.widthMm).toBe(deepGroove.widthMm);
  });

  test("has more balls than the deep-groove bearing, which still leave room for a cage", () => {
    expect(record.ballCount).toBeGreaterThan(deepGroove.ballCount);
    const fill = (record.ballCount * Math.asin(record.ballDiameterMm / record.pitchDiameterMm)) / Math.PI;
    expect(fill).toBeLessThan(0.9);
  });

  test("carries less radially the larger the contact angle, and its set is an estimate at 40° only", () => {
    const [c15, c25, c40] = USUAL_CONTACT_ANGLES_DEG.map((deg) => findAngularContactBearing(designation, rad(deg)));
    expect(c15.kind).toBe("angular-contact");
    expect(c15.dynamicRatingN).toBeGreaterThan(c25.dynamicRatingN);
    expect(c25.dynamicRatingN).toBeGreaterThan(c40.dynamicRatingN);
    expect([c15, c25, c40].map(({ ballSet }) => ballSet)).toEqual(["published", "published", "estimate"]);
    expect(c40.source).toContain("steeper");
  });
});

describe("findAngularContactBearing", () => {
  test("other designations are refused", () => {
    for (const designation of ["6204", "7304", "7013", "7113", "", "QJ204"]) {
      expect(problemOf(() => findAngularContactBearing(designation, rad(15))).code, designation).toBe("unknown-name");
    }
  });

  test("a slip gets the nearest designation", () => {
    expect(problemOf(() => findAngularContactBearing("72O4", rad(15))).hint).toBe('Did you mean "7204"?');
    expect(problemOf(() => findAngularContactBearing("7313", rad(15))).hint).toContain("Give bore");
  });

  test("the letter for the angle is refused with what to do", () => {
    const problem = problemOf(() => findAngularContactBearing("7204 C", rad(15), "bearings.a.designation"));
    expect(problem).toMatchObject({ code: "not-supported", path: "bearings.a.designation", got: "7204 C" });
    expect(problem.hint).toContain("contactAngle");
  });

  test("a contact angle outside 10° to 45° is refused, the limits are not", () => {
    for (const angle of [0, rad(9.9), rad(46), rad(90), Number.NaN, -rad(15), 15]) {
      expect(problemOf(() => findAngularContactBearing("7204", angle)).code, String(angle)).toBe("out-of-range");
    }
    expect(findAngularContactBearing("7204", rad(10)).contactAngleRad).toBe(rad(10));
    expect(findAngularContactBearing("7204", Math.PI / 4).dynamicRatingN).toBeGreaterThan(0);
  });

  test("isAngularContact tells by the designation alone", () => {
    expect(["7204", "7204 B", 7000, "7304", "71904"].map(isAngularContact)).toEqual([true, true, true, true, true]);
    expect(["6204", "704x", "", "70204"].map(isAngularContact)).toEqual([false, true, false, false]);
  });
});
