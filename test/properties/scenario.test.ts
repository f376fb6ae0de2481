import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { affine } from "../../src/distributions/affine.ts";
import { quantile } from "../../src/distributions/index.ts";
import type { Distribution } from "../../src/distributions/types.ts";
import { InputError } from "../../src/errors.ts";
import { resolveContent } from "../../src/scenario/parse.ts";
import { changed, LEAST_SCENARIO, resolved, variable } from "../support/scenario.ts";

/** The same object with its keys in another order, all the way down. */
function shuffled(value: unknown, seed: number): unknown {
  if (Array.isArray(value)) return value.map((part) => shuffled(part, seed));
  if (value === null || typeof value !== "object") return value;
  const order = (key: string) => [...key].reduce((sum, c) => (sum * seed + c.charCodeAt(0)) % 1009, seed);
  const entries = Object.entries(value).sort(([a], [b]) => order(a) - order(b));
  return Object.fromEntries(entries.map(([key, part]) => [key, shuffled(part, seed)]));
}

const distributions: Distribution[] = [
  { kind: "normal", mean: 3, sd: 0.2 },
  { kind: "truncated-normal", mean: 3, sd: 0.2, low: 2.9, high: 3.3 },
  { kind: "uniform", low: 1, high: 2 },
  { kind: "arcsine", low: 1, high: 2 },
  { kind: "triangular", low: 1, mode: 1.2, high: 2 },
  { kind: "trapezoidal", low: 1, shoulderLow: 1.2, shoulderHigh: 1.5, high: 2 },
  { kind: "skewed", low: 1, high: 2, alpha: 2, beta: 4 },
  { kind: "lognormal", logMean: 0.1, logSd: 0.3, shift: 1 },
  { kind: "student-t", mean: 3, scale: 0.1, degreesOfFreedom: 4 },
  { kind: "empirical", values: [1, 1.5, 4] },
  { kind: "constant", value: 7 },
];

describe("a scenario", () => {
  it("means the same in whatever order its keys stand", () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 1000 }), (seed) => {
        expect(resolveContent(shuffled(LEAST_SCENARIO, seed), "test.yaml")).toEqual(resolved());
      }),
      { numRuns: 50 },
    );
  });

  it("means the same to the bit in mm, um and m", () => {
    const length = fc.integer({ min: 39_800_000, max: 40_200_000 });
    const tolerance = fc.integer({ min: 1, max: 99_999 });
    fc.assert(
      fc.property(length, tolerance, (nanometres, half) => {
        const written = (exponent: number, unit = "") =>
          `${nanometres}e${exponent} ${unit} ±${half}e${exponent} ${unit}`;
        const hash = (text: string) => resolved({ "chain.spacer.length": text }).hash;
        const inMillimetres = hash(written(-6, "mm"));
        expect(hash(written(-6))).toBe(inMillimetres);
        expect(hash(written(-3, "um"))).toBe(inMillimetres);
        expect(hash(written(-9, "m"))).toBe(inMillimetres);
      }),
      { numRuns: 50 },
    );
  });

  it("means the same in inches to 1e-15 (1 in = 25.4 mm exactly)", () => {
    fc.assert(
      fc.property(fc.integer({ min: 15_700, max: 15_799 }), (tenThousandths) => {
        const inches = tenThousandths / 10_000;
        const limits = (text: string) =>
          variable(resolved({ "chain.spacer.length": text }), "chain.spacer").distribution;
        const low = (d: Distribution) => ("low" in d ? d.low : Number.NaN);
        const inInches = low(limits(`${inches} in ±0.0004 in`));
        const inMillimetres = low(limits(`${(tenThousandths * 254) / 100_000} mm ±10.16 um`));
        expect(Math.abs(inInches / inMillimetres - 1)).toBeLessThan(1e-15);
      }),
      { numRuns: 50 },
    );
  });

  it("is the same seen from the other side: swapping a and b swaps the bearings and nothing else", () => {
    const bearings = { a: { designation: "6004", clearanceGroup: "C3" }, b: { designation: "6004" } };
    const one = resolved({ bearings });
    const other = resolved({ bearings: { a: bearings.b, b: bearings.a } });
    expect(variable(one, "bearings.a.clearance").distribution).toEqual(
      variable(other, "bearings.b.clearance").distribution,
    );
    expect(one.limits).toEqual(other.limits);
    expect(one.chain).toEqual(other.chain);
  });

  it("of any content either resolves or is refused as input, never as a fault of the program", () => {
    const keys = [
      "arrangement",
      "bearings",
      "bearings.both",
      "chain",
      "seats",
      "seats.shaft",
      "states",
      "window",
      "clamp",
      "correlations",
      "batch",
      "seed",
      "bearings.both.clearance",
      "chain.spacer.length",
      "seats.housing.both.fit",
    ];
    const odd = fc.oneof(
      fc.jsonValue(),
      fc.constantFrom<unknown>(
        "1e400 mm",
        "NaN",
        "-0 mm",
        "..",
        "±",
        "5..",
        "20 k",
        { limits: "" },
        { normal: {} },
        [[]],
        { uniform: { low: "1 mm", high: "1 mm" } },
      ),
    );
    fc.assert(
      fc.property(fc.constantFrom(...keys), odd, (path, value) => {
        let outcome = "resolved";
        try {
          resolveContent(changed({ [path]: value }), "test.yaml");
        } catch (error) {
          outcome = error instanceof InputError ? "refused" : `failed: ${error}`;
        }
        expect(outcome).toMatch(/^(resolved|refused)$/);
      }),
      { numRuns: 1000 },
    );
  });
});

describe("shift + factor·x", () => {
  it.each(distributions)("of a $kind distribution has the quantiles moved alike", (distribution) => {
    for (const p of [0.001, 0.2, 0.5, 0.9, 0.999]) {
      expect(quantile(affine(distribution, 0.8, -2), p)).toBeCloseTo(-2 + 0.8 * quantile(distribution, p), 10);
    }
  });
});
