import { describe, expect, it } from "vitest";
import {
  inverseRegularisedBeta,
  logGamma,
  normalCdf,
  normalPdf,
  normalQuantile,
  normalSurvival,
  regularisedBeta,
  regularisedGammaP,
  regularisedGammaQ,
  studentTCdf,
  studentTPdf,
  studentTQuantile,
} from "../../../src/numeric/special.ts";
import cases from "./cases.json" with { type: "json" };

const own = {
  inverseRegularisedBeta,
  logGamma,
  normalCdf,
  normalPdf,
  normalQuantile,
  normalSurvival,
  regularisedBeta,
  regularisedGammaP,
  regularisedGammaQ,
  studentTCdf,
  studentTPdf,
  studentTQuantile,
};
type Name = keyof typeof own;

// Relative; each is the accuracy that the function's docstring promises, at the far end of these arguments.
const TOLERANCE: Record<Name, number> = {
  normalCdf: 2e-15,
  normalSurvival: 2e-15,
  normalPdf: 4e-15,
  normalQuantile: 1e-15,
  logGamma: 3e-15,
  regularisedGammaP: 1e-13,
  regularisedGammaQ: 1e-13,
  regularisedBeta: 1e-12,
  inverseRegularisedBeta: 1e-13,
  studentTCdf: 1e-13,
  studentTPdf: 1e-13,
  studentTQuantile: 1e-13,
};

describe("special functions against mpmath (source: SOURCE.md)", () => {
  for (const name of Object.keys(TOLERANCE) as Name[]) {
    it(`${name} to ${TOLERANCE[name]} relative`, () => {
      const f = own[name] as (...args: number[]) => number;
      for (const { args, value } of cases[name]) {
        // ln Γ has zeros at 1 and 2: absolute there, as its docstring says.
        const scale = name === "logGamma" ? Math.max(1, Math.abs(value)) : Math.abs(value) || 1;
        expect(Math.abs(f(...args) - value) / scale, `${name}(${args.join(", ")})`).toBeLessThanOrEqual(
          TOLERANCE[name],
        );
      }
    });
  }
});

describe("published values", () => {
  it("normal quantiles of AS 241 (Wichura 1988, test values; the rest as in normal tables)", () => {
    expect(normalQuantile(0.25)).toBeCloseTo(-0.6744897501960817, 15);
    expect(normalQuantile(0.001)).toBeCloseTo(-3.090232306167814, 14);
    expect(normalQuantile(1e-20)).toBeCloseTo(-9.262340089798409, 14);
    expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 15);
  });
  it("t quantiles of the printed table (Abramowitz & Stegun, Table 26.10; from memory)", () => {
    expect(studentTQuantile(0.975, 1)).toBeCloseTo(12.706, 3);
    expect(studentTQuantile(0.975, 10)).toBeCloseTo(2.228, 3);
    expect(studentTQuantile(0.95, 30)).toBeCloseTo(1.697, 3);
    expect(studentTQuantile(0.995, 120)).toBeCloseTo(2.617, 3);
  });
  it("t with one degree of freedom is the Cauchy distribution", () => {
    expect(studentTQuantile(0.75, 1)).toBeCloseTo(1, 14);
    expect(studentTCdf(Math.sqrt(3), 1)).toBeCloseTo(5 / 6, 14);
  });
});
