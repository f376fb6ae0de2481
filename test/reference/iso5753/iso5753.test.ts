import { describe, expect, test } from "vitest";
import { CLEARANCE_GROUPS, clearanceLimitsMm } from "../../../src/catalogue/clearance-groups.ts";
import { readCsv } from "../../support/csv.ts";

describe("radial internal clearance (ISO 5753-1:2009)", () => {
  test.each(readCsv(new URL("clearance.csv", import.meta.url)))("bore over $over_mm to $incl_mm mm", (row) => {
    for (const group of CLEARANCE_GROUPS) {
      for (const boreMm of [Number(row.over_mm) + 0.001, Number(row.incl_mm)]) {
        const found = clearanceLimitsMm(boreMm, group);
        expect(found.lowMm).toBe(Number(row[`${group}min`]) / 1000);
        expect(found.highMm).toBe(Number(row[`${group}max`]) / 1000);
      }
    }
  });

  test("CN at 17 mm bore is 3 to 18 µm (common practice, as printed for thin-section bearings)", () => {
    const found = clearanceLimitsMm(17, "CN");
    expect([found.lowMm, found.highMm]).toEqual([0.003, 0.018]);
    expect(found.source).toBe("ISO 5753-1:2009, group CN, bore over 10 to 18 mm");
  });
});
