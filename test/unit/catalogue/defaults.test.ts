import { expect, test } from "vitest";
import { parseClearanceGroup } from "../../../src/catalogue/clearance-groups.ts";
import * as defaults from "../../../src/catalogue/defaults.ts";
import { findMaterial } from "../../../src/catalogue/materials.ts";
import { parseRingToleranceClass } from "../../../src/catalogue/ring-tolerances.ts";

test("every default says why it is so and cannot be changed", () => {
  const { CATALOGUE_VERSION, ...rest } = defaults;
  expect(Number.isInteger(CATALOGUE_VERSION)).toBe(true);
  for (const [name, entry] of Object.entries(rest)) {
    expect(entry.source.length, name).toBeGreaterThan(10);
    expect(["assumption", "standard"], name).toContain(entry.origin);
    expect(Object.isFrozen(entry) && Object.isFrozen(entry.value), name).toBe(true);
  }
});

test("default conformities add up to what printed axial clearances need (1.030 to 1.036) and keep within ISO 76's bounds", () => {
  const inner = defaults.CONFORMITY_INNER.value;
  const outer = defaults.CONFORMITY_OUTER.value;
  expect(inner.nominalRatio + outer.nominalRatio).toBeGreaterThanOrEqual(1.03);
  expect(inner.nominalRatio + outer.nominalRatio).toBeLessThanOrEqual(1.036);
  expect(inner.nominalRatio + inner.halfWidthRatio).toBeLessThanOrEqual(defaults.CONFORMITY_BOUNDS.value.innerRatio);
  expect(outer.nominalRatio + outer.halfWidthRatio).toBeLessThanOrEqual(defaults.CONFORMITY_BOUNDS.value.outerRatio);
  expect(inner.nominalRatio - inner.halfWidthRatio).toBeGreaterThan(0.5);
});

test("defaults that are names are names the catalogue knows", () => {
  expect(parseRingToleranceClass(defaults.RING_TOLERANCE_CLASS.value)).toBe("Normal");
  expect(parseClearanceGroup(defaults.CLEARANCE_GROUP.value)).toBe("CN");
  expect(findMaterial(defaults.RING_MATERIAL.value).name).toBe("bearing-steel");
  expect(findMaterial(defaults.BALL_MATERIAL.value).name).toBe("bearing-steel");
});
