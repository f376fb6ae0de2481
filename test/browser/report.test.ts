import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { renderReport } from "../../src/report/render.ts";
import { verdict } from "../../src/report/verdict.ts";
import { launchBrowser } from "../support/browser.mjs";
import { textContrasts } from "../support/contrast.ts";
import { HOSTILE, poisoned } from "../support/hostile.ts";
import { makeFixture } from "../support/result-fixture.ts";

let browser: Browser;
let folder: string;

/** What a page asked for and said while it was open. */
interface Opened {
  readonly page: Page;
  readonly requests: string[];
  readonly complaints: string[];
}

async function open(
  name: string,
  html: string,
  width: number,
  colorScheme: "light" | "dark" = "light",
): Promise<Opened> {
  const file = join(folder, `${name}.html`);
  await writeFile(file, html);
  const context = await browser.newContext({ viewport: { width, height: 900 }, colorScheme });
  const page = await context.newPage();
  const requests: string[] = [];
  const complaints: string[] = [];
  page.on("request", (request) => requests.push(request.url()));
  page.on("console", (message) => complaints.push(message.text()));
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("dialog", async (dialog) => {
    complaints.push(`dialog: ${dialog.message()}`);
    await dialog.dismiss();
  });
  await page.goto(pathToFileURL(file).href);
  return { page, requests, complaints };
}

const { result, samples } = makeFixture();
const report = renderReport({ ...result, verdict: verdict(result) }, samples);

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seatspread-report-"));
  browser = await launchBrowser();
});

afterAll(async () => {
  await browser?.close();
  if (folder !== undefined) await rm(folder, { recursive: true, force: true });
});

describe("the report in a browser", () => {
  it("asks for nothing but itself and complains of nothing", async () => {
    const { page, requests, complaints } = await open("plain", report, 1280);
    expect(requests.filter((url) => !url.startsWith("data:"))).toEqual([page.url()]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it.each([320, 390, 768, 1280])(
    "does not run over sideways at %d px; wide tables scroll in their own box",
    async (width) => {
      const { page } = await open(`width-${width}`, report, width);
      const [content, view] = await page.evaluate(() => [document.documentElement.scrollWidth, window.innerWidth]);
      expect(content).toBeLessThanOrEqual(view as number);
      await page.context().close();
    },
  );

  it("shows one picture of each figure, with a name, and no text in it below 11 px", async () => {
    for (const width of [390, 1280]) {
      const { page } = await open(`names-${width}`, report, width);
      await expect(page.getByRole("img").count()).resolves.toBe(6);
      const unnamed = await page.locator('svg:not([aria-hidden="true"]):not([aria-label])').count();
      expect(unnamed).toBe(0);
      const smallest = await page.evaluate(() => {
        let least = Number.POSITIVE_INFINITY;
        for (const text of document.querySelectorAll<SVGTextElement>("figure svg[role=img] text")) {
          const svg = text.ownerSVGElement;
          const box = svg?.getBoundingClientRect();
          if (svg === null || box === undefined || box.width === 0) continue;
          const scale = box.width / svg.viewBox.baseVal.width;
          least = Math.min(least, Number.parseFloat(getComputedStyle(text).fontSize) * scale);
        }
        return least;
      });
      expect(smallest).toBeGreaterThanOrEqual(11);
      await page.context().close();
    }
  });

  it("keeps the labels of every picture inside the page", async () => {
    for (const width of [390, 1280]) {
      const { page } = await open(`labels-${width}`, report, width);
      const outside = await page.evaluate(() =>
        [...document.querySelectorAll("figure svg[role=img] text")]
          .map((text) => ({ words: text.textContent, box: text.getBoundingClientRect() }))
          .filter(({ box }) => box.width > 0 && (box.left < 0 || box.right > window.innerWidth))
          .map(({ words }) => words),
      );
      expect(outside).toEqual([]);
      await page.context().close();
    }
  });

  it("has a dark and a light look, with text that stands out from the page by 4.5 or more (WCAG 2.2, 1.4.3)", async () => {
    for (const scheme of ["light", "dark"] as const) {
      const { page } = await open(`scheme-${scheme}`, report, 1280, scheme);
      const ratios = await textContrasts(page, "h1,h2,h3,p,th,td,figcaption,li,code,summary,.cell span,footer");
      expect(ratios.length).toBeGreaterThan(100);
      expect(Math.min(...ratios), scheme).toBeGreaterThanOrEqual(4.5);
      await page.context().close();
    }
  });

  it("copies the callouts by its button, and has them as text that one click selects", async () => {
    const { page, complaints } = await open("copy", report, 1280);
    await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
    const callouts = await page.locator("#callouts").textContent();
    expect(callouts).toContain("preload wanted in every state: ");
    await page.getByRole("button", { name: "Copy the callouts" }).click();
    await page.getByText("Copied.").waitFor();
    await expect(page.evaluate(() => navigator.clipboard.readText())).resolves.toBe(callouts);
    await page.locator("#callouts").click();
    await expect(page.evaluate(() => String(getSelection()))).resolves.toBe(callouts);
    expect(complaints).toEqual([]);
    await page.emulateMedia({ media: "print" });
    await expect(page.locator(".copy").isVisible()).resolves.toBe(false);
    await expect(page.locator("#callouts").isVisible()).resolves.toBe(true);
    await page.context().close();
  });

  it("prints to pages", async () => {
    const { page } = await open("print", report, 1280);
    for (const format of ["A4", "Letter"]) {
      const paper = (await page.pdf({ format })).toString("latin1");
      const pages = paper.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
      expect(pages).toBeGreaterThanOrEqual(4);
      expect(pages).toBeLessThanOrEqual(14);
    }
    await page.context().close();
  });

  it("runs nothing that a hostile scenario brings, and shows it as text", async () => {
    const bad = poisoned(result, new Set(["outcome", "method", "origin", "group", "unit", "code", "arrangement"]));
    const { page, requests, complaints } = await open(
      "hostile",
      renderReport({ ...bad, verdict: [HOSTILE] }, samples),
      390,
    );
    expect(complaints).toEqual([]);
    expect(requests.filter((url) => !url.startsWith("data:"))).toEqual([page.url()]);
    await expect(page.locator("h1").textContent()).resolves.toContain("<script>alert(1)</script>");
    const [content, view] = await page.evaluate(() => [document.documentElement.scrollWidth, window.innerWidth]);
    expect(content).toBeLessThanOrEqual(view as number);
    await page.context().close();
  });
});
