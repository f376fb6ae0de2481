import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect } from "vitest";
import { launchBrowser } from "./browser.mjs";
import { seatspread, workFolder } from "./cli.ts";

export interface Opened {
  readonly page: Page;
  readonly requests: string[];
  readonly complaints: string[];
}

/** A browser and a folder for the tests of one file, with what they do over and over. */
export function workbench() {
  const folder = workFolder();
  let browser: Browser;

  beforeAll(async () => {
    browser = await launchBrowser();
  }, 60_000);

  afterAll(async () => {
    await browser?.close();
  });

  /** A shipped scenario with fewer units, so that a whole run is done soon. */
  const small = (name: string, samples = 5000): string => {
    const text = readFileSync(join(folder, "scenarios", name), "utf8").replace(/^samples:.*$/m, "");
    const file = `scenarios/small-${name}`;
    writeFileSync(join(folder, file), `${text}\nsamples: ${samples}\n`);
    return file;
  };

  /** The page of a scenario, written to a file. */
  const saved = (scenario: string): string => {
    const page = `${scenario.replace(/[/.]/g, "-")}.html`;
    const { code, stderr } = seatspread(folder, ["workbench", scenario, "--save", page]);
    expect(stderr).toBe("");
    expect(code).toBe(0);
    return pathToFileURL(join(folder, page)).href;
  };

  const open = async (url: string, width = 1280, colorScheme: "light" | "dark" = "light"): Promise<Opened> => {
    const context = await browser.newContext({ viewport: { width, height: 900 }, colorScheme, acceptDownloads: true });
    const page = await context.newPage();
    page.setDefaultTimeout(50_000);
    const requests: string[] = [];
    const complaints: string[] = [];
    page.on("request", (request) => requests.push(request.url()));
    page.on("console", (message) => complaints.push(message.text()));
    page.on("pageerror", (error) => complaints.push(error.message));
    await page.goto(url);
    await settled(page);
    return { page, requests, complaints };
  };

  const download = async (page: Page, act: () => Promise<unknown>): Promise<{ text: string; bytes: Buffer }> => {
    const [file] = await Promise.all([page.waitForEvent("download"), act()]);
    mkdirSync(join(folder, "downloads"), { recursive: true });
    const path = join(folder, "downloads", file.suggestedFilename());
    await file.saveAs(path);
    const bytes = readFileSync(path);
    return { text: bytes.toString("utf8"), bytes };
  };

  /** What the page finds, as the file it gives, but for the name of the platform. */
  const resultOf = async (page: Page): Promise<Record<string, unknown>> => {
    const { text } = await download(page, () => page.locator("#export").selectOption("json"));
    return withoutPlatform(text);
  };

  /** What the command line finds for a file, but for the name of the platform. */
  const commandLine = (scenario: string): Record<string, unknown> => {
    const { stdout, code } = seatspread(folder, ["run", scenario, "--json", "--quiet"]);
    expect([0, 1]).toContain(code);
    return withoutPlatform(stdout);
  };

  return { folder, small, saved, open, download, resultOf, commandLine };
}

/** Waits until the whole run of what was last asked is shown. */
export async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => document.body.dataset.whole === "yes" && document.body.dataset.problems === "no");
}

function withoutPlatform(json: string): Record<string, unknown> {
  const result = JSON.parse(json);
  delete result.provenance.platform;
  return result;
}
