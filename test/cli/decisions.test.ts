import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { seatspread, workFolder } from "../support/cli.ts";

const folder = workFolder();
const FILE = "scenarios/press-roller-variants.yaml";
const SMALL = ["--samples", "4096"];

it("--json prints what is written, the same as without it", () => {
  const words = ["centre", FILE, ...SMALL];
  expect(seatspread(folder, words).code).toBe(0);
  const { stdout } = seatspread(folder, [...words, "--json", "--out", "again"]);
  for (const out of ["out", "again"]) {
    expect(readFileSync(join(folder, out, "press-roller-variants/centre/result.json"), "utf8")).toBe(stdout);
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
