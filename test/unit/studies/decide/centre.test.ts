import { describe, expect, it } from "vitest";
import { compilePlan } from "../../../../src/model/plan.ts";
import { centreVerdict, centreView } from "../../../../src/report/decide/centre.ts";
import { decisionPage } from "../../../../src/report/decide/view.ts";
import { drawFates } from "../../../../src/studies/decide/assess.ts";
import { centreNominal } from "../../../../src/studies/decide/centre.ts";
import { centreRows } from "../../../../src/tables/decide.ts";
import { problemsOf } from "../../../support/scenario.ts";
import { shippedVariable, TEST_MAKER } from "../../../support/variable.ts";

const FILE = "press-roller-variants.yaml";
const request = {
  resolutionMm: 0.002,
  member: "axle spacer",
  prices: null,
  size: { points: 512, samples: 16_384 },
  maker: TEST_MAKER,
};

/** Counts of units of another seed with the spacer at a nominal: bad at the bench and in service, and how many there are. */
function plainly(nominalMm: number) {
  const samples = 60_000;
  const changes = { "chain.axle spacer.length": `${nominalMm.toFixed(4)} ±0.005`, seed: "counted" };
  const scenario = shippedVariable(FILE, changes).base;
  const { fates } = drawFates(scenario, compilePlan(scenario), samples);
  const share = (fate: number) => fates.filter((value) => value === fate).length / samples;
  return { good: share(0), bench: share(1), service: share(2), sd: Math.sqrt((share(0) * (1 - share(0))) / samples) };
}

describe("the best nominal", () => {
  const result = centreNominal(shippedVariable(FILE).base, request);

  it("is no worse than any nominal up to 12 µm away, each counted plainly on units of another seed", () => {
    const best = plainly(result.member.toMm);
    expect(Math.abs(best.good - result.rounded.good.ratio)).toBeLessThan(4.5 * best.sd + 5e-4);
    for (const step of [-0.012, -0.006, 0.006, 0.012]) {
      const other = plainly(result.member.toMm + step);
      expect(other.good, String(step)).toBeLessThan(best.good + 3 * best.sd);
    }
  });

  it("stands on the grid of the drawing, with what a step costs as plain counts give it", () => {
    expect(result.member.toMm / 0.002).toBeCloseTo(Math.round(result.member.toMm / 0.002), 6);
    const best = plainly(result.member.toMm);
    const step = plainly(result.steps[1].nominalMm);
    expect(Math.abs(result.steps[1].lost.differenceRatio - (step.good - best.good))).toBeLessThan(5 * best.sd);
  });

  it("that is the cheapest costs a good unit what plain counts give, less than its neighbours", () => {
    const prices = { scrap: 20, warranty: 300, currency: "EUR" };
    const cheap = centreNominal(shippedVariable(FILE).base, { ...request, prices });
    const cost = (nominalMm: number) => {
      const { good, bench, service } = plainly(nominalMm);
      return (prices.scrap * bench + prices.warranty * service) / good;
    };
    expect(cheap.objective).toBe("cost");
    expect(cost(cheap.member.toMm)).toBeCloseTo(cheap.rounded.costPerGoodUnit!.mean, 0);
    expect(cost(cheap.member.toMm - 0.008)).toBeGreaterThan(cost(cheap.member.toMm));
    expect(cost(cheap.member.toMm + 0.008)).toBeGreaterThan(cost(cheap.member.toMm));
    // Failures in service are dear: the cheapest nominal leaves fewer of them than the one with the most good units.
    expect(cheap.rounded.service.ratio).toBeLessThan(result.rounded.service.ratio);
  });

  it("says which dimension to change to what", () => {
    const full = { ...result, verdict: centreVerdict(result) };
    expect(full.verdict[0]).toMatch(/^Change the axle spacer from 54\.000\u00a0mm to 54\.00\d\u00a0mm/);
    expect(decisionPage(full, centreView(full))).toContain("What a nominal gives");
    expect(centreRows(full).length).toBeGreaterThan(60);
  });

  it("is not looked for where a device sets the preload, nor for a member that is not there", () => {
    const shim = { method: "shim", shim: { measure: "play", step: "10 um" } };
    const [problem] = problemsOf(() => centreNominal(shippedVariable(FILE, { preload: shim }).base, request));
    expect(problem.code).toBe("not-supported");
    const [unknown] = problemsOf(() => centreNominal(shippedVariable(FILE).base, { ...request, member: "shaft" }));
    expect(unknown.expected).toContain("axle spacer");
  });
});
