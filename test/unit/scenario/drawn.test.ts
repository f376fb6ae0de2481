import { describe, expect, it } from "vitest";
import { readDrawn } from "../../../src/scenario/drawn.ts";
import type { Drawn } from "../../../src/scenario/schema-drawn.ts";

const read = (entry: Drawn) => readDrawn(entry, { dimension: "length", path: "x", options: { bareUnit: "mm" } });
const near = (value: number) => expect.closeTo(value, 12);

describe("a drawn quantity", () => {
  it.each<[string, Drawn, object]>([
    ["one value", "60 mm", { kind: "constant", value: 60 }],
    ["a bare number", 60, { kind: "constant", value: 60 }],
    [
      "± limits: truncated normal, limits at ±3 sigma",
      "60.00 ±0.03",
      { kind: "truncated-normal", mean: 60, sd: near(0.01), low: 59.97, high: 60.03 },
    ],
    ["limits of no width", "60 +0/-0", { kind: "constant", value: 60 }],
    [
      "limits with Cp 1.5: sd = width/(6·1.5)",
      { limits: "60 ±0.045", Cp: 1.5 },
      { kind: "normal", mean: 60, sd: near(0.01) },
    ],
    [
      "Cpk below Cp: mean moved by (Cp − Cpk)·3·sd",
      { limits: "60 ±0.03", Cp: 1, Cpk: 0.5, shift: "low" },
      { kind: "normal", mean: near(59.985), sd: near(0.01) },
    ],
    [
      "inspected: cut at the limits",
      { limits: "60 ±0.03", Cp: 0.5, inspected: true },
      { kind: "truncated-normal", sd: near(0.02), low: 59.97, high: 60.03 },
    ],
    ["normal", { normal: { mean: "60 mm", sd: "10 um" } }, { kind: "normal", mean: 60, sd: 0.01 }],
    [
      "truncated normal",
      { truncatedNormal: { mean: 60, sd: 0.01, low: 59.99, high: 60 } },
      { kind: "truncated-normal", mean: 60, sd: 0.01, low: 59.99, high: 60 },
    ],
    ["uniform", { uniform: { low: "5 um", high: "9 um" } }, { kind: "uniform", low: 0.005, high: 0.009 }],
    ["triangular", { triangular: { low: 1, mode: 1, high: 2 } }, { kind: "triangular", low: 1, mode: 1, high: 2 }],
    [
      "trapezoidal",
      { trapezoidal: { low: 1, shoulderLow: 2, shoulderHigh: 3, high: 4 } },
      { kind: "trapezoidal", low: 1, shoulderLow: 2, shoulderHigh: 3, high: 4 },
    ],
    [
      "skewed by its mode: α = 1 + 4·(mode − low)/width",
      { skewed: { low: 0, high: 4, mode: 1 } },
      { kind: "skewed", low: 0, high: 4, alpha: 2, beta: 4 },
    ],
    [
      "skewed by mean and sd",
      { skewed: { low: 0, high: 1, mean: 0.5, sd: Math.sqrt(1 / 12) } },
      { kind: "skewed", alpha: near(1), beta: near(1) },
    ],
    [
      "lognormal by mean and sd",
      { lognormal: { mean: 2, sd: 1, above: 1 } },
      { kind: "lognormal", shift: 1, logMean: near(-Math.LN2 / 2), logSd: near(Math.sqrt(Math.LN2)) },
    ],
    ["arcsine", { arcsine: { low: 1, high: 2 } }, { kind: "arcsine", low: 1, high: 2 }],
    [
      "a mean of n readings (JCGM 101:2008, 6.4.9)",
      { meanOf: { mean: 60, standardUncertainty: "2 um", readings: 5 } },
      { kind: "student-t", mean: 60, scale: 0.002, degreesOfFreedom: 4 },
    ],
    [
      "readings: mean, s/√n, n − 1",
      { readings: [1, 2, 3] },
      { kind: "student-t", mean: 2, scale: near(Math.sqrt(1 / 3)), degreesOfFreedom: 2 },
    ],
    [
      "measured parts, sorted",
      { measured: ["3 um", "1 um", "2 um"] },
      { kind: "empirical", values: [0.001, 0.002, 0.003] },
    ],
  ])("%s", (_what, entry, distribution) => {
    expect(read(entry).distribution).toMatchObject(distribution);
  });

  it("keeps the share that a batch has in common", () => {
    expect(read({ limits: "60 ±0.01", batchShare: 0.4 }).batchShare).toBe(0.4);
    expect(read("60 ±0.01").batchShare).toBe(0);
  });

  it("a spread of a temperature is a difference, in K", () => {
    const entry = { normal: { mean: "80 degC", sd: "5 K" } };
    const { distribution } = readDrawn(entry, { dimension: "temperature", path: "x" });
    expect(distribution).toEqual({ kind: "normal", mean: 80, sd: 5 });
  });

  it("says where limits were taken as ±3 sigma, and where a capability was given", () => {
    expect(read("60 ±0.01").how).toMatch(/±3 sigma.*assumption/);
    expect(read({ limits: "60 ±0.01", Cp: 1.33, Cpk: 1, shift: "high" }).how).toBe(
      "limits with Cp 1.33, Cpk 1, shifted high",
    );
  });
});
