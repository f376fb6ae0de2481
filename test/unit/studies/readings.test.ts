import { describe, expect, it } from "vitest";
import { compilePlan } from "../../../src/model/plan.ts";
import { evaluateNominal } from "../../../src/studies/nominal.ts";
import { resolved } from "../../support/scenario.ts";

describe("a length known from two readings, whose Student's t has no mean", () => {
  const scenario = resolved({
    "chain.spacer.length": { readings: ["40.000 mm", "40.002 mm"] },
    "chain.spacer.area": "200 mm2",
  });

  it("stands at the mean of the readings in the plan and the nominal assembly", () => {
    const plan = compilePlan(scenario);
    const { youngsModulusMPa } = scenario.chain.find(({ name }) => name === "spacer")!.material;
    expect(plan.complianceMmPerN).toBeCloseTo(40.001 / (youngsModulusMPa * 200), 15);
    const nominal = evaluateNominal(scenario);
    expect(nominal.machinedOffsetMm).toBeCloseTo(40.13 - 40.001, 12);
    expect(Number.isFinite(nominal.states[0].onsetMm)).toBe(true);
  });
});
