import { createHash } from "node:crypto";
import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { escapeText } from "../../src/report/html.ts";
import { renderReport } from "../../src/report/render.ts";
import { verdict } from "../../src/report/verdict.ts";
import type { RunResult, SampleTable } from "../../src/studies/result.ts";
import { HOSTILE, poisoned } from "../support/hostile.ts";
import { type FixtureOptions, makeFixture, THREE_STATES } from "../support/result-fixture.ts";

function rendered(options: FixtureOptions = {}): string {
  const { result, samples } = makeFixture(options);
  return renderReport({ ...result, verdict: verdict(result) }, samples);
}

function documentOf(page: string): Document {
  return parseHTML(page).document as unknown as Document;
}

const page = rendered();
const document = documentOf(page);

describe("the report", () => {
  it("is one file that names no address and runs nothing but the button that copies, to the letter", () => {
    const [script, ...others] = [...page.matchAll(/<script>([\s\S]*?)<\/script>/g)].map(([, text]) => text!);
    expect(others).toEqual([]);
    const hash = createHash("sha256").update(script!).digest("base64");
    expect(page).not.toMatch(/<script(?!>)|<link(?! rel="icon" href="data:,")|<iframe|<object|@import|url\((?!#)/i);
    const addresses = page.match(/https?:\/\/[^"'\s<]+/g) ?? [];
    // The namespaces of SVG are names, not addresses that are fetched.
    expect(addresses.filter((address) => !address.startsWith("http://www.w3.org/"))).toEqual([]);
    const policy = document.querySelector('meta[http-equiv="Content-Security-Policy"]')?.getAttribute("content");
    expect(policy).toBe(`default-src 'none'; style-src 'unsafe-inline'; img-src data:; script-src 'sha256-${hash}'`);
  });

  it("starts with title, verdict and key figures, in the order of decisions", () => {
    const headings = [...document.querySelectorAll("h1,h2")].map((heading) => heading.textContent);
    expect(headings).toEqual([
      "Test roller on a steel axle",
      "What drives it",
      "What to change",
      "What happens to the units",
      "Outcome shares",
      "Preload and play",
      "Other things seen",
      "At nominal values",
      "Assumptions",
      "Inputs",
      "Warnings",
      "Method and checks",
      "Cautions",
    ]);
    expect(page.indexOf('class="lead"')).toBeLessThan(page.indexOf('class="block"'));
    expect(page.indexOf('class="block"')).toBeLessThan(page.indexOf("<figure>"));
    const figures = [...document.querySelectorAll("figure h3")].map((heading) => heading.textContent);
    expect(figures.slice(0, 2)).toEqual(["What costs yield", "What spreads the preload"]);
    expect(figures.at(-1)).toBe("Radial clearance before and after mounting");
  });

  it("gives every picture a name, a caption and the same as a table", () => {
    const figures = [...document.querySelectorAll("figure")];
    expect(figures.length).toBe(6);
    for (const figure of figures) {
      const title = figure.querySelector("h3")?.textContent ?? "";
      const pictures = [...figure.querySelectorAll('svg[role="img"]')];
      expect(pictures.length, title).toBe(2);
      for (const picture of pictures) expect(picture.getAttribute("aria-label"), title).toContain(title);
      expect(figure.querySelector("figcaption .drawn")?.textContent, title).toMatch(/\bunits?\b/);
      expect(figure.querySelectorAll("details tbody tr").length, title).toBeGreaterThan(0);
    }
    const unnamed = [...document.querySelectorAll("svg")].filter(
      (svg) => svg.getAttribute("role") !== "img" && svg.getAttribute("aria-hidden") !== "true",
    );
    expect(unnamed.length).toBe(0);
  });

  it("counts in the caption what a figure leaves out", () => {
    const { result, samples } = makeFixture();
    const column = samples.columns.find(({ name }) => name === "bench.preloadN");
    const withoutPreload = Array.from(column?.values ?? []).filter((force) => force === 0).length;
    expect(withoutPreload).toBe(result.states[0]?.outcomes.play.count);
    const figure = [...document.querySelectorAll("figure")].find((each) =>
      each.querySelector("h3")?.textContent?.startsWith("Preload in each state"),
    );
    const caption = figure?.querySelector(".drawn")?.textContent ?? "";
    expect(caption).toContain(`Bench, 20 °C: not drawn are ${withoutPreload} without preload`);
  });

  it("says which figure for the onset is which", () => {
    const heads = [...document.querySelectorAll("th")].map((cell) => cell.textContent);
    expect(heads).toContain("pair starts to carry");
    expect(heads).toContain("sum of plays (shop rule)");
    expect(document.body.textContent).toContain("half the sum of the two axial plays");
  });

  it("prints an input that is alike for both bearings once, with both places, and any other one by itself", () => {
    const { result, samples } = makeFixture();
    const input = {
      label: "bore of bearing a",
      value: "17 mm",
      origin: "given",
      source: "",
      path: "bearings.a.bore",
    } as const;
    const twin = { ...input, label: "bore of bearing b", path: "bearings.b.bore" };
    const other = { ...twin, label: "width of bearing b", path: "bearings.b.width" };
    const tree = documentOf(renderReport({ ...result, inputs: [input, twin, other], verdict: ["x"] }, samples));
    const heads = [...tree.querySelectorAll('[aria-label="Inputs"] tbody th')].map((cell) => cell.innerHTML);
    expect(heads).toEqual([
      "bore of bearings a and b<br><code>bearings.a.bore</code><br><code>bearings.b.bore</code>",
      "width of bearing b<br><code>bearings.b.width</code>",
    ]);
  });

  it("hatches every class but the window, so that no meaning hangs on colour alone", () => {
    const outcomes = [...document.querySelectorAll("figure")].find((each) =>
      each.querySelector("h3")?.textContent?.startsWith("What becomes of the units"),
    );
    const pictures = outcomes?.querySelector(".wide")?.innerHTML ?? "";
    for (const hatch of ["hatch-fall", "hatch-rise", "hatch-dots"]) expect(pictures).toContain(`url(#${hatch}`);
    for (const [, id] of page.matchAll(/url\(#([\w-]+)\)/g)) expect(page).toContain(`id="${id}"`);
  });

  it("is the same to the byte when rendered again", () => {
    expect(rendered()).toBe(page);
  });

  it("uses each id once", () => {
    const ids = [...page.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });
});

describe("text from a scenario", () => {
  const fixedWords = new Set(["outcome", "kind", "method", "origin", "group", "unit", "code", "arrangement"]);

  function renderPoisoned(): string {
    const { result, samples } = makeFixture();
    const bad = poisoned(result, fixedWords);
    const columns = samples.columns.map((column) => ({
      ...column,
      // Column names follow the names of states, so the figures are drawn from them too.
      name: /^(bench|warm|hot)\./.test(column.name)
        ? column.name.replace(/^\w+/, (state) => `${state}${HOSTILE}`)
        : column.name,
      description: `${column.description}${HOSTILE}`,
    }));
    return renderReport({ ...bad, verdict: [...verdict(bad), HOSTILE] }, { count: samples.count, columns });
  }

  it("is escaped wherever it stands: no element and no attribute comes of it", () => {
    const bad = renderPoisoned();
    const clean = page;
    expect(bad).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
    expect(bad).not.toMatch(/<script(?!>for\()|<img|<svg onload/i);
    const tree = documentOf(bad);
    expect(tree.querySelectorAll("img").length).toBe(0);
    const own = document.querySelector("script")?.textContent;
    expect([...tree.querySelectorAll("script")].map((script) => script.textContent)).toEqual([own]);
    const handlers = [...tree.querySelectorAll("*")].flatMap((element) =>
      [...element.attributes].filter(({ name }) => name.startsWith("on")).map(({ name }) => name),
    );
    expect(handlers).toEqual([]);
    expect(tree.querySelectorAll("style").length).toBe(documentOf(clean).querySelectorAll("style").length);
    expect(tree.querySelectorAll("figure").length).toBe(6);
  });

  it("loses control characters", () => {
    expect(renderPoisoned()).not.toMatch(/[^\P{Cc}\t\n]/u);
    expect(escapeText("a\u0000b\u001b[31mc\td")).toBe("ab[31mc\td");
  });

  it("may look like numbers or dates, or be the same twice, without a figure going wrong", () => {
    const labels = ["2024-01-01", "20", "20"];
    const complaints: unknown[] = [];
    const warn = console.warn;
    console.warn = (...words) => complaints.push(words);
    const states = THREE_STATES.map((state, index) => ({ ...state, label: labels[index] ?? "" }));
    const text = rendered({ states });
    console.warn = warn;
    expect(complaints).toEqual([]);
    expect(text).not.toContain("⚠");
    expect(text).toContain("20 (warm)");
    expect(text).toContain("20 (hot)");
  });

  it("is shown as it was written", () => {
    const { result, samples } = makeFixture();
    const title = `Roller <b>"A & B"</b> 'c'`;
    const tree = documentOf(renderReport({ ...result, title, verdict: ["x"] }, samples));
    expect(tree.querySelector("h1")?.textContent).toBe(title);
    expect(tree.querySelector("title")?.textContent).toBe(title);
  });
});

describe("results at the edge", () => {
  const cases: Record<string, FixtureOptions> = {
    "one unit in one state": { units: 1, states: THREE_STATES.slice(0, 1), batchSize: 1 },
    "no units at all": { units: 0 },
    "every unit without preload": { machinedOffsetMm: 0.02 },
    "every unit past the bind limit": { machinedOffsetMm: 0.3 },
    "every unit the wrong way round": { machinedOffsetMm: -0.106 },
    "no spread of the offset": { offsetSdMm: 0 },
    "a huge range": { offsetSdMm: 5 },
    "no required yield": { requiredYieldRatio: null },
    "states that exclude each other": {
      states: THREE_STATES.map((state, index) => ({ ...state, shiftMm: index * 0.04 })),
    },
  };

  it.each(Object.keys(cases))("print no NaN, undefined or Infinity: %s", (name) => {
    const text = rendered(cases[name]);
    expect(text).not.toMatch(/NaN|undefined|Infinity|∞|\[object/);
    expect(documentOf(text).querySelector("h1")?.textContent).toBe("Test roller on a steel axle");
  });

  it("leave out the figures whose columns were not kept, and keep the rest", () => {
    const { result } = makeFixture();
    const none: SampleTable = { count: 0, columns: [] };
    const full: RunResult = { ...result, verdict: verdict(result) };
    expect(documentOf(renderReport(full, none)).querySelectorAll("figure").length).toBe(3);
    const { contributors } = result;
    const bare = { ...full, contributors: { ...contributors, yieldGain: [], preloadVariance: [], assumptions: [] } };
    expect(documentOf(renderReport(bare, none)).querySelectorAll("figure").length).toBe(1);
  });

  it("show the bound that a count of nothing leaves", () => {
    const { result } = makeFixture();
    const { highRatio, count } = result.states[0]?.outcomes.reversed ?? { highRatio: 0, count: 1 };
    expect(count).toBe(0);
    expect(page).toContain(`below ${Math.round(highRatio * 1e6)}\u00a0ppm`);
  });
});
