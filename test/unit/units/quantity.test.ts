import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { DIMENSIONS, type Dimension } from "../../../src/units/dimension.ts";
import { parseQuantity, type QuantityOptions } from "../../../src/units/quantity.ts";

function problemOf(text: string | number, dimension: Dimension, options?: QuantityOptions) {
  try {
    parseQuantity(text, dimension, "bearings.a.clearance", options);
  } catch (error) {
    if (error instanceof InputError) return error.problems[0];
    throw error;
  }
  throw new Error(`${text} was accepted`);
}

describe("parseQuantity: exact to the last bit", () => {
  // Definitions: SI prefixes; inch 25.4 mm and pound 0.45359237 kg (international yard and pound agreement, 1959); standard gravity
  // 9.80665 m/s² (3rd CGPM, 1901); 0 °C = 273.15 K (SI brochure). The right-hand sides are the decimals, as the doubles they round to.
  const cases: [string, Dimension, number][] = [
    ["12 um", "length", 0.012],
    ["12 µm", "length", 0.012],
    ["12 μm", "length", 0.012],
    ["12um", "length", 0.012],
    ["7 um", "length", 0.007],
    ["0.3 um", "length", 0.0003],
    ["60.00 mm", "length", 60],
    ["0.06 m", "length", 60],
    ["1.1 m", "length", 1100],
    ["1 in", "length", 25.4],
    ["0.1 in", "length", 2.54],
    ["3 thou", "length", 0.0762],
    ["−5 um", "length", -0.005],
    [".5 mm", "length", 0.5],
    ["1.5e-3 mm", "length", 0.0015],
    ["150 mm2", "area", 150],
    ["150 mm²", "area", 150],
    ["1.5 cm^2", "area", 150],
    ["0.1 kN", "force", 100],
    ["1 lbf", "force", 4.4482216152605],
    ["10 lbf", "force", 44.482216152605],
    ["80 degC", "temperature", 80],
    ["80 °C", "temperature", 80],
    ["-18.5 ℃", "temperature", -18.5],
    ["350 K", "temperature", 76.85],
    ["212 degF", "temperature", 100],
    ["0 K", "temperature", -273.15],
    ["5 K", "temperature difference", 5],
    ["20 N/mm", "stiffness", 20],
    ["0.035 N/um", "stiffness", 35],
    ["1.2 kN/mm", "stiffness", 1200],
    ["210 GPa", "pressure", 210000],
    ["4200 MPa", "pressure", 4200],
    ["0.3 N/mm2", "pressure", 0.3],
    ["1 ksi", "pressure", 4448.2216152605 / 645.16],
    ["15 N.mm", "torque", 15],
    ["15 N·mm", "torque", 15],
    ["15 Nmm", "torque", 15],
    ["0.015 N*m", "torque", 15],
    ["1.1 Nm", "torque", 1100],
    ["30 W", "power", 30],
    ["0.8 W/K", "thermal conductance", 0.8],
    ["0.8 W/°C", "thermal conductance", 0.8],
    ["30 mm2/s", "viscosity", 30],
    ["30 cSt", "viscosity", 30],
    ["3000 rpm", "speed", 3000],
    ["3000 1/min", "speed", 3000],
    ["3000 min-1", "speed", 3000],
    ["50 1/s", "speed", 3000],
    ["50 Hz", "speed", 3000],
    ["20000 h", "time", 20000],
    ["90 min", "time", 1.5],
    ["15 deg", "angle", (15 * Math.PI) / 180],
    ["0.25 rad", "angle", 0.25],
    ["12.5e-6/K", "expansion", 12.5e-6],
    ["12.5e-6 1/K", "expansion", 12.5e-6],
    ["12.5 um/m/K", "expansion", 12.5e-6],
    ["23.1 µm/(m·K)", "expansion", 23.1e-6],
    ["11.7 ppm/K", "expansion", 11.7e-6],
    ["11.7×10⁻⁶ K⁻¹", "expansion", 11.7e-6],
    ["11.7 x 10^-6 /K", "expansion", 11.7e-6],
    ["7850 kg/m3", "density", 7850],
    ["7.85 g/cm3", "density", 7850],
    ["2 %", "ratio", 0.02],
    ["0.515", "ratio", 0.515],
    ["350 ppm", "ratio", 0.00035],
    ["12.50 EUR", "money", 12.5],
  ];
  it.each(cases)("%s as %s", (text, dimension, value) => {
    expect(parseQuantity(text, dimension, "x")).toBe(value);
  });

  it("a decimal number of micrometres is the double of the same decimal shifted by three places", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -10_000_000, max: 10_000_000 }),
        fc.integer({ min: 0, max: 6 }),
        (digits, places) => {
          const text = `${digits}e-${places}`;
          expect(parseQuantity(`${text} um`, "length", "x")).toBe(Number(`${digits}e-${places + 3}`) + 0);
          expect(parseQuantity(`${text} kN`, "force", "x")).toBe(Number(`${digits}e${3 - places}`) + 0);
        },
      ),
    );
  });

  it("every double survives printing and reading in the internal unit", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e6, max: 1e6 }), (value) => {
        fc.pre(value === 0 || Math.abs(value) > 1e-200);
        expect(parseQuantity(`${value} mm`, "length", "x")).toBe(value + 0);
        expect(parseQuantity(value, "length", "x", { bareUnit: "mm" })).toBe(value + 0);
      }),
    );
  });

  it("a length in any unit is the same length", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000_000 }), (nanometres) => {
        const value = parseQuantity(`${nanometres} nm`, "length", "x");
        expect(parseQuantity(`${nanometres}e-3 um`, "length", "x")).toBe(value);
        expect(parseQuantity(`${nanometres}e-6 mm`, "length", "x")).toBe(value);
        expect(parseQuantity(`${nanometres}e-9 m`, "length", "x")).toBe(value);
      }),
    );
  });

  it("a size beyond any machine is refused with the largest that is taken, before it can overflow", () => {
    for (const [text, dimension, most] of [
      ["1e200 degC", "temperature", "a temperature of at most 2000 degC"],
      ["-1001 m", "length", "a length of at most 1000000 mm"],
      ["1e300 GPa", "pressure", "a pressure or stress of at most 10000000 MPa"],
    ] as const) {
      expect(() => parseQuantity(text, dimension, "x")).toThrow(most);
    }
  });

  it("every example in a message is itself accepted", () => {
    for (const [dimension, { example, usual }] of Object.entries(DIMENSIONS)) {
      expect(Number.isFinite(parseQuantity(example, dimension as Dimension, "x"))).toBe(true);
      for (const unit of usual)
        expect(Number.isFinite(parseQuantity(`300 ${unit}`, dimension as Dimension, "x"))).toBe(true);
    }
  });
});

describe("parseQuantity: what is refused, and the fix that is named", () => {
  it.each<[string | number, Dimension, string, RegExp, QuantityOptions?]>([
    ["12 N", "length", "wrong-unit", /um, mm, m/],
    ["12 degC", "length", "wrong-unit", /temperature/],
    ["12 furlings", "length", "wrong-unit", /um, mm, m/],
    ["12 UM", "length", "wrong-unit", /Did you mean um\?/],
    ["5 degC", "temperature difference", "wrong-unit", /written in K/],
    ["80 C", "temperature", "wrong-unit", /degC/],
    ["80 mm", "temperature", "wrong-unit", /degC or K/],
    ["15 N", "torque", "wrong-unit", /N\.mm/],
    ["12", "length", "wrong-unit", /"12 um" or "12 mm" or "12 m"/],
    [12, "length", "wrong-unit", /write "12 um"$/, { low: 0, high: 0.15 }],
    ["12 mm", "length", "out-of-range", /Did you mean 12 um\?/, { low: 0, high: 0.15 }],
    ["210 MPa", "pressure", "out-of-range", /Did you mean 210 GPa\?/, { low: 1000, high: 1_000_000 }],
    ["12,5 um", "length", "syntax", /12\.5 um/],
    ["1,000 mm", "length", "syntax", /thousands/],
    ["um 12", "length", "syntax", /number comes first/],
    ["60 ±0.01 mm", "length", "wrong-unit", /.*/],
    ["2 mm", "ratio", "wrong-unit", /.*/],
  ])("%s as %s: %s", (text, dimension, code, hint, options) => {
    const problem = problemOf(text, dimension, options);
    expect(problem.code).toBe(code);
    expect(problem.hint ?? "").toMatch(hint);
    expect(problem.path).toBe("bearings.a.clearance");
    expect(problem.got).toBe(String(text));
  });

  it("words the range in the unit that it is read in", () => {
    expect(problemOf("12 mm", "length", { low: 0, high: 0.15 }).expected).toBe("a length from 0 to 150 um");
    expect(problemOf("0 N", "force", { low: 0, openLow: true }).expected).toBe("a force above 0 N");
    expect(problemOf("12 N", "length").expected).toBe("a length such as 12 um");
  });

  it.each(["-274 degC", "-1 K", "-500 degF"])("%s is below absolute zero", (text) => {
    const problem = problemOf(text, "temperature");
    expect(problem.code).toBe("out-of-range");
    expect(problem.expected).toContain("absolute zero");
  });

  it.each([
    Number.NaN,
    Number.POSITIVE_INFINITY,
    "1e999 mm",
    "",
    " ",
    "mm",
    "--5 mm",
    "1.2.3 mm",
    `${"9".repeat(400)} mm`,
  ])("%s is no quantity", (text) => {
    expect(() => parseQuantity(text, "length", "x")).toThrow(InputError);
  });

  it("never throws anything but InputError, whatever the text", () => {
    fc.assert(
      fc.property(fc.string(), fc.constantFrom(...(Object.keys(DIMENSIONS) as Dimension[])), (text, dimension) => {
        let thrown: unknown = null;
        try {
          parseQuantity(text, dimension, "x");
        } catch (error) {
          thrown = error;
        }
        expect(thrown === null || thrown instanceof InputError).toBe(true);
      }),
      { numRuns: 500 },
    );
  });
});
