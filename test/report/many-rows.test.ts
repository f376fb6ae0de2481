import { describe, expect, test } from "vitest";
import { compareVerdict, compareView } from "../../src/report/decide/compare.ts";
import { sweepVerdict, sweepView } from "../../src/report/decide/sweep.ts";
import { decisionPage, decisionText } from "../../src/report/decide/view.ts";
import type {
  ComparedVariant,
  CompareResult,
  Shares,
  SweepAxis,
  SweepResult,
} from "../../src/studies/decide/result.ts";
import { makeFixture } from "../support/result-fixture.ts";

/** Made-up results of many rows: what is looked at is the page and the terminal, no figure. */
const head = {
  provenance: makeFixture().result.provenance,
  title: "Test roller",
  requiredYieldRatio: 0.5,
  batchSize: 100,
  basis: { replicates: 16, pointsPerReplicate: 256, samples: 8192 },
  warnings: [],
  asked: {},
  scenario: {},
  verdict: [],
};

const estimate = (ratio: number) => ({ ratio, lowRatio: ratio - 0.002, highRatio: ratio + 0.002 });
const sharesOf = (good: number): Shares => ({
  good: estimate(good),
  bench: estimate((1 - good) / 2),
  service: estimate((1 - good) / 2),
});

function variantOf(name: string, good: number, base: number | null): ComparedVariant {
  const gain = base === null ? 0 : good - base;
  const difference = { differenceRatio: gain, lowRatio: gain - 0.001, highRatio: gain + 0.001 };
  return {
    name,
    changes: [`states.hot.housing=${name}`],
    scenarioHash: "0",
    method: "integrated",
    shares: sharesOf(good),
    states: [{ state: "hot", good: estimate(good) }],
    difference: base === null ? null : { good: difference, bench: difference, service: difference },
    centred: null,
    cautions: [`caution ${name}`],
  };
}

function compared(count: number): CompareResult {
  const variants = Array.from({ length: count }, (_, i) =>
    variantOf(`case ${i + 1}`, 0.3 + (0.5 * ((i * 389) % count)) / count, 0.5),
  );
  return { ...head, study: "compare", variants: [variantOf("as it stands", 0.5, null), ...variants], lead: null };
}

function axis(label: string, count: number): SweepAxis {
  const values = Array.from({ length: count }, (_, i) => ({ text: `${label} ${i}`, number: i }));
  return { path: label, label, unit: "mm", values, kept: "" };
}

function swept(columns: number, rows: number): SweepResult {
  const over = axis("across", columns);
  const and = rows === 1 ? null : axis("down", rows);
  const series = Array.from({ length: rows }, (_, y) => ({
    name: and === null ? "" : and.values[y].text,
    crossings: [],
    cells: over.values.map((_, x) => ({
      method: "integrated" as const,
      shares: sharesOf(0.1 + (0.8 * ((x + y) % columns)) / columns),
    })),
  }));
  return { ...head, study: "sweep", over, and, targetRatio: 0.5, series };
}

const terminal = { color: false, width: 100 };
/** Its tables of figures; the one of what made them has the same few rows always. */
const tables = (page: string) =>
  [...page.matchAll(/<div class="(scroll[^"]*)"[^>]*><table>([\s\S]*?)<\/table>/g)].filter(
    ([all]) => !all.includes('aria-label="Provenance"'),
  );

describe("a comparison of a thousand variants", () => {
  const result = compared(1000);
  const full = { ...result, verdict: compareVerdict(result) };
  const page = decisionPage(full, compareView(full));

  test("has all of them in tables that scroll under their head, best first, on a page below a megabyte", () => {
    expect(page.length).toBeLessThan(1_000_000);
    for (const [, kind, body] of tables(page)) {
      expect(kind).toBe("scroll tall");
      expect(body.match(/<tr>/g)!.length).toBeGreaterThanOrEqual(1001);
    }
    const [, , body] = tables(page)[0];
    const names = [...body.matchAll(/<th scope="row"[^>]*>([^<]*)</g)].map(([, name]) => name);
    expect(names).toHaveLength(1001);
    const byYield = full.variants.slice(1).sort((a, b) => b.shares.good.ratio - a.shares.good.ratio);
    expect(names).toEqual(["as it stands", ...byYield.map(({ name }) => name)]);
    expect(page).toContain("24 of 1000 changes, best first");
  });

  test("tells of many without naming them all, and fits on a terminal", () => {
    expect(full.verdict.join(" ")).toMatch(/Worse than as it stands: .* and \d+ more\./);
    expect(full.verdict.join(" ")).toMatch(/996 more cautions stand in result\.json/);
    expect(full.verdict.join(" ").length).toBeLessThan(2500);
    const lines = decisionText(full, compareView(full), terminal).split("\n");
    expect(lines.length).toBeLessThan(90);
    expect(lines).toContain("961 more rows stand in the report");
  });

  test("a few stay in the order in which they were given, and nothing is left out", () => {
    const few = compared(20);
    const view = compareView({ ...few, verdict: compareVerdict(few) });
    expect(view.tables[0].table.rows.map(([name]) => name)).toEqual(few.variants.map(({ name }) => name));
    expect(decisionText(few, view, terminal)).not.toContain("more rows");
  });
});

describe("a sweep over many values", () => {
  test.each([
    [500, 1, 500, 5],
    [500, 20, 500, 21],
    [20, 500, 500, 21],
    [100, 100, 100, 101],
  ])(
    "%d by %d: a table of %d rows and %d columns, pictures that can be drawn, below 2.5 MB",
    (columns, rows, tall, wide) => {
      const result = swept(columns, rows);
      const full = { ...result, verdict: sweepVerdict(result) };
      const view = sweepView(full);
      const page = decisionPage(full, view);
      expect(page.length).toBeLessThan(2_500_000);
      expect(page).not.toMatch(/NaN|undefined/);
      const [{ table }] = view.tables;
      expect([table.rows.length, table.head.length]).toEqual([tall, wide]);
      for (const row of table.rows) expect(row).toHaveLength(wide);
      expect(tables(page)[0][1]).toBe("scroll tall");
      const isThinned = Math.max(columns, rows) > 120 && rows > 1;
      expect(/of them are drawn, evenly spaced; all stand in the table/.test(page)).toBe(isThinned);
      expect(decisionText(full, view, terminal).split("\n").length).toBeLessThan(150);
    },
  );

  test("the value in the table is that of its cell, whichever way the table lies", () => {
    for (const [columns, rows] of [
      [30, 3],
      [3, 30],
    ]) {
      const result = swept(columns, rows);
      const [{ table }] = sweepView({ ...result, verdict: [] }).tables;
      const isTurned = rows > columns;
      const good = result.series[2].cells[1].shares.good.ratio;
      const cell = isTurned ? table.rows[2][2] : table.rows[1][3];
      expect(cell.replace(/\s/g, "")).toBe(`${(100 * good).toPrecision(3)}%`);
    }
  });
});
