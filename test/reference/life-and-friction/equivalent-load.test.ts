import { describe, expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { dynamicEquivalentLoadN, staticEquivalentLoadN } from "../../../src/physics/equivalent-load.ts";

const DEGREE = Math.PI / 180;

/** ISO 281:2007, Table 3, one row of balls (from memory): f₀·F_a/C₀, e and Y, with X. */
const TABLE: readonly { degrees: number; x: number; rows: readonly (readonly [number, number, number])[] }[] = [
  {
    degrees: 0,
    x: 0.56,
    rows: [
      [0.172, 0.19, 2.3],
      [0.345, 0.22, 1.99],
      [0.689, 0.26, 1.71],
      [1.03, 0.28, 1.55],
      [1.38, 0.3, 1.45],
      [2.07, 0.34, 1.31],
      [3.45, 0.38, 1.15],
      [5.17, 0.42, 1.04],
      [6.89, 0.44, 1],
    ],
  },
  {
    degrees: 15,
    x: 0.44,
    rows: [
      [0.178, 0.38, 1.47],
      [0.357, 0.4, 1.4],
      [0.714, 0.43, 1.3],
      [1.07, 0.46, 1.23],
      [1.43, 0.47, 1.19],
      [2.14, 0.5, 1.12],
      [3.57, 0.55, 1.02],
      [5.35, 0.56, 1],
      [7.14, 0.56, 1],
    ],
  },
];

describe.each(TABLE)(
  "dynamic equivalent load at $degrees° (ISO 281:2007, Table 3, from memory)",
  ({ degrees, x, rows }) => {
    const contactAngleRad = degrees * DEGREE;
    /** f₀ = 10 and C₀ = 10 000 N: F_a is a thousand times the relative load. */
    const load = (radialN: number, axialN: number) =>
      dynamicEquivalentLoadN({ radialN, axialN, contactAngleRad }, 10, 10_000);

    test.each(rows)("f₀·F_a/C₀ = %d: e = %d, Y = %d", (relative, e, y) => {
      const axialN = 1000 * relative;
      // Past the limit by half a thousandth, and short of it by as much: P = X·F_r + Y·F_a, and P = F_r.
      const radialN = (axialN / e) * 0.9995;
      expect(load(radialN, axialN)).toBeCloseTo(x * radialN + y * axialN, 6);
      expect(load(radialN, -axialN)).toBe(load(radialN, axialN));
      expect(load((axialN / e) * 1.0005, axialN)).toBe((axialN / e) * 1.0005);
    });

    test("half-way between two rows e and Y are half-way too; beyond the ends they stay", () => {
      for (let i = 1; i < rows.length; i++) {
        const [relative, e, y] = [0, 1, 2].map((column) => (rows[i - 1][column] + rows[i][column]) / 2);
        const axialN = 1000 * relative;
        const radialN = (axialN / e) * 0.9995;
        expect(load(radialN, axialN)).toBeCloseTo(x * radialN + y * axialN, 6);
        expect(load((axialN / e) * 1.0005, axialN)).toBe((axialN / e) * 1.0005);
      }
      const [first, last] = [rows[0], rows[rows.length - 1]];
      expect(load(10, 100)).toBeCloseTo(x * 10 + first[2] * 100, 9);
      expect(load(10, 50_000)).toBeCloseTo(x * 10 + last[2] * 50_000, 6);
      expect(load(100 / first[1] + 1, 100)).toBe(100 / first[1] + 1);
      expect(load(100 / first[1] - 1, 100)).toBeCloseTo(x * (100 / first[1] - 1) + first[2] * 100, 9);
    });
  },
);

test.each([
  [20, 0.57, 0.43, 1, 0.42],
  [25, 0.68, 0.41, 0.87, 0.38],
  [30, 0.8, 0.39, 0.76, 0.33],
  [35, 0.95, 0.37, 0.66, 0.29],
  [40, 1.14, 0.35, 0.57, 0.26],
  [45, 1.34, 0.33, 0.5, 0.22],
])(
  "at %d°: e = %d, X = %d, Y = %d whatever the load, and Y₀ = %d with X₀ = 0.5 (ISO 281, ISO 76, from memory)",
  (degrees, e, x, y, y0) => {
    const contactAngleRad = degrees * DEGREE;
    for (const axialN of [1, 1000, 30_000]) {
      const radialN = (axialN / e) * 0.9995;
      expect(dynamicEquivalentLoadN({ radialN, axialN, contactAngleRad }, 14, 9000)).toBeCloseTo(
        x * radialN + y * axialN,
        6,
      );
      const more = { radialN: (axialN / e) * 1.0005, axialN, contactAngleRad };
      expect(dynamicEquivalentLoadN(more, 14, 9000)).toBe(more.radialN);
    }
    expect(staticEquivalentLoadN({ radialN: 100, axialN: 1000, contactAngleRad })).toBeCloseTo(50 + 1000 * y0, 9);
    expect(staticEquivalentLoadN({ radialN: 1000, axialN: 10, contactAngleRad })).toBe(1000);
  },
);

test("the limit itself belongs to P = F_r: F_a/F_r ≤ e (ISO 281:2007, 5.2)", () => {
  // 0.95·200 is 190 to the bit; X·F_r + Y·F_a would be 199.4.
  expect(dynamicEquivalentLoadN({ radialN: 200, axialN: 190, contactAngleRad: 35 * DEGREE }, 14, 9000)).toBe(200);
});

test("static factors at 15°: X₀ = 0.5, Y₀ = 0.46 (ISO 76:2006, Table 2, from memory)", () => {
  expect(staticEquivalentLoadN({ radialN: 100, axialN: -1000, contactAngleRad: 15 * DEGREE })).toBeCloseTo(510, 9);
});

test("an angle between those of the standard, a rating of 0 and loads that are none are refused", () => {
  const load = { radialN: 1, axialN: 1, contactAngleRad: 0 };
  expect(() => dynamicEquivalentLoadN({ ...load, contactAngleRad: 17 * DEGREE }, 14, 9000)).toThrow(/17/);
  expect(() => dynamicEquivalentLoadN(load, 14, 0)).toThrow(InputError);
  expect(() => dynamicEquivalentLoadN({ ...load, radialN: -1 }, 14, 9000)).toThrow(InputError);
  expect(() => staticEquivalentLoadN({ ...load, axialN: Number.NaN })).toThrow(InputError);
});
