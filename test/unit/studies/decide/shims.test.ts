import { describe, expect, it } from "vitest";
import { compilePlan } from "../../../../src/model/plan.ts";
import { shimsVerdict, shimsView } from "../../../../src/report/decide/shims.ts";
import { decisionPage } from "../../../../src/report/decide/view.ts";
import { drawFates } from "../../../../src/studies/decide/assess.ts";
import { planShims, USUAL_STEPS_MM } from "../../../../src/studies/decide/shims.ts";
import { shimsRows } from "../../../../src/tables/shims.ts";
import { problemsOf } from "../../../support/scenario.ts";
import { shippedVariable, TEST_MAKER } from "../../../support/variable.ts";

const source = shippedVariable("press-roller-variants.yaml");
const request = {
  measure: null,
  stepsMm: USUAL_STEPS_MM,
  error: null,
  batchSize: 250,
  serviceRatio: 0.95,
  member: null,
  size: { points: 256, samples: 16_384 },
  maker: TEST_MAKER,
};
const result = planShims(source, request);

describe("a shim plan", () => {
  it("gives the yields that the whole model gives with the same shims on the same units, to the unit", () => {
    for (const row of result.rows.filter(({ stepMm }) => stepMm === 0.02)) {
      const scenario = source.vary([
        {
          path: "preload",
          value: {
            method: "shim",
            shim: { measure: row.measure, step: "0.02 mm", error: "0 ±3 um", aim: `${row.aimMm} mm` },
          },
        },
      ]);
      const { fates } = drawFates(scenario, compilePlan(scenario), 16_384);
      const good = fates.filter((fate) => fate === 0).length;
      expect(Math.abs(good - Math.round(row.good.ratio * 16_384)), row.measure).toBeLessThanOrEqual(2);
    }
  });

  it("aims where no other aim does better: ± 6 µm lose", () => {
    const { aimMm, stepMm, measure } = result.chosen;
    const good = (aim: number) => {
      const shim = { measure, step: `${stepMm} mm`, error: "0 ±3 um", aim: `${aim} mm` };
      const scenario = source.vary([{ path: "preload", value: { method: "shim", shim } }]);
      return drawFates(scenario, compilePlan(scenario), 32_768).fates.filter((fate) => fate === 0).length;
    };
    const best = good(aimMm);
    expect(good(aimMm + 0.012)).toBeLessThanOrEqual(best);
    expect(good(aimMm - 0.012)).toBeLessThanOrEqual(best);
  });

  it("lists every thickness with its share, which sum to all units, and moves the offset the right way", () => {
    const sum = result.stock.reduce((total, { share }) => total + share.ratio, 0);
    expect(sum).toBeCloseTo(1, 12);
    for (const { thicknessMm, correctionMm } of result.stock) {
      // A thicker spacer on the shaft takes offset away.
      expect(thicknessMm).toBeCloseTo(54 - correctionMm, 9);
    }
    expect(result.coverRatio).toBeGreaterThanOrEqual(0.95);
  });

  it("is recommended in words", () => {
    const full = { ...result, verdict: shimsVerdict(result) };
    expect(full.verdict[0]).toMatch(
      /^Choose the shim of each unit by the measured play, from a stock in steps of \d+\.0\u00a0µm/,
    );
    expect(decisionPage(full, shimsView(full))).toContain("Stock for the batch");
    expect(shimsRows(full).some(({ measure }) => measure === "cover")).toBe(true);
  });

  it("is not made where windows do not decide what is good", () => {
    const spring = shippedVariable("encoder-stage.yaml");
    expect(problemsOf(() => planShims(spring, request)).length).toBeGreaterThan(0);
  });
});
