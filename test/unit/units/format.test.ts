import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  formatFixed,
  formatForce,
  formatInterval,
  formatLength,
  formatMicrometres,
  formatPercent,
  formatPercentEnds,
  formatPpm,
  formatSignificant,
  formatTemperature,
  formatTemperatureDifference,
  formatTolerance,
} from "../../../src/units/format.ts";
import { parseQuantity } from "../../../src/units/quantity.ts";
import { parseToleranced } from "../../../src/units/tolerance.ts";

describe("format: U+2212 minus, µ, sensible digits", () => {
  it.each([
    [formatLength(60), "60.000 mm"],
    [formatLength(-0.0005), "−0.001 mm"],
    [formatMicrometres(0.0125), "12.5 µm"],
    [formatMicrometres(-0.1281879), "−128 µm"],
    [formatMicrometres(-1e-9), "0.0 µm"],
    [formatForce(49.75), "49.8 N"],
    [formatForce(1250.4), "1250 N"],
    [formatForce(17800), "17.8 kN"],
    [formatTemperature(80), "80 °C"],
    [formatTemperature(-21.5), "−21.5 °C"],
    [formatTemperatureDifference(14), "14 K"],
    [formatPercent(0.5), "50.0 %"],
    [formatPercent(1), "100 %"],
    [formatPercent(0), "0 %"],
    [formatPercent(0.99999), "99.999 %"],
    [formatPercent(0.9999999999), "> 99.9999 %"],
    [formatPercent(0.00035), "350 ppm"],
    [formatPercent(0.1234, 2), "12.34 %"],
    [formatPercentEnds(0.274, 0.2781).join(" to "), "27.4 % to 27.8 %"],
    [formatPercentEnds(0.27558, 0.27581).join(" to "), "27.56 % to 27.58 %"],
    [formatPercentEnds(0.27549, 0.27551).join(" to "), "27.549 % to 27.551 %"],
    [formatPercentEnds(0.9999999991, 0.9999999999).join(" to "), "99.99999991 % to 99.99999999 %"],
    [formatPercentEnds(2.711e-6, 2.724e-6).join(" to "), "2.71 ppm to 2.72 ppm"],
    [formatPercentEnds(0.00099996, 0.00100004).join(" to "), "999.96 ppm to 0.100004 %"],
    [formatPercentEnds(0, 0.00002).join(" to "), "0 % to 20 ppm"],
    [formatPercentEnds(1, 1).join(" to "), "100 % to 100 %"],
    [formatPercentEnds(0.25, Number.NaN).join(" to "), "25.0 % to –"],
    [formatPpm(2.6998e-3), "2700 ppm"],
    [formatPpm(1.97317529e-9), "0.0020 ppm"],
    [formatInterval(0.005, 0.02, (v) => formatMicrometres(v, 0)), "5 to 20 µm"],
    [formatInterval(-40, 20, formatTemperature), "−40 to 20 °C"],
    [formatSignificant(0.0123456), "0.0123"],
    [formatSignificant(2), "2.00"],
    [formatSignificant(18712), "18\u202f700"],
    [formatSignificant(12.5e-6, 3), "1.25·10⁻⁵"],
    [formatSignificant(999.9, 3), "1000"],
    [formatFixed(Number.NaN, 1), "–"],
    [formatFixed(Number.NEGATIVE_INFINITY, 1), "−∞"],
    [formatTolerance(60, 59.99, 60.01), "60.000 ±0.010 mm"],
    [formatTolerance(60, 59.995, 60.01), "60.000 +0.010/−0.005 mm"],
    [formatTolerance(42, 41.989, 42), "42.000 0/−0.011 mm"],
    [formatTolerance(20, 20.0025, 20.012), "20.000 +0.012/+0.0025 mm"],
  ])("%s", (text, expected) => {
    expect(text).toBe(expected);
  });

  it("the ends of a range of shares never read the same, and are those of the range to a step of the last digit", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 1e-10, max: 1, noNaN: true }),
        (a, b) => {
          const [lowRatio, highRatio] = a <= 1 - b ? [a, a + b] : [a - b, a];
          fc.pre(lowRatio >= 0);
          const texts = formatPercentEnds(lowRatio, highRatio);
          expect(texts[0]).not.toBe(texts[1]);
          for (const [place, text] of texts.entries()) {
            const read = parseQuantity(text.replace("> ", "").replaceAll("\u202f", ""), "ratio", "x");
            if (text.startsWith(">")) expect([lowRatio, highRatio][place]!).toBeGreaterThan(read);
            else
              expect(Math.abs(read - [lowRatio, highRatio][place]!)).toBeLessThanOrEqual(
                0.5 * (highRatio - lowRatio) * 1.001,
              );
          }
        },
      ),
      { numRuns: 500 },
    );
  });

  it("what is printed is read back as the same value to the printed digits", () => {
    fc.assert(
      fc.property(fc.integer({ min: -99_999, max: 99_999 }), (tenths) => {
        const valueMm = tenths / 10_000;
        expect(parseQuantity(formatMicrometres(valueMm, 1), "length", "x")).toBeCloseTo(valueMm, 10);
        expect(parseQuantity(formatLength(valueMm, 4), "length", "x")).toBe(valueMm + 0);
      }),
    );
  });

  it("a printed tolerance is read back as the same limits", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1000, max: 200_000 }),
        fc.integer({ min: 1, max: 99 }),
        fc.integer({ min: -99, max: 0 }),
        (n, up, down) => {
          const [nominal, high, low] = [n / 1000, (n + up) / 1000, (n + down) / 1000];
          const read = parseToleranced(formatTolerance(nominal, low, high), "length", "x");
          expect(read).toEqual({ kind: "limits", nominal, low, high });
        },
      ),
    );
  });
});
