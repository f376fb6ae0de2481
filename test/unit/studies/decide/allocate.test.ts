import { describe, expect, it } from "vitest";
import { compilePlan } from "../../../../src/model/plan.ts";
import { allocateVerdict, allocateView } from "../../../../src/report/decide/allocate.ts";
import { decisionPage } from "../../../../src/report/decide/view.ts";
import { type AllocateRequest, allocate } from "../../../../src/studies/decide/allocate.ts";
import { createAssessor, drawFates } from "../../../../src/studies/decide/assess.ts";
import { drawnMembers } from "../../../../src/studies/decide/moved.ts";
import { asFree, continuousOptimum, priceAt, toleranceParts } from "../../../../src/studies/decide/tolerance-parts.ts";
import { allocateRows } from "../../../../src/tables/allocate.ts";
import { problemsOf, resolved } from "../../../support/scenario.ts";
import { shippedVariable, TEST_MAKER } from "../../../support/variable.ts";

const FILE = "feed-roller-tolerances.yaml";
const request: AllocateRequest = {
  targetRatio: 0.985,
  grid: { kind: "step", stepMm: 0.001 },
  resolutionMm: 0.001,
  movesNominal: true,
  member: "axle spacer",
  size: { points: 512, samples: 16_384 },
  maker: TEST_MAKER,
};
const result = allocate(shippedVariable(FILE), request);

/** The recommended drawing written into the scenario and counted plainly, other seed. */
function bruteForce(found: typeof result, samples = 80_000): { ratio: number; sd: number } {
  const base = shippedVariable(FILE).base;
  const members = drawnMembers(base, compilePlan(base));
  const changes: Record<string, unknown> = { seed: "brute force" };
  for (const { name, nominalMm, toleranceMm } of members) {
    const tolerance = found.members.find((member) => member.name === name)?.toMm ?? toleranceMm;
    const nominal = name === found.member.name ? found.member.toMm : nominalMm;
    changes[`chain.${name}.length`] = `${nominal.toFixed(4)} ±${tolerance.toFixed(4)}`;
  }
  const scenario = shippedVariable(FILE, changes).base;
  const { fates } = drawFates(scenario, compilePlan(scenario), samples);
  const ratio = fates.filter((fate) => fate === 0).length / samples;
  return { ratio, sd: Math.sqrt((ratio * (1 - ratio)) / samples) };
}

describe("the recommended tolerances", () => {
  it("reach the yield when the drawing is changed to them and other units are counted plainly", () => {
    const { ratio, sd } = bruteForce(result);
    expect(Math.abs(ratio - result.chosen!.good.ratio)).toBeLessThan(4.5 * sd + 1e-3);
    expect(ratio).toBeGreaterThan(0.985 - 3 * sd);
  });

  it("are not tighter than they need be: a micrometre more on each of the free ones misses the yield or the price gains nothing", () => {
    // The widest that is allowed for all of them gives less than the target, so that the target does bind.
    const widest = result.front.at(-1)!;
    expect(result.chosen!.cost).toBeLessThan(result.current.cost);
    expect(result.chosen!.good.lowRatio).toBeGreaterThanOrEqual(0.985);
    expect(result.chosen!.good.ratio).toBeLessThan(0.989);
    expect(widest.good.ratio).toBeLessThan(0.97);
  });

  it("cost no more than any set on a grid of 3 µm that takes as much of the spread, all sets looked at", () => {
    const base = shippedVariable(FILE).base;
    const { free } = toleranceParts(drawnMembers(base, compilePlan(base)), base.toleranceCosts);
    const budget = Math.sqrt(free.reduce((sum, { weight }, i) => sum + (weight * result.members[i].toMm!) ** 2, 0));
    let least = Number.POSITIVE_INFINITY;
    for (let a = 2; a <= 25; a += 3) {
      for (const b of [2, 6, 15]) {
        for (let c = 1; c <= 12; c += 1) {
          const ts = [a, b, c].map((um) => um / 1000);
          const takes = Math.sqrt(free.reduce((sum, { weight }, i) => sum + (weight * ts[i]) ** 2, 0));
          if (takes > budget) continue;
          least = Math.min(
            least,
            free.reduce((sum, part, i) => sum + priceAt(part, ts[i]), 0),
          );
        }
      }
    }
    expect(result.chosen!.cost).toBeLessThan(least + 0.02);
    const continuous = continuousOptimum(free, budget)!;
    expect(free.reduce((sum, part, i) => sum + priceAt(part, continuous[i]), 0)).toBeLessThan(
      result.chosen!.cost + 1e-9,
    );
    expect(asFree(free[0]).low).toBeCloseTo(0.002, 12);
  });

  it("tell what more money would buy as two plain assessments give it, within a quarter", () => {
    const roller = result.members.find(({ name }) => name === "roller shoulder spacing")!;
    const at = (um: number) => {
      const changes: Record<string, unknown> = {};
      for (const { name, nominalMm, toMm } of result.members) {
        const nominal = name === result.member.name ? result.member.toMm : nominalMm;
        const tolerance = name === roller.name ? um / 1000 : toMm!;
        changes[`chain.${name}.length`] = `${nominal.toFixed(4)} ±${tolerance.toFixed(5)}`;
      }
      const scenario = shippedVariable(FILE, changes).base;
      return createAssessor(request.size).assess(scenario).shares.good.ratio;
    };
    const t = 1000 * roller.toMm!;
    const gained = at(t - 1) - at(t + 1);
    const paid = 9 / (t - 1) - 9 / (t + 1);
    expect(roller.gainPerMoney! / (gained / paid)).toBeGreaterThan(0.75);
    expect(roller.gainPerMoney! / (gained / paid)).toBeLessThan(1.33);
  });

  it("may be grades of ISO 286-1: ± half of IT6 at 48 mm is 8 µm", () => {
    const grades = allocate(shippedVariable(FILE), { ...request, grid: { kind: "grades" }, targetRatio: 0.99 });
    const roller = grades.members.find(({ name }) => name === "roller shoulder spacing")!;
    const halves: Record<string, number> = { IT4: 3.5, IT5: 5.5, IT6: 8, IT7: 12.5, IT8: 19.5 };
    expect(1000 * roller.toMm!).toBeCloseTo(halves[roller.step], 9);
    expect(grades.chosen!.good.lowRatio).toBeGreaterThanOrEqual(0.99);
  });

  it("say themselves in words, on a page and as rows", () => {
    const full = { ...result, verdict: allocateVerdict(result) };
    expect(full.verdict[0]).toMatch(/^For 98\.5\u00a0% good in every state draw roller shoulder spacing ±/);
    expect(decisionPage(full, allocateView(full))).toContain("What a yield costs");
    expect(allocateRows(full).some(({ item }) => item === "recommended, by plain sampling")).toBe(true);
  });
});

describe("a yield that no tolerances reach", () => {
  it("is said so, with the best there is and what would help, the help that is enough named first", () => {
    const none = allocate(shippedVariable("laminating-roller.yaml"), { ...request, member: null, targetRatio: 0.95 });
    expect(none.isReachable).toBe(false);
    expect(none.bestReachable.good.ratio).toBeLessThan(0.4);
    const words = allocateVerdict(none);
    expect(words[0]).toMatch(/^No tolerances of the spacings reach 95\u00a0%/);
    expect(words[1]).toMatch(/^Enough would be/);
    expect(none.remedies.find(({ name }) => name === "clearance group C2")!.good.ratio).toBeGreaterThan(0.7);
  }, 60_000);
});

describe("prices", () => {
  it("are refused for a member that is not there, for two forms at once and for none", () => {
    const problem = (chain: unknown) => problemsOf(() => resolved({ toleranceCosts: { chain } }))[0];
    expect(problem({ spacr: { reciprocal: { a: 1, b: 2 } } }).hint).toContain("spacer");
    const both = { reciprocal: { a: 1, b: 2 }, exponential: { a: 1, b: 2 } };
    expect(problem({ spacer: both }).code).toBe("conflict");
    expect(problem({ spacer: {} }).code).toBe("missing");
  });

  it("count tolerances in micrometres: 0.4 + 6/t at ±5 µm is 1.6; 2/t² at ±4 is 0.125; exp(−0.1·t) at ±10 is 1/e", () => {
    const price = (cost: unknown, um: number) => {
      const scenario = resolved({ toleranceCosts: { chain: { spacer: cost } } });
      const { free } = toleranceParts(drawnMembers(scenario, compilePlan(scenario)), scenario.toleranceCosts);
      return priceAt(free[0], um / 1000);
    };
    expect(price({ reciprocal: { a: 0.4, b: 6 } }, 5)).toBeCloseTo(1.6, 12);
    expect(price({ reciprocalSquared: { a: 0, b: 2 } }, 4)).toBeCloseTo(0.125, 12);
    expect(price({ exponential: { a: 1, b: 0.1 } }, 10)).toBeCloseTo(Math.exp(-1), 12);
  });
});
