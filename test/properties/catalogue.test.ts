import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findAngularContactBearing, listAngularContactBearings } from "../../src/catalogue/angular-contact.ts";
import { findBearing, listBearings } from "../../src/catalogue/bearings.ts";
import { CLEARANCE_GROUPS, clearanceLimitsMm } from "../../src/catalogue/clearance-groups.ts";
import { iso286Limits } from "../../src/catalogue/iso286.ts";
import { findMaterial } from "../../src/catalogue/materials.ts";
import { boreDeviationMm } from "../../src/catalogue/ring-tolerances.ts";
import { InputError } from "../../src/errors.ts";
import { nearestName } from "../../src/units/nearest.ts";

/** What a look-up did: its result, or the InputError it threw; anything else it throws fails the test. */
function outcome<Value>(call: () => Value): Value | InputError {
  try {
    return call();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

const designation = fc.oneof(
  fc.string(),
  fc.stringMatching(/^[0-9/A-Z -]{0,12}$/),
  fc
    .tuple(
      fc.constantFrom(...listBearings().map((record) => record.designation)),
      fc.stringMatching(/^[ -/][A-Z0-9]{0,4}$/),
    )
    .map(([known, suffix]) => known + suffix),
);

describe("look-ups take any text: they find or refuse, and never fail otherwise", () => {
  test("bearings", () => {
    fc.assert(
      fc.property(designation, fc.double(), (text, angleRad) => {
        for (const found of [
          outcome(() => findBearing(text)),
          outcome(() => findAngularContactBearing(text, angleRad)),
        ]) {
          if (found instanceof InputError) expect(found.problems[0].expected).not.toBe("");
          else expect(found.dynamicRatingN).toBeGreaterThan(0);
        }
      }),
      { numRuns: 500 },
    );
  });

  test("materials, groups and classes", () => {
    fc.assert(
      fc.property(fc.string(), fc.double(), (text, sizeMm) => {
        for (const call of [
          () => findMaterial(text),
          () => clearanceLimitsMm(sizeMm, text),
          () => boreDeviationMm(sizeMm, text),
          () => iso286Limits(sizeMm, text),
        ]) {
          expect(outcome<unknown>(call)).toBeDefined();
        }
      }),
      { numRuns: 500 },
    );
  });
});

test("every known designation is found whatever its case and surrounding spaces", () => {
  for (const record of listBearings())
    expect(findBearing(` ${record.designation.toLowerCase()} `)).toMatchObject(record);
  for (const record of listAngularContactBearings()) {
    expect(findAngularContactBearing(`${record.designation} `, 0.3)).toMatchObject(record);
  }
});

test("limits are in order and clearance rises from group to group", () => {
  fc.assert(
    fc.property(fc.double({ min: 2.5, max: 200, minExcluded: true, noNaN: true }), (boreMm) => {
      const limits = CLEARANCE_GROUPS.map((group) => clearanceLimitsMm(boreMm, group));
      for (const [index, { lowMm, highMm }] of limits.entries()) {
        expect(highMm).toBeGreaterThan(lowMm);
        if (index === 0) continue;
        expect(lowMm).toBeGreaterThan(limits[index - 1].lowMm);
        expect(highMm).toBeGreaterThan(limits[index - 1].highMm);
      }
    }),
  );
});

test("a hole of the basic letters mirrors the shaft, and a finer grade lies within a coarser one's limits", () => {
  const size = fc.double({ min: 1, max: 250, noNaN: true });
  fc.assert(
    fc.property(
      size,
      fc.constantFrom("e", "f", "g", "h", "js"),
      fc.integer({ min: 3, max: 13 }),
      (mm, letter, grade) => {
        const shaft = iso286Limits(mm, `${letter}${grade}`);
        const hole = iso286Limits(mm, `${letter.toUpperCase()}${grade}`);
        expect(hole.lowMm + shaft.highMm).toBe(0);
        expect(hole.highMm + shaft.lowMm).toBe(0);
        const coarser = iso286Limits(mm, `${letter}${grade + 1}`);
        expect(coarser.lowMm).toBeLessThan(shaft.lowMm);
        expect(coarser.highMm).toBeGreaterThanOrEqual(shaft.highMm);
      },
    ),
  );
});

test("one slip of the pen still finds a long word", () => {
  const words = ["clearanceGroup", "toleranceClass", "outsideDiameter", "conformityInner", "seatFriction"];
  fc.assert(
    fc.property(fc.constantFrom(...words), fc.nat(12), fc.constantFrom("x", "q", ""), (word, place, letter) => {
      expect(nearestName(word.slice(0, place) + letter + word.slice(place + 1), words)).toBe(word);
    }),
  );
});
