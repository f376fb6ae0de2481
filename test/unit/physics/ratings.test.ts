import { expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { basicDynamicRatingN, basicStaticRatingN } from "../../../src/physics/ratings.ts";

const set = { ballCount: 9, ballDiameterMm: 6.35, pitchDiameterMm: 31, contactAngleRad: 0, rows: 1 };

test("two rows carry 2^0.7 of the dynamic and twice the static load", () => {
  expect(basicDynamicRatingN({ ...set, rows: 2 }) / basicDynamicRatingN(set)).toBeCloseTo(2 ** 0.7, 12);
  expect(basicStaticRatingN({ ...set, rows: 2 }) / basicStaticRatingN(set)).toBeCloseTo(2, 12);
});

test("refuses ball sets that cannot be", () => {
  for (const change of [
    { ballCount: 2 },
    { ballCount: 8.5 },
    { ballCount: 16 },
    { ballDiameterMm: 0 },
    { pitchDiameterMm: Number.NaN },
    { contactAngleRad: 1 },
    { rows: 0 },
    { ballCount: 3, ballDiameterMm: 14 },
  ]) {
    expect(() => basicDynamicRatingN({ ...set, ...change })).toThrow(InputError);
    expect(() => basicStaticRatingN({ ...set, ...change })).toThrow(InputError);
  }
});
