import { parseHTML } from "linkedom";
import { beforeAll, describe, expect, it } from "vitest";
import { renderReport } from "../../src/report/render.ts";
import { summaryText } from "../../src/report/summary-text.ts";
import { unitText } from "../../src/report/unit-text.ts";
import { verdict } from "../../src/report/verdict.ts";
import type { RunResult } from "../../src/studies/result.ts";
import { openUnit } from "../../src/studies/unit.ts";
import { summaryRows } from "../../src/tables/summary-rows.ts";
import { makeFixture } from "../support/result-fixture.ts";
import { shipped } from "../support/shipped.ts";
import { type Ran, runStudy } from "../support/yield.ts";

const HOSTILE = `"><script>alert(1)</script>`;

/** Real runs of what reaches beyond position preload, printed in every form. */
const FILES: Readonly<Record<string, Readonly<Record<string, unknown>>>> = {
  "encoder-stage.yaml": {},
  "hand-cart-wheel.yaml": {},
  "fan-spindle.yaml": {},
  "gearbox-input.yaml": {},
  "drying-drum-spindle.yaml": {},
  "grinding-spindle.yaml": { "extended.samples": 300, "extended.loads.0.name": HOSTILE },
};

describe.each(Object.entries(FILES))("the report of %s", (file, changes) => {
  const scenario = shipped(file, { samples: 3000, ...changes });
  let ran: Ran;
  let result: RunResult;
  let page: string;
  beforeAll(async () => {
    ran = await runStudy(scenario);
    result = { ...ran.finding, verdict: verdict(ran.finding) };
    page = renderReport(result, ran.samples);
  }, 60_000);

  it("holds no undefined number and nothing of a scenario that is not escaped", () => {
    expect(page).not.toMatch(/NaN|undefined|Infinity|∞|\[object|<script>alert/);
    expect(summaryText(result, { color: false, width: 80 })).not.toMatch(/NaN|undefined|Infinity/);
    expect(unitText(scenario, openUnit(scenario, 5), { width: 80 })).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("has the sections that belong to what was asked, and each picture as a table", () => {
    const tree = parseHTML(page).document as unknown as Document;
    const headings = [...tree.querySelectorAll("h2")].map((heading) => heading.textContent);
    expect(headings.includes("Requirements")).toBe(result.requirements.length > 0);
    expect(headings.includes("Heat balance")).toBe(result.runaway.length > 0);
    expect(headings.includes("Stiffness, movement, torque and life")).toBe(result.extended !== null);
    for (const figure of tree.querySelectorAll("figure")) {
      expect(figure.querySelectorAll("details tbody tr").length).toBeGreaterThan(0);
    }
  });

  it("has its figures in the summary table, each row with its unit", () => {
    const rows = summaryRows(result);
    const measures = new Set(rows.map(({ measure }) => measure));
    expect(measures.has("requirement met")).toBe(result.requirements.length > 0);
    expect(measures.has("thermal runaway")).toBe(result.runaway.length > 0);
    expect(measures.has("tilt stiffness of the pair")).toBe(result.extended !== null);
    for (const { unit } of rows) expect(unit).not.toBe("");
  });
});

describe("plain words", () => {
  it("say that nothing holds a ring that its seat has let go", () => {
    const { result } = makeFixture();
    const said = (unheldRings: RunResult["unheldRings"]) => verdict({ ...result, unheldRings }).at(-1);
    expect(said(["outer-b"])).toMatch(
      /the outer ring of bearing b is loose in the housing in the state “hot soak” \(at 80.°C\) and nothing holds it axially\.$/,
    );
    expect(said([])).toMatch(/and no fit keeps a loose ring from creeping\.$/);
  });

  it("tell how to set what sets the preload: a spacing, a spring, an adjuster, shims", () => {
    const { result } = makeFixture({ machinedOffsetMm: 0.09 });
    const said = (method: RunResult["method"]) => verdict({ ...result, method }).join(" ");
    expect(said("position")).toMatch(
      /On the drawing, increase the housing spacing \(or reduce the shaft spacing\) by about/,
    );
    expect(said("spring")).toMatch(/or take a longer spring/);
    expect(said("adjuster")).toMatch(
      /At assembly, set the adjuster [\d.]+.µm further on: the offset as set lies around/,
    );
    expect(said("shim")).toMatch(/At assembly, aim the shims [\d.]+.µm higher/);
  });
});
