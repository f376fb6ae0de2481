import { tableFromIPC } from "apache-arrow";
import { beforeAll, describe, expect, test } from "vitest";
import { renderReport } from "../../src/report/render.ts";
import { summaryText } from "../../src/report/summary-text.ts";
import { verdict } from "../../src/report/verdict.ts";
import type { RunResult } from "../../src/studies/result.ts";
import { writeSummary } from "../../src/tables/summary.ts";
import { shipped } from "../support/shipped.ts";
import { runStudy } from "../support/yield.ts";

/** The four places that a reader takes a figure from: data, table, page and terminal. */
describe.each(["laminating-roller.yaml", "belt-tensioner.yaml"])("%s", (file) => {
  let json: RunResult;
  let rows: { [key: string]: unknown; value: number }[];
  let page: string;
  let terminal: string;

  beforeAll(async () => {
    const { finding, samples } = await runStudy(shipped(file, { samples: 8192 }));
    const result: RunResult = { ...finding, verdict: verdict(finding) };
    json = JSON.parse(JSON.stringify(result)) as RunResult;
    const parts: Uint8Array[] = [];
    writeSummary(result, (bytes) => parts.push(bytes.slice()));
    rows = tableFromIPC(Buffer.concat(parts))
      .toArray()
      .map((row) => row.toJSON() as (typeof rows)[number]);
    page = renderReport(result, samples)
      .replace(/<style[\s\S]*?<\/style>|<[^>]*>/g, " ")
      .replace(/\s+/g, " ");
    terminal = summaryText(result, { color: false, width: 100 }).replace(/\s+/g, " ");
  }, 60_000);

  const row = (scope: string, statistic: string, item = "") =>
    rows.filter((each) => each.scope === scope && each.statistic === statistic && each.item === item);

  test("the same yield, scrap and warranty in data and table to the bit, and as printed on page and terminal", () => {
    const { goodInEveryState, failsAtBench, failsInService, averagedOverStates } = json.overall;
    const shares = [goodInEveryState, failsAtBench, failsInService, averagedOverStates].map((each) => each.shareRatio);
    const inTable = new Set(rows.filter(({ statistic }) => statistic === "share").map(({ value }) => value));
    for (const share of shares) {
      expect(inTable.has(share), String(share)).toBe(true);
      // The percentage with one or two decimals, the way either prints it: rounding aside there is one figure.
      const printed = [1, 2].map((digits) => `${(100 * share).toFixed(digits)} %`);
      expect(
        printed.some((text) => terminal.includes(text)),
        `terminal: ${printed}`,
      ).toBe(true);
      expect(
        printed.some((text) => page.includes(text)),
        `page: ${printed}`,
      ).toBe(true);
    }
  });

  test("the same mean, spread and quantiles of the preload in every state, in data and table to the bit", () => {
    for (const { name, isAfterService, preloadN } of json.states) {
      if (isAfterService) continue;
      for (const [statistic, value] of [
        ["mean", preloadN.mean],
        ["sd", preloadN.sd],
        ...preloadN.quantiles.map(({ probabilityRatio, value }) => [`q${probabilityRatio}`, value] as const),
      ] as const) {
        const found = row(name, statistic).filter(({ measure }) => measure === "preload");
        expect(found.map((each) => each.value)).toEqual([value]);
      }
    }
  });

  test("the page and the terminal say the verdict of the data, word for word", () => {
    expect(json.verdict.length).toBeGreaterThan(0);
    const decoded = page.replaceAll("&amp;", "&").replaceAll("&quot;", '"').replaceAll("&#39;", "'");
    expect(decoded).toContain(json.verdict[0].replace(/\s+/g, " "));
    expect(terminal).toContain(json.verdict[0].replace(/\s+/g, " "));
  });
});
