import { describe, expect, test } from "vitest";
import { iso286Limits } from "../../../src/catalogue/iso286.ts";
import { GRADE_ROWS } from "../../../src/catalogue/iso286-tables.ts";
import { boreDeviationMm, outsideDiameterDeviationMm } from "../../../src/catalogue/ring-tolerances.ts";
import { readCsv } from "../../support/csv.ts";

const limits = readCsv(new URL("limits.csv", import.meta.url));
const grades = readCsv(new URL("grades.csv", import.meta.url));
const fits = readCsv(new URL("fits-with-normal-rings.csv", import.meta.url));

test("there are 46 tabulated limits, 9 ranges of grades and 192 fits to check", () => {
  expect([limits.length, grades.length, fits.length]).toEqual([46, 9, 192]);
});

describe("limit deviations (ISO 286-1/-2, printed)", () => {
  test.each(limits)("$kind $nominal_mm $class", (row) => {
    const found = iso286Limits(Number(row.nominal_mm), row.class);
    expect(found.feature).toBe(row.kind);
    // Exactly the double of the printed decimal: a table look-up has no rounding to allow for.
    expect(found.highMm).toBe(Number(row.upper_um) / 1000);
    expect(found.lowMm).toBe(Number(row.lower_um) / 1000);
  });
});

describe("tolerance grades (ISO 286-1:2010 Table 1)", () => {
  test.each(grades)("over $over to $incl mm", (row) => {
    const own = GRADE_ROWS.find((candidate) => candidate.includingMm === Number(row.incl))!;
    expect(own.overMm).toBe(Number(row.over));
    expect(own.gradesUm).toEqual(Array.from({ length: 14 }, (_, index) => Number(row[`IT${index + 1}`])));
  });
});

describe("interference of seats with rings of class Normal (ISO 286 with ISO 492, recomputed)", () => {
  test.each(fits)("$seat over $over to $incl mm, $class", (row) => {
    const nominalMm = Number(row.incl);
    const seat = iso286Limits(nominalMm, row.class);
    const ring =
      row.seat === "shaft" ? boreDeviationMm(nominalMm, "Normal") : outsideDiameterDeviationMm(nominalMm, "Normal");
    const [least, greatest] =
      row.seat === "shaft"
        ? [seat.lowMm - ring.highMm, seat.highMm - ring.lowMm]
        : [ring.lowMm - seat.highMm, ring.highMm - seat.lowMm];
    // 1e-12 mm: the difference of two decimals that are not exact in binary.
    expect(Math.abs(least - Number(row.min_interference_um) / 1000)).toBeLessThan(1e-12);
    expect(Math.abs(greatest - Number(row.max_interference_um) / 1000)).toBeLessThan(1e-12);
  });
});

describe("1 to 3 mm (from memory)", () => {
  test.each([
    ["h6", -6, 0],
    ["k5", 0, 4],
    ["m6", 2, 8],
    ["g6", -8, -2],
    ["H7", 0, 10],
    ["K7", -10, 0],
    ["N7", -14, -4],
    ["P7", -16, -6],
    ["J7", -6, 4],
  ])("3 %s", (code, lowUm, highUm) => {
    const found = iso286Limits(3, code);
    expect([found.lowMm, found.highMm]).toEqual([lowUm / 1000, highUm / 1000]);
  });
});

describe("beyond the grades of the Δ rule (ISO 286-1:2010 Tables 4 and 5, from memory)", () => {
  test.each([
    // P8 keeps −p; N9 has zero; R7 takes Δ, R8 does not; k8 starts at zero.
    [20, "P8", -55, -22],
    [20, "N9", -52, 0],
    [60, "R7", -60, -30],
    [60, "R8", -87, -41],
    [20, "k8", 0, 33],
    [20, "M9", -60, -8],
  ])("%i %s", (nominalMm, code, lowUm, highUm) => {
    const found = iso286Limits(nominalMm, code);
    expect([found.lowMm, found.highMm]).toEqual([lowUm / 1000, highUm / 1000]);
  });
});
