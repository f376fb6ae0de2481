import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { seatspread, workFolder } from "../support/cli.ts";

const folder = workFolder();
const FILE = "scenarios/press-roller-variants.yaml";
const SMALL = ["--samples", "4096"];

const COMMANDS: readonly (readonly [string, readonly string[], RegExp])[] = [
  ["compare", [FILE, ...SMALL], /Best is “shims by measured play”/],
  ["sweep", [FILE, "--over", "states.hot.housing=80..120 degC/3", ...SMALL], /The yield is greatest with/],
  ["centre", [FILE, "--resolution", "5 um", ...SMALL], /Change the axle spacer from 54\.000 mm to 54\.005 mm/],
  ["allocate", [FILE, "--yield", "90%", ...SMALL], /For 90 % good in every state draw/],
  ["shims", [FILE, ...SMALL], /Choose the shim of each unit by the measured play/],
  ["methods", [FILE, "--groups", "2", ...SMALL], /Most units are good in every state with/],
  ["contributors", [FILE, ...SMALL], /Which units fail is decided above all by/],
];

describe.each(COMMANDS)("%s", (name, args, words) => {
  it("prints its recommendation and writes page, data and figures", () => {
    const { code, stdout, stderr } = seatspread(folder, [name, ...args]);
    expect(stderr).not.toMatch(/internal/);
    expect(code).toBe(0);
    expect(stdout.replace(/\s+/g, " ")).toMatch(words);
    expect(stdout).not.toMatch(/NaN|undefined|Infinity/);
    const at = join(folder, "out/press-roller-variants", name);
    for (const file of ["report.html", "result.json", "summary.arrow"])
      expect(existsSync(join(at, file)), file).toBe(true);
    const page = readFileSync(join(at, "report.html"), "utf8");
    expect(page).not.toMatch(/NaN|undefined|<script/);
    const result = JSON.parse(readFileSync(join(at, "result.json"), "utf8"));
    expect(result.study).toBe(name);
    expect(result.verdict.length).toBeGreaterThan(0);
  });
});

it("--json prints what is written, the same as without it", () => {
  const [name, args] = COMMANDS[2];
  const { stdout } = seatspread(folder, [name, ...args, "--json", "--out", "again"]);
  for (const out of ["out", "again"]) {
    expect(readFileSync(join(folder, out, "press-roller-variants", name, "result.json"), "utf8")).toBe(stdout);
  }
});

describe("exit codes of decisions", () => {
  it("1 where no tolerances reach the yield, 2 for what is not there, and nothing written", () => {
    const none = seatspread(folder, ["allocate", "scenarios/laminating-roller.yaml", "--yield", "95%", ...SMALL]);
    expect(none.code).toBe(1);
    expect(none.stdout).toContain("No tolerances of the spacings reach 95 %");
    for (const args of [
      ["compare", FILE, "--with", "x: bearings.both.clearanceGroup=C9"],
      ["sweep", FILE, "--over", "states.hott.housing=60..80 degC/3"],
      ["centre", FILE, "--member", "no such"],
      ["allocate", FILE, "--yield", "120%"],
      ["methods", FILE, "--price", "magic=3"],
      ["centre", "scenarios/encoder-stage.yaml"],
    ]) {
      const { code, stdout } = seatspread(folder, [...args, "--out", "bad"]);
      expect(code, args.join(" ")).toBe(2);
      expect(stdout).toBe("");
    }
    expect(existsSync(join(folder, "bad/press-roller-variants/compare"))).toBe(false);
  });
});
