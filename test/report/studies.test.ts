import { describe, expect, it } from "vitest";
import { auditPage } from "../../src/report/audit/page.ts";
import { auditText } from "../../src/report/audit/text.ts";
import { auditVerdict } from "../../src/report/audit/verdict.ts";
import { batchPage } from "../../src/report/batch/page.ts";
import { batchText } from "../../src/report/batch/text.ts";
import { batchVerdict } from "../../src/report/batch/verdict.ts";
import { fitPage } from "../../src/report/fit/page.ts";
import { fitText } from "../../src/report/fit/text.ts";
import { fitVerdict } from "../../src/report/fit/verdict.ts";
import { auditUnit } from "../../src/studies/audit/audit.ts";
import { studyBatch } from "../../src/studies/batch/batch.ts";
import { fitMeasured } from "../../src/studies/fit/fit.ts";
import { auditRows } from "../../src/tables/audit.ts";
import { batchRows } from "../../src/tables/batch.ts";
import { fitRows } from "../../src/tables/fit.ts";
import type { SummaryRow } from "../../src/tables/summary-rows.ts";
import { resolved } from "../support/scenario.ts";

const MAKER = { version: "0", platform: "test" };
const NO_NUMBER = /\b(?:NaN|undefined|Infinity|null)\b/;

/** What a person reads of a page: no styles, no drawing. */
function visible(page: string): string {
  return page.replace(/<style>[\s\S]*?<\/style>/g, "").replace(/<svg[\s\S]*?<\/svg>/g, "");
}

function expectClean(page: string, text: string, rows: readonly SummaryRow[]): void {
  expect(page).toMatch(/^<!doctype html>/);
  expect(visible(page)).not.toMatch(NO_NUMBER);
  expect(page.match(/<path[^>]*d="[^"]*NaN/)).toBeNull();
  expect(text).not.toMatch(NO_NUMBER);
  for (const line of text.split("\n")) expect(line.length).toBeLessThanOrEqual(160);
  for (const { scope, measure, statistic, unit } of rows) {
    expect([scope, measure, statistic].every((word) => word !== "")).toBe(true);
    expect(unit).toEqual(expect.any(String));
  }
}

describe("the page, text and rows of measured parts", () => {
  const steady = Float64Array.from({ length: 40 }, (_, i) => 32 + 0.001 * (((i * 7) % 13) - 6));
  const cases: Record<string, Partial<Parameters<typeof fitMeasured>[0]>> = {
    "forty values with limits": { values: steady, limits: { low: 31.99, high: 32.01 } },
    "two values": { values: Float64Array.of(32, 32.001) },
    "a gauge that hides everything": {
      values: steady,
      gauge: { sd: 1, source: "as given" },
      limits: { low: 31, high: 33 },
    },
    "a trend, lots and rows left out": {
      values: Float64Array.from({ length: 30 }, (_, i) => 5 + i),
      lots: Array.from({ length: 30 }, (_, i) => String(i % 3)),
      skipped: [{ line: 4, why: "an empty cell" }],
      unit: "N",
    },
    "parts outside the limits": { values: steady, limits: { low: 32, high: 32.002 } },
  };

  it.each(Object.keys(cases))("print no NaN: %s", (name) => {
    const request = {
      file: "parts.csv",
      column: "length",
      unit: "mm" as const,
      values: steady,
      skipped: [],
      limits: null,
      lots: null,
      gauge: null,
      gaugeStudy: null,
      table: new Uint8Array(),
      asked: {},
      maker: MAKER,
    };
    const { finding, parts } = fitMeasured({ ...request, ...cases[name] });
    const result = { ...finding, verdict: fitVerdict(finding) };
    expect(result.verdict[0].length).toBeGreaterThan(20);
    const read = cases[name].values ?? steady;
    expectClean(fitPage(result, read, parts), fitText(result, { color: false, width: 100 }), fitRows(result));
  });
});

describe("the page, text and rows of an audit", () => {
  const spacing = (mm: number) => [
    { name: "housing spacing", values: [`${mm} mm`, `${mm + 0.001} mm`], limits: "±2 um" },
  ];
  const cases: Record<string, Record<string, unknown>> = {
    "a unit near its window": { audit: { readings: spacing(40.14) } },
    "a unit far below": { audit: { readings: spacing(40.0) } },
    "a unit far above": { audit: { readings: spacing(40.4), unit: 3 } },
    "two states that ask for different offsets": {
      audit: { readings: spacing(40.14) },
      states: [
        { name: "bench", housing: "20 degC" },
        { name: "hot", housing: "140 degC", shaft: "20 degC" },
      ],
    },
    "one exact reading": { audit: { readings: [{ name: "spacer", values: ["40 mm"] }] } },
  };

  it.each(Object.keys(cases))("print no NaN: %s", (name) => {
    const { finding } = auditUnit(resolved({ samples: 6000, ...cases[name] }), MAKER);
    const result = { ...finding, verdict: auditVerdict(finding) };
    expect(result.verdict[0]).toMatch(/^(?:Go|No-go|Cannot tell): /);
    expectClean(auditPage(result), auditText(result, { color: false, width: 100 }), auditRows(result));
  });

  it("say of a pair with an adjuster that a shim is not its mend", () => {
    const preload = { method: "adjuster", adjuster: { advance: "10 ±2 um" } };
    const { finding } = auditUnit(resolved({ samples: 4000, preload, audit: { readings: spacing(40.14) } }), MAKER);
    expect(finding.change).toBeNull();
    expect(auditVerdict(finding).join(" ")).toContain("set by a device");
  });
});

describe("the page, text and rows of a batch", () => {
  const prices = { unit: "9 EUR", rework: "2 EUR", warranty: "80 EUR" };
  const cases: Record<string, Record<string, unknown>> = {
    "a batch of one": { batch: { size: 1 } },
    "nothing good": {
      "chain.housing spacing.length": "40.0 ±0.001",
      batch: { size: 50 },
      requiredYield: 0.9,
      costs: prices,
    },
    "all good": {
      "chain.housing spacing.length": 40.14,
      "chain.spacer.length": 40,
      "bearings.both.clearance": "12 um",
      "bearings.both.standOut": "0 um",
      "bearings.both.conformityInner": 0.515,
      "bearings.both.conformityOuter": 0.52,
      window: "10 N..900 N",
      batch: { size: 50 },
      requiredYield: 0.9,
      costs: prices,
    },
    "shared spread, check by play": {
      "chain.housing spacing.length": { limits: "40.13 ±0.01", batchShare: 0.5 },
      batch: { size: 60 },
      benchCheck: { gauge: "play", high: "3 um", error: "0 ±2 um" },
      sampling: [{ sample: 10, accept: 0 }],
      costs: { warranty: 12 },
    },
  };

  it.each(Object.keys(cases))("print no NaN: %s", (name) => {
    const finding = studyBatch(resolved({ samples: 12_000, ...cases[name] }), MAKER);
    const result = { ...finding, verdict: batchVerdict(finding) };
    expect(result.verdict[0]).toMatch(/^Of the next /);
    expectClean(batchPage(result), batchText(result, { color: false, width: 100 }), batchRows(result));
  });
});
