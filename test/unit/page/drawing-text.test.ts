import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  nominalTravel,
  readDrawingText,
  tidy,
  toleranceTravel,
  withHalfWidth,
  writeDrawingText,
} from "../../../src/page/model/drawing-text.ts";
import { parseToleranced } from "../../../src/units/tolerance.ts";

describe("a nominal with limits as a slider moves it", () => {
  it.each([
    ["32.000 ±0.006", 32, 0.006, -0.006, ""],
    ["23.684 +0.008/-0.004", 23.684, 0.008, -0.004, ""],
    ["0 ±8 um", 0, 8, -8, "um"],
    ["110 ±6 degC", 110, 6, -6, "degC"],
    ["-20 ±10 degC", -20, 10, -10, "degC"],
    ["8.5 mm", 8.5, 0, 0, "mm"],
    ["60 +0.01/0", 60, 0.01, 0, ""],
    [20, 20, 0, 0, ""],
  ])("reads %s", (text, nominal, upper, lower, unit) => {
    expect(readDrawingText(text)).toEqual({ nominal, upper, lower, unit });
  });

  it.each(["20 k5", "42 JS6", "5..20 um", "60 ±0.01 bananas", "none", "", { limits: "60 ±0.01" }, null, undefined])(
    "leaves %j to its text",
    (value) => {
      expect(readDrawingText(value)).toBeNull();
    },
  );

  it("writes what it reads, and the scenario reads the same limits from it", () => {
    const length = fc.integer({ min: 1, max: 200_000 }).map((um) => um / 1000);
    const part = fc.integer({ min: 1, max: 500 }).map((um) => um / 1000);
    fc.assert(
      fc.property(length, part, part, (nominal, upper, below) => {
        const text = writeDrawingText({ nominal, upper, lower: -below, unit: "mm" });
        const again = readDrawingText(text)!;
        expect(again.nominal).toBeCloseTo(nominal, 9);
        const parsed = parseToleranced(text, "length", "x");
        if (parsed.kind !== "limits") throw new Error(`${text} was read as ${parsed.kind}`);
        expect(parsed.high).toBeCloseTo(nominal + upper, 9);
        expect(parsed.low).toBeCloseTo(nominal - below, 9);
      }),
      { numRuns: 200 },
    );
  });

  it("keeps the proportion of limits that do not lie evenly", () => {
    expect(withHalfWidth({ nominal: 60, upper: 0.02, lower: -0.01, unit: "" }, 0.03)).toMatchObject({
      upper: expect.closeTo(0.04, 12),
      lower: expect.closeTo(-0.02, 12),
    });
  });

  it("leaves no trace of binary fractions in a text", () => {
    expect(tidy(0.1 + 0.2)).toBe("0.3");
    expect(tidy(-0)).toBe("0");
    expect(tidy(32)).toBe("32");
  });

  it("travels around the nominal, and never below absolute zero", () => {
    expect(nominalTravel(readDrawingText("32.000 ±0.006")!)).toEqual({ low: 31.94, high: 32.06, step: 0.001 });
    expect(nominalTravel(readDrawingText("-250 ±5 degC")!).low).toBe(-270);
    for (const text of ["32 ±0.006", "3000 ±600 N", "0 ±8 um", "60 ±6 N/mm"]) {
      const { low, high, step } = toleranceTravel(readDrawingText(text)!);
      expect(low).toBeGreaterThan(0);
      expect(high).toBeGreaterThan(low);
      expect(step).toBeGreaterThan(0);
    }
  });
});
