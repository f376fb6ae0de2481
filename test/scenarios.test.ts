import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkScenario } from "../src/scenario/check.ts";
import { usualRange } from "../src/scenario/words.ts";
import { shipped } from "./support/shipped.ts";

const folder = new URL("../scenarios/", import.meta.url);
const files = readdirSync(folder).filter((file) => file.endsWith(".yaml"));
const read = (file: string) => readFileSync(new URL(file, folder), "utf8");

describe("the scenarios that come with the program", () => {
  it("are at least four", () => {
    expect(files.length).toBeGreaterThanOrEqual(4);
  });

  it.each(files)("%s resolves without a problem or a caution", (file) => {
    const scenario = shipped(file);
    expect(scenario.name).toBe(file.replace(".yaml", ""));
    expect(scenario.title).not.toBe("");
    expect(scenario.warnings).toEqual([]);
    expect(scenario.states.length).toBeGreaterThanOrEqual(2);
  });

  it.each(files)("%s says in its first line what it is, and explains itself in comments", (file) => {
    const lines = read(file).split("\n");
    expect(lines[0]).toMatch(/^# [A-Z].{20,}\.$/);
    expect(lines.filter((line) => line.includes("#")).length).toBeGreaterThanOrEqual(4);
  });

  it.each(files)("%s is an assembly that can be preloaded: nominal offset and limits of a drawing", (file) => {
    const scenario = shipped(file);
    const { nominalMm, worstCase } = checkScenario(scenario);
    // A spring adds what it is pressed by; adjusters and shims take up a wider spread; ground bearings need no offset of spacers.
    const { kind } = scenario.method;
    const isGround = scenario.bearings.a.kind === "angular-contact";
    expect(nominalMm).toBeGreaterThan(isGround ? -0.001 : 0.02);
    expect(nominalMm).toBeLessThan(kind === "spring" ? 5 : 0.4);
    expect(worstCase.highMm - worstCase.lowMm).toBeLessThan(kind === "position" ? 0.1 : 1);
    for (const { distribution, name } of scenario.variables) {
      const { low, high } = usualRange(distribution);
      expect(Number.isFinite(low) && low <= high, name).toBe(true);
    }
  });
});
