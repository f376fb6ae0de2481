import { describe, expect, it } from "vitest";
import { compilePlan } from "../../../../src/model/plan.ts";
import { contributorsVerdict, contributorsView } from "../../../../src/report/decide/contributors.ts";
import { decisionPage } from "../../../../src/report/decide/view.ts";
import { createAssessor } from "../../../../src/studies/decide/assess.ts";
import { studyContributors } from "../../../../src/studies/decide/contributors.ts";
import { drawnMembers, withDimensions } from "../../../../src/studies/decide/moved.ts";
import { contributorRows } from "../../../../src/tables/contributors.ts";
import { shippedVariable, TEST_MAKER } from "../../../support/variable.ts";

const { base } = shippedVariable("laminating-roller.yaml");
const size = { points: 1024, samples: 65_536 };
const result = studyContributors(base, { size, maker: TEST_MAKER });

describe("slopes of the yield", () => {
  const assessor = createAssessor({ points: 2048, samples: 1024 });
  const members = drawnMembers(base, compilePlan(base));

  it.each(["housing shoulder spacing", "shaft spacer"])(
    "of the %s are what a changed drawing gives, integrated",
    (name) => {
      const member = members.find((candidate) => candidate.name === name)!;
      const slope = result.slopes.find((candidate) => candidate.name === `chain.${name}`)!;
      const good = (shiftMm: number, toleranceRatio: number) =>
        assessor.assess(withDimensions(base, [{ member, shiftMm, toleranceRatio }])).shares.good.ratio;
      const byMean = (good(0.1 * slope.sd, 1) - good(-0.1 * slope.sd, 1)) / 2;
      const bySpread = (good(0, 1.1) - good(0, 0.9)) / 2;
      const half = (estimate: typeof slope.byTenthOfSd) => 0.5 * (estimate.highRatio - estimate.lowRatio);
      // 2.3 half-widths are 4.5 standard errors; a truncated normal's score differs from its mean's by a few per cent.
      const allowed = (estimate: typeof slope.byTenthOfSd, value: number) =>
        2.3 * half(estimate) + 0.06 * Math.abs(value);
      expect(Math.abs(slope.byTenthOfSd.changeRatio - byMean)).toBeLessThan(allowed(slope.byTenthOfSd, byMean));
      expect(Math.abs(slope.byTenPercentSpread.changeRatio - bySpread)).toBeLessThan(
        allowed(slope.byTenPercentSpread, bySpread),
      );
      expect(Math.sign(slope.byTenthOfSd.changeRatio)).toBe(name === "shaft spacer" ? 1 : -1);
    },
  );
});

describe("indices of the causes", () => {
  it("of the preload: first order sums to less than 1 and stays below the total, as far as their intervals tell", () => {
    for (const [s, state] of base.states.entries()) {
      const sum = result.causes.reduce((total, cause) => total + cause.preload[s].firstOrder.indexRatio, 0);
      expect(sum, state.name).toBeLessThan(1.05);
      for (const cause of result.causes) {
        const { firstOrder, total } = cause.preload[s];
        expect(firstOrder.lowRatio, cause.cause).toBeLessThan(total.highRatio + 1e-9);
      }
    }
  });

  it("give nothing to what cannot matter: the temperature of a state to the preload of another", () => {
    const hot = result.causes.find(({ cause }) => cause.includes("temperature of the housing (hot"))!;
    const bench = hot.preload.find(({ state }) => state === "bench")!;
    expect(bench.total.indexRatio).toBe(0);
  });

  it("say themselves in words, on a page and as rows", () => {
    const full = { ...result, verdict: contributorsVerdict(result) };
    expect(full.verdict[0]).toMatch(/^Which units fail is decided above all by/);
    expect(decisionPage(full, contributorsView(full))).toContain("Which causes decide");
    expect(contributorRows(full).some(({ measure }) => measure === "yield slope")).toBe(true);
  });
});
