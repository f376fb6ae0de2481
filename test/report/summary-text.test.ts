import { describe, expect, it } from "vitest";
import { summaryText } from "../../src/report/summary-text.ts";
import { verdict } from "../../src/report/verdict.ts";
import { HOSTILE, poisoned } from "../support/hostile.ts";
import { makeFixture, THREE_STATES } from "../support/result-fixture.ts";

const { result } = makeFixture();
const full = { ...result, verdict: verdict(result) };

describe("the summary for a terminal", () => {
  it.each([24, 40, 60, 80, 100, 200])("fits a terminal of %d columns", (width) => {
    const longest = Math.max(
      ...summaryText(full, { color: false, width })
        .split("\n")
        .map((line) => line.length),
    );
    expect(longest).toBeLessThanOrEqual(width);
  });

  it("tells the yield, scrap, service, every state and the top causes", () => {
    const text = summaryText(full, { color: false, width: 100 });
    expect(text).toMatch(/good in every state +[\d.]+ % {2}95 %: [\d.]+ % to [\d.]+ %/);
    expect(text).toMatch(/required +90 % {2}not reached/);
    expect(text).toMatch(/fails at the bench +[\d.]+ % {2}scrap, about \d+ of 400/);
    expect(text).toMatch(/fails in service +[\d.]+ % {2}warranty, about \d+ of 400/);
    for (const { label } of THREE_STATES) expect(text).toMatch(new RegExp(`^${label}`, "m"));
    expect(text).toMatch(/^ *\+18 points {2}Stand-out of the bearings \(assumed\)$/m);
  });

  it("never parts a figure from its unit at the end of a line", () => {
    for (let width = 40; width <= 100; width += 1) {
      expect(summaryText(full, { color: false, width }), String(width)).not.toMatch(/\n *(%|µm|N|ppm)(?![a-z])/);
    }
  });

  it("uses colours only when asked", () => {
    const bare = summaryText(full, { color: false, width: 100 });
    const painted = summaryText(full, { color: true, width: 100 });
    expect(bare).not.toContain("\u001b");
    expect(painted).toContain("\u001b[1m");
    // biome-ignore lint/suspicious/noControlCharactersInRegex: escape sequences are what is taken off
    expect(painted.replace(/\u001b\[\d+m/g, "")).toBe(bare);
  });

  it("lets no control character of the scenario through", () => {
    const bad = poisoned(full, new Set(["outcome", "method", "origin", "group", "unit"]));
    const text = summaryText({ ...bad, verdict: [HOSTILE] }, { color: false, width: 100 });
    expect(text.replaceAll("\n", "")).not.toMatch(/\p{Cc}/u);
  });

  it("prints no NaN for no units, one unit and one state", () => {
    for (const options of [{ units: 0 }, { units: 1 }, { states: THREE_STATES.slice(0, 1) }]) {
      const edge = makeFixture(options).result;
      const text = summaryText({ ...edge, verdict: verdict(edge) }, { color: false, width: 80 });
      expect(text).not.toMatch(/NaN|undefined|Infinity/);
    }
  });
});
