import { describe, expect, test } from "vitest";
import { renderReport } from "../../src/report/render.ts";
import { summaryText } from "../../src/report/summary-text.ts";
import { verdict } from "../../src/report/verdict.ts";
import type { RareResult, RunResult, Share } from "../../src/studies/result.ts";
import { makeFixture } from "../support/result-fixture.ts";

const { result, samples } = makeFixture();
const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, " ");

const found = (change: Partial<RareResult>): RareResult => ({
  what: "outcome",
  state: "hot",
  outcome: "bind",
  method: "importance",
  shareRatio: 2.9e-6,
  lowRatio: 2.7e-6,
  highRatio: 3.1e-6,
  samples: 8000,
  effectiveCount: 869,
  distanceRatio: 4.87,
  doubts: [],
  ...change,
});

const IMPORTANCE: Share = { count: 0, shareRatio: 1.2e-5, lowRatio: 1e-5, highRatio: 1.4e-5, method: "importance" };

function withRare(rare: readonly RareResult[], change: Partial<RunResult> = {}): RunResult {
  const finding = { ...result, ...change, rare };
  return { ...finding, verdict: verdict(finding) };
}

describe("rare outcomes in words", () => {
  test("a share that was worked out is told in ppm with its interval, in the verdict where it harms", () => {
    const words = plain(withRare([found({}), found({ outcome: "light" })]).verdict.join("\n"));
    expect(words).toMatch(
      /Too seldom to be seen in this run, but worked out: 2\.9 ppm bind .* \(95 % interval 2\.7 ppm to 3\.1 ppm\)\./,
    );
    expect(words).not.toMatch(/ppm are preloaded too lightly/);
    expect(withRare([]).verdict.join()).not.toContain("Too seldom");
  });

  test("no count is not none where the share was worked out: bench and service say so", () => {
    const overall = { ...result.overall, failsAtBench: IMPORTANCE, failsInService: IMPORTANCE, serviceCauses: [] };
    const first = plain(withRare([], { overall }).verdict[0] ?? "");
    expect(first).toMatch(/About 12 ppm .*at the bench/);
    expect(first).toMatch(
      /A further 12 ppm pass the bench and then fail in service \(95 % interval 10 ppm to 14 ppm\)/,
    );
    const text = plain(summaryText(withRare([], { overall }), { color: false, width: 100 }));
    expect(text).toMatch(/fails at the bench +12 ppm/);
  });

  test("the report tells shares, bounds, what the limits exclude and what was not come upon apart", () => {
    const html = plain(
      renderReport(
        withRare([
          found({}),
          found({ outcome: "reversed", method: "excluded", shareRatio: 0, lowRatio: 0, highRatio: 0 }),
          found({
            outcome: "play",
            method: "remote",
            shareRatio: 0,
            lowRatio: 0,
            highRatio: 1e-9,
            distanceRatio: null,
          }),
          found({
            what: "service",
            state: null,
            outcome: null,
            method: "unresolved",
            shareRatio: Number.NaN,
            samples: 0,
          }),
        ]),
        samples,
      ),
    );
    expect(html).toContain("<h2>Rare outcomes</h2>");
    expect(html).toMatch(/2\.9 ppm<\/td>[\s\S]*2\.7 ppm to 3\.1 ppm/);
    expect(html).toMatch(/below 0\.001\d* ppm/);
    expect(html).toMatch(/Not reached within the limits given[^<]*: wrong way round/);
    expect(html).toMatch(/no more is claimed than the bounds of plain sampling: fails in service/);
    expect(renderReport(withRare([]), samples)).not.toContain("Rare outcomes");
  });
});
