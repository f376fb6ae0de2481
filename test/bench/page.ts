import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Page } from "playwright-core";
import { launchBrowser } from "../support/browser.mjs";
import { table } from "./compare.ts";

const PROGRAM = fileURLToPath(new URL("./seatspread.js", import.meta.url));

/** Not measured: the browser compiles the engine while it is first used. */
const WARM_UP = 8;

/** One change by hand, with the control that makes it; `values` are gone through in turn. */
interface Change {
  readonly name: string;
  readonly control: string;
  readonly values: readonly string[];
  /** Made while the whole run of the change before is under way, and not when all is at rest. */
  readonly isMeanwhile?: boolean;
}

const CLEARANCE_GROUP = {
  control: '[data-path="bearings.both.clearanceGroup"] select',
  values: ["1", "2", "3", "4"],
};

/** Every kind that the page offers for the heated roller: sliders, menus, and values as they stand in the file. */
const CHANGES: readonly Change[] = [
  slider("nominal offset", "chain.0.length", "nominal", steps(31.99, 0.0005)),
  slider("tolerance", "chain.0.length", "tolerance", steps(0.004, 0.0001)),
  { name: "clearance group", ...CLEARANCE_GROUP },
  { name: "class of bearing", control: '[data-path="bearings.both.toleranceClass"] select', values: ["0", "1", "2"] },
  slider("stand-out", "bearings.both.standOut", "tolerance", steps(4, 0.1)),
  text("fit", "seats.shaft.both.fit", ["20 g6", "20 h6", "20 js6", "20 k5"]),
  { name: "material", control: '[data-path="seats.housing.material"] select', values: ["2", "3", "4", "5"] },
  slider("clamp", "clamp.force", "nominal", steps(2000, 50)),
  slider("temperature", "states.2.housing", "nominal", steps(95, 0.5)),
  text("preload wanted", "window", ["50..500 N", "60..500 N", "60..550 N"]),
  { name: "group, during a whole run", ...CLEARANCE_GROUP, isMeanwhile: true },
];

/** A hand that goes on at this pace finds the whole run of its last change at work. */
const MEANWHILE_MS = 350;

/**
 * From a hand's change to the picture of 100 000 units painted, in Chromium.
 *
 * @param rounds changes measured of each kind
 */
export async function measurePage(scenario: string, rounds: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "seatspread-page-"));
  const browser = await launchBrowser();
  try {
    const saved = join(folder, "workbench.html");
    execFileSync(process.execPath, [PROGRAM, "workbench", scenario, "--save", saved], { stdio: "ignore" });
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    await page.goto(pathToFileURL(saved).href);
    const rows = [["change", "units", "median ms", "95 % ms", "most ms", "in the engine, median ms"]];
    for (const { name, control, values, isMeanwhile } of CHANGES) {
      const found: Painted[] = [];
      for (let round = 0; round < WARM_UP + rounds; round += 1) {
        if (isMeanwhile) await page.waitForTimeout(MEANWHILE_MS);
        else await settle(page);
        const one = await change(page, control, values[round % values.length]!);
        if (round >= WARM_UP) found.push(one);
      }
      const times = found.map(({ ms }) => ms);
      rows.push([
        name,
        String(Math.min(...found.map(({ units }) => units))),
        quantile(times, 0.5).toFixed(0),
        quantile(times, 0.95).toFixed(0),
        Math.max(...times).toFixed(0),
        quantile(
          found.map(({ engineMs }) => engineMs),
          0.5,
        ).toFixed(0),
      ]);
    }
    console.log(table(rows));
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

interface Painted {
  readonly ms: number;
  readonly engineMs: number;
  readonly units: number;
}

/** Selecting starts a whole run after the quick look; nothing of it is to run into the next measurement. */
async function settle(page: Page): Promise<void> {
  await page.waitForFunction(() => document.body.dataset.whole === "yes" || document.body.dataset.moving === "yes");
}

/** Makes one change as a hand would and waits for the first new headline to be painted. */
function change(page: Page, control: string, value: string): Promise<Painted> {
  return page.evaluate(
    async ([selector, wanted]) => {
      const input = document.querySelector(selector!) as HTMLInputElement | HTMLSelectElement;
      const begin = performance.now();
      input.value = wanted!;
      const isSlider = input.type === "range";
      if (isSlider) document.body.dataset.moving = "yes";
      else delete document.body.dataset.moving;
      input.dispatchEvent(new Event(isSlider ? "input" : "change", { bubbles: true }));
      await new Promise<void>((resolve) => {
        const observer = new MutationObserver(() => {
          observer.disconnect();
          // The frame after the change is painted when a message posted in it arrives.
          requestAnimationFrame(() => {
            const { port1, port2 } = new MessageChannel();
            port1.onmessage = () => resolve();
            port2.postMessage(null);
          });
        });
        observer.observe(document.body, { attributeFilter: ["data-answered"] });
      });
      const ms = performance.now() - begin;
      const basis = (document.querySelector(".basis")?.textContent ?? "").replace(/[\s\u202f\u00a0]/g, "");
      const [, units = "0", engineMs = "0"] = /(\d+)units.*?in(\d+)ms/.exec(basis) ?? [];
      return { ms, units: Number(units), engineMs: Number(engineMs) };
    },
    [control, value],
  );
}

function slider(name: string, path: string, role: string, values: readonly string[]): Change {
  return { name, control: `[data-path="${path}"] [data-role=${role}]`, values };
}

function text(name: string, path: string, values: readonly string[]): Change {
  return slider(name, path, "text", values);
}

function steps(from: number, by: number): string[] {
  return Array.from({ length: 40 }, (_, index) => String(Number((from + index * by).toFixed(6))));
}

function quantile(values: readonly number[], part: number): number {
  const sorted = values.slice().sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.ceil(part * sorted.length) - 1)] ?? Number.NaN;
}
