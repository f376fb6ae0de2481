import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { prepare } from "../../../src/distributions/index.ts";
import type { Distribution } from "../../../src/distributions/types.ts";
import { fitVerdict } from "../../../src/report/fit/verdict.ts";
import { expandMeasuredFiles } from "../../../src/scenario/measured-files.ts";
import { resolveContent } from "../../../src/scenario/parse.ts";
import { type FitRequest, fitMeasured } from "../../../src/studies/fit/fit.ts";
import { changed, resolved, variable } from "../../support/scenario.ts";

/** Values that lie exactly at the quantiles (i − ½)/n of a distribution, shuffled in a fixed way. */
function sampleOf(distribution: Distribution, n: number): Float64Array {
  const { quantile } = prepare(distribution);
  const sorted = Float64Array.from({ length: n }, (_, i) => quantile((i + 0.5) / n));
  const step = 37;
  return sorted.map((_, i) => sorted[(i * step) % n]);
}

function fitted(values: Float64Array, changes: Partial<FitRequest> = {}) {
  const request: FitRequest = {
    file: "parts.csv",
    column: "length",
    unit: "mm",
    values,
    skipped: [],
    limits: null,
    lots: null,
    gauge: null,
    gaugeStudy: null,
    table: new Uint8Array(),
    asked: {},
    maker: { version: "0", platform: "test" },
    ...changes,
  };
  return fitMeasured(request).finding;
}

describe("what is fitted to parts", () => {
  it("finds a normal again, with its mean and sd", () => {
    const found = fitted(sampleOf({ kind: "normal", mean: 32, sd: 0.002 }, 101));
    expect(found.choice).toBe("normal");
    expect(found.values.mean).toBeCloseTo(32, 9);
    expect(Math.abs(found.values.sd / 0.002 - 1)).toBeLessThan(0.02);
    expect(found.normality?.pRatio).toBeGreaterThan(0.9);
  });

  it("finds a truncated normal again where the limits cut deep", () => {
    const truth = { kind: "truncated-normal", mean: 32, sd: 0.004, low: 31.998, high: 32.006 } as const;
    const found = fitted(sampleOf(truth, 401), { limits: { low: truth.low, high: truth.high } });
    expect(["truncated-normal", "skewed"]).toContain(found.choice);
    const cut = found.candidates.find(({ family }) => family === "truncated-normal")!.distribution;
    expect(cut.kind).toBe("truncated-normal");
    if (cut.kind !== "truncated-normal") return;
    expect(Math.abs(cut.mean - truth.mean)).toBeLessThan(0.0004);
    expect(Math.abs(cut.sd / truth.sd - 1)).toBeLessThan(0.06);
  });

  it("finds a skewed (beta) distribution again", () => {
    const truth = { kind: "skewed", low: 0, high: 0.02, alpha: 2, beta: 6 } as const;
    const found = fitted(sampleOf(truth, 301), { limits: { low: 0, high: 0.02 } });
    expect(found.choice).toBe("skewed");
    const beta = found.candidates.find(({ family }) => family === "skewed")!.distribution;
    if (beta.kind !== "skewed") throw new Error("no beta");
    expect(Math.abs(beta.alpha / 2 - 1)).toBeLessThan(0.03);
    expect(Math.abs(beta.beta / 6 - 1)).toBeLessThan(0.03);
  });

  it("finds a lognormal again", () => {
    const truth = { kind: "lognormal", logMean: -4, logSd: 0.5, shift: 0.01 } as const;
    const found = fitted(sampleOf(truth, 401));
    expect(found.choice).toBe("lognormal");
  });

  it("flags two populations and then fits none", () => {
    const a = sampleOf({ kind: "normal", mean: 32, sd: 0.001 }, 40);
    const b = sampleOf({ kind: "normal", mean: 32.006, sd: 0.001 }, 60);
    const found = fitted(Float64Array.from([...a, ...b]));
    expect(found.mixture?.isLikely).toBe(true);
    expect(found.mixture?.components[0].weightRatio).toBeCloseTo(0.4, 2);
    expect(found.mixture?.components[1].mean).toBeCloseTo(32.006, 4);
    expect(found.choice).toBe("empirical");
    expect(found.paste.fitted).toBeNull();
    expect(fitVerdict(found)[0]).toContain("two populations");
  });

  it("takes a gauge out of the spread, and says where nothing is left", () => {
    const values = sampleOf({ kind: "normal", mean: 32, sd: 0.005 }, 101);
    const sd = fitted(values).values.sd;
    const found = fitted(values, { gauge: { sd: 0.6 * sd, source: "as given" } });
    expect(found.values.sd).toBeCloseTo(0.8 * sd, 12);
    const blind = fitted(values, { gauge: { sd: 2 * sd, source: "as given" } });
    expect(blind.instrument?.clamped).toBe(true);
    expect(blind.choice).toBe("empirical");
    expect(fitVerdict(blind).join(" ")).toContain("nothing is left");
  });

  it("refuses one value and values without any spread", () => {
    expect(() => fitted(Float64Array.of(1))).toThrow("at least two different values");
    expect(() => fitted(Float64Array.of(1, 1, 1))).toThrow("at least two different values");
  });
});

describe("the lines to paste", () => {
  it("give the fitted distribution in a scenario", () => {
    const found = fitted(sampleOf({ kind: "normal", mean: 40.13, sd: 0.002 }, 101));
    const scenario = resolved({ "chain.housing spacing.length": parse(found.paste.fitted!) });
    const { distribution } = variable(scenario, "chain.housing spacing");
    if (distribution.kind !== "normal") throw new Error(distribution.kind);
    expect(distribution.mean).toBeCloseTo(found.values.mean, 7);
    expect(Math.abs(distribution.sd / found.values.sd - 1)).toBeLessThan(1e-3);
  });

  it("give the values of the file, in the scenario's own words for them", () => {
    const found = fitted(sampleOf({ kind: "normal", mean: 40.13, sd: 0.002 }, 101));
    const content = changed({ "chain.housing spacing.length": parse(found.paste.empirical) });
    const asked: unknown[] = [];
    const expanded = expandMeasuredFiles(content, {
      column(request) {
        asked.push(request);
        return { values: ["40.13 mm", "40.131 mm", "40.135 mm"], from: "parts.csv, column length" };
      },
      table: () => ({ columns: [], from: "" }),
    });
    expect(asked).toEqual([{ file: "parts.csv", column: "length" }]);
    const scenario = resolveContent(expanded, "test.yaml");
    const { distribution } = variable(scenario, "chain.housing spacing");
    expect(distribution).toEqual({ kind: "empirical", values: [40.13, 40.131, 40.135] });
    expect(scenario.inputs.find(({ path }) => path === "chain.housing spacing")?.source).toContain("parts.csv");
  });

  it("are refused where no files can be read", () => {
    expect(() => resolved({ "chain.housing spacing.length": { measuredFile: "parts.csv" } })).toThrow("no files");
  });

  it("take the gauge out of values in a scenario", () => {
    const length = { measured: ["40.12 mm", "40.13 mm", "40.14 mm"], gaugeSd: "6 um" };
    const { distribution } = variable(resolved({ "chain.housing spacing.length": length }), "chain.housing spacing");
    if (distribution.kind !== "empirical") throw new Error(distribution.kind);
    expect(distribution.values[2] - distribution.values[1]).toBeCloseTo(0.008, 9);
    const blind = { ...length, gaugeSd: "20 um" };
    expect(() => resolved({ "chain.housing spacing.length": blind })).toThrow("less than the spread");
    expect(() => resolved({ "chain.housing spacing.length": { limits: "40 ±0.1", gaugeSd: "1 um" } })).toThrow(
      "only beside",
    );
  });
});
