import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { applyOverrides, type Override } from "../../../src/scenario/overrides.ts";
import { parseScenario } from "../../../src/scenario/parse.ts";
import { readScenarioText } from "../../../src/scenario/read.ts";
import { rewriteScenario } from "../../../src/scenario/rewrite.ts";
import { SHIPPED } from "../../support/shipped.ts";

const ROLLER = readFileSync("scenarios/laminating-roller.yaml", "utf8");

function content(text: string): unknown {
  return readScenarioText(text, "x.yaml").content;
}

describe("changes written into a scenario's text", () => {
  it("leaves a text without changes as it is, to the letter", () => {
    expect(rewriteScenario(ROLLER, "x.yaml", [])).toBe(ROLLER);
  });

  it.each(SHIPPED)("reads back as the old content with the changes applied, and as the same scenario: %s", (file) => {
    const text = readFileSync(`scenarios/${file}`.replace("scenarios/scenarios/", "scenarios/"), "utf8");
    const changes: Override[] = [
      { path: "chain.0.length", value: "40.000 ±0.004" },
      { path: "bearings.both.toleranceClass", value: "5" },
      { path: "preload", value: { method: "position" } },
      { path: "batch.size", value: 77 },
      { path: "seed", value: "a: new # seed" },
    ];
    const changed = rewriteScenario(text, "x.yaml", changes);
    expect(content(changed)).toEqual(applyOverrides(content(text), changes));
  });

  it("keeps comments, order and the name of a member as its address", () => {
    const changed = rewriteScenario(ROLLER, "x.yaml", [{ path: "chain.shaft spacer.length", value: "31.770 ±0.003" }]);
    const before = ROLLER.split("\n");
    const after = changed.split("\n");
    expect(changed.match(/#.*/g)).toEqual(ROLLER.match(/#.*/g));
    expect(changed).toContain("length: 31.770 ±0.003");
    expect(after.length).toBeLessThanOrEqual(before.length + 3);
    expect(parseScenario(changed, "x.yaml").hash).toBe(
      parseScenario(ROLLER, "x.yaml", [{ path: "chain.shaft spacer.length", value: "31.770 ±0.003" }]).hash,
    );
  });

  it("changes one of two places that share an anchor, and not the other", () => {
    const text = readFileSync("scenarios/oven-conveyor-wheel.yaml", "utf8");
    const changes = [{ path: "bearings.both.balls.highest", value: "280 degC" }];
    const changed = content(rewriteScenario(text, "x.yaml", changes)) as {
      bearings: { both: Record<string, { highest: string }> };
    };
    expect(changed).toEqual(applyOverrides(content(text), changes));
  });

  it("refuses an address that leads nowhere, as a run does", () => {
    expect(() => rewriteScenario(ROLLER, "x.yaml", [{ path: "chain.no such.length", value: 1 }])).toThrow(InputError);
  });
});
