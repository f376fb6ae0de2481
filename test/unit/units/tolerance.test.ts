import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../../src/errors.ts";
import type { Dimension } from "../../../src/units/dimension.ts";
import { parseToleranced } from "../../../src/units/tolerance.ts";

const MM = { bareUnit: "mm" };

describe("parseToleranced: limits in decimal, exact to the last bit", () => {
  const limits: [string, number, number, number][] = [
    ["60.00 ±0.01", 60, 59.99, 60.01],
    ["60.00±0.01 mm", 60, 59.99, 60.01],
    ["60 mm ± 10 um", 60, 59.99, 60.01],
    ["60.00 +/-0.01", 60, 59.99, 60.01],
    ["60.00 +/- 0.01 mm", 60, 59.99, 60.01],
    ["60 +0.010/-0.005", 60, 59.995, 60.01],
    ["60 +0.010 -0.005", 60, 59.995, 60.01],
    ["60 +0.010/−0.005 mm", 60, 59.995, 60.01],
    ["60 mm +0.010/-0.005", 60, 59.995, 60.01],
    ["60 mm +10/-5 um", 60, 59.995, 60.01],
    ["60 mm +10 um/-5 um", 60, 59.995, 60.01],
    ["60+0.010/-0.005", 60, 59.995, 60.01],
    ["60 -0.005/+0.010", 60, 59.995, 60.01],
    ["60 +0.02/0", 60, 60, 60.02],
    ["60 +0.02 / 0", 60, 60, 60.02],
    ["60 0/-0.02", 60, 59.98, 60],
    ["60 0.000/-0.02", 60, 59.98, 60],
    ["60 mm 0/-0.02 mm", 60, 59.98, 60],
    ["60 +0.02/+0.01", 60, 60.01, 60.02],
    ["60 -0.01/-0.02", 60, 59.98, 59.99],
    ["0.3 +0.1/0", 0.3, 0.3, 0.4],
  ];
  it.each(limits)("%s", (text, nominal, low, high) => {
    expect(parseToleranced(text, "length", "x", MM)).toEqual({ kind: "limits", nominal, low, high });
  });

  it.each<[string, Dimension, number, number, number]>([
    ["80 ±5 degC", "temperature", 80, 75, 85],
    ["80 degC ±5 K", "temperature", 80, 75, 85],
    ["80 degC +10/-5 K", "temperature", 80, 75, 90],
    ["350 K ±5 K", "temperature", 76.85, 71.85, 81.85],
    ["100 N ±10 %", "force", 100, 90, 110],
    ["1 kN +5/-10 %", "force", 1000, 900, 1050],
    ["20 N/mm +2/-1", "stiffness", 20, 19, 22],
    ["20 N/mm +2 N/mm/-1 N/mm", "stiffness", 20, 19, 22],
    ["0.515 ±0.003", "ratio", 0.515, 0.512, 0.518],
    ["50 % ±5 %", "ratio", 0.5, 0.45, 0.55],
    ["12.5 ±0.5 um/m/K", "expansion", 12.5e-6, 12e-6, 13e-6],
  ])("%s (%s)", (text, dimension, nominal, low, high) => {
    expect(parseToleranced(text, dimension, "x")).toEqual({ kind: "limits", nominal, low, high });
  });

  it.each<[string, Dimension, number, number]>([
    ["5..20 um", "length", 0.005, 0.02],
    ["5 .. 20 um", "length", 0.005, 0.02],
    ["5 um .. 20 um", "length", 0.005, 0.02],
    ["5 to 20 um", "length", 0.005, 0.02],
    ["5–20 µm", "length", 0.005, 0.02],
    ["5 um … 0.02 mm", "length", 0.005, 0.02],
    ["-40 to +20 degC", "temperature", -40, 20],
    ["−40..−20 °C", "temperature", -40, -20],
    ["0.08..0.16", "ratio", 0.08, 0.16],
  ])("range %s", (text, dimension, low, high) => {
    expect(parseToleranced(text, dimension, "x")).toEqual({ kind: "range", low, high });
  });

  it.each([
    ["20 k5", 20, "k5"],
    ["42 J7", 42, "J7"],
    ["47 JS7", 47, "JS7"],
    ["20k5", 20, "k5"],
    ["Ø20 h6", 20, "h6"],
    ["20 mm k5", 20, "k5"],
    ["20.5 H11 mm", 20.5, "H11"],
  ])("tolerance class %s", (text, nominal, code) => {
    expect(parseToleranced(text, "length", "x", MM)).toEqual({ kind: "code", nominal, code });
  });

  it("plain values", () => {
    expect(parseToleranced("12 um", "length", "x")).toEqual({ kind: "plain", nominal: 0.012 });
    expect(parseToleranced(60, "length", "x", MM)).toEqual({ kind: "plain", nominal: 60 });
    expect(parseToleranced("20 N/mm", "stiffness", "x")).toEqual({ kind: "plain", nominal: 20 });
    expect(parseToleranced("12.5e-6/K", "expansion", "x")).toEqual({ kind: "plain", nominal: 12.5e-6 });
    expect(parseToleranced("60 mm2", "area", "x")).toEqual({ kind: "plain", nominal: 60 });
    expect(parseToleranced("11.7×10⁻⁶ K⁻¹", "expansion", "x")).toEqual({ kind: "plain", nominal: 11.7e-6 });
  });

  it("nominal ± deviation in hundredths of a millimetre gives the doubles of the decimals", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 100, max: 30_000 }),
        fc.integer({ min: 1, max: 99 }),
        fc.integer({ min: 1, max: 99 }),
        (n, up, down) => {
          const text = `${(n / 100).toFixed(2)} +${(up / 1000).toFixed(3)}/-${(down / 1000).toFixed(3)}`;
          const read = parseToleranced(text, "length", "x", MM);
          expect(read).toEqual({
            kind: "limits",
            nominal: Number(`${n}e-2`),
            low: Number(`${n * 10 - down}e-3`),
            high: Number(`${n * 10 + up}e-3`),
          });
        },
      ),
    );
  });
});

describe("parseToleranced: what is refused", () => {
  it.each<[string, string, RegExp]>([
    ["20..5 um", "reversed-limits", /5\.\.20 um/],
    ["60 +0.01/+0.02", "reversed-limits", /upper deviation/i],
    ["60 -0.02/-0.01", "reversed-limits", /upper deviation/i],
    ["60 +0.01/+0.01", "reversed-limits", /same/],
    ["60 -0.02", "syntax", /60 0\/-0\.02/],
    ["60 +0.02", "syntax", /60 \+0\.02\/0/],
    ["60 ±-0.02", "syntax", /positive/],
    ["5-20 um", "syntax", /5\.\.20 um/],
    ["20 H7/k6", "syntax", /one side/],
    ["60,00 ±0,01", "syntax", /60\.00 ±0\.01/],
    ["60 ±0.01 ±0.02", "syntax", /.*/],
    ["±0.01", "syntax", /.*/],
    ["60 ±10 um", "wrong-unit", /"60 mm …" or "60 um …"/],
    ["60 ±0.01 N", "wrong-unit", /.*/],
    ["60 ±5 degC", "wrong-unit", /.*/],
  ])("%s: %s", (text, code, hint) => {
    let caught: unknown;
    try {
      parseToleranced(text, "length", "chain.spacer", MM);
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(InputError);
    const problem = (caught as InputError).problems[0];
    expect([problem.code, problem.path]).toEqual([code, "chain.spacer"]);
    expect(problem.hint ?? "").toMatch(hint);
  });

  it("a nominal temperature that would borrow kelvins from its tolerance", () => {
    expect(() => parseToleranced("80 ±5 K", "temperature", "x")).toThrow(/80 degC ± … K/);
  });

  it("a limit below absolute zero", () => {
    expect(() => parseToleranced("-270 ±5 degC", "temperature", "x")).toThrow(/absolute zero/);
  });

  it("a limit out of the range of the place, in the nearest unit", () => {
    expect(() => parseToleranced("5..20 mm", "length", "x", { low: 0, high: 0.15 })).toThrow(/Did you mean 5 um/);
  });

  it("never throws anything but InputError, whatever the text", () => {
    const piece = fc.constantFrom(
      "60",
      "0.01",
      "+",
      "-",
      "±",
      "/",
      "..",
      "um",
      "mm",
      " ",
      "k5",
      "0",
      "%",
      "degC",
      "to",
      "e",
      ".",
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 9 }), (pieces) => {
        let thrown: unknown = null;
        try {
          parseToleranced(pieces.join(""), "length", "x", MM);
        } catch (error) {
          thrown = error;
        }
        expect(thrown === null || thrown instanceof InputError).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });
});
