import { describe, expect, test } from "vitest";
import { listAngularContactBearings } from "../../../src/catalogue/angular-contact.ts";
import { readCsv } from "../../support/csv.ts";

const printed = readCsv(new URL("ball-sets.csv", import.meta.url));

describe("angular-contact ball sets (GMN catalogue 4000 0813 EN)", () => {
  test("every bearing of the catalogue has a printed row", () => {
    const own = listAngularContactBearings().map(({ designation }) => designation);
    expect(printed.map(({ designation }) => designation)).toEqual(own);
  });

  test.each(printed)("$designation", (row) => {
    const bearing = listAngularContactBearings().find(({ designation }) => designation === row.designation)!;
    expect(bearing.boreMm).toBe(Number(row.d_mm));
    expect(bearing.outsideDiameterMm).toBe(Number(row.D_mm));
    expect(bearing.widthMm).toBe(Number(row.B_mm));
    expect(bearing.ballCount).toBe(Number(row.Z));
    expect(bearing.pitchDiameterMm).toBe(Number(row.Dpw_mm));
    // Printed to three decimals of a fraction of an inch.
    expect(Math.abs(bearing.ballDiameterMm - Number(row.Dw_mm))).toBeLessThan(6e-4);
  });
});
