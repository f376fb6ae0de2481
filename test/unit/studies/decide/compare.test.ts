import { describe, expect, it } from "vitest";
import { compilePlan } from "../../../../src/model/plan.ts";
import { compareVerdict, compareView } from "../../../../src/report/decide/compare.ts";
import { decisionPage, decisionText } from "../../../../src/report/decide/view.ts";
import { parseVariant } from "../../../../src/scenario/variants.ts";
import { createAssessor, differenceOf, drawFates } from "../../../../src/studies/decide/assess.ts";
import { bestNominal } from "../../../../src/studies/decide/best-nominal.ts";
import { compareVariants } from "../../../../src/studies/decide/compare.ts";
import { finish } from "../../../../src/studies/steps.ts";
import { compareRows } from "../../../../src/tables/decide.ts";
import { problemsOf } from "../../../support/scenario.ts";
import { shippedVariable, TEST_MAKER } from "../../../support/variable.ts";

const SIZE = { points: 512, samples: 20_000 };
const source = shippedVariable("press-roller-variants.yaml");

/** Plain counts on units of another seed: nothing in common with the way of the study. */
function bruteForce(changes: Readonly<Record<string, unknown>>, samples = 60_000): { ratio: number; sd: number } {
  const scenario = shippedVariable("press-roller-variants.yaml", { ...changes, seed: "brute force" }).base;
  const { fates } = drawFates(scenario, compilePlan(scenario), samples);
  const ratio = fates.filter((fate) => fate === 0).length / samples;
  return { ratio, sd: Math.sqrt((ratio * (1 - ratio)) / samples) };
}

describe("compared variants", () => {
  const result = finish(compareVariants(source, { variants: source.base.variants, size: SIZE, maker: TEST_MAKER }));

  it("give the yields that plain sampling of each alone gives, within 4.5 standard errors (1 in 150 000 by chance)", () => {
    for (const name of ["as it stands", "clearance group C3", "shims by measured play"]) {
      const row = result.variants.find((variant) => variant.name === name)!;
      const changes = source.base.variants.find((variant) => variant.name === name)?.changes ?? [];
      const brute = bruteForce(Object.fromEntries(changes.map(({ path, value }) => [path, value])));
      const half = 0.5 * (row.shares.good.highRatio - row.shares.good.lowRatio);
      const sd = Math.sqrt(brute.sd * brute.sd + (half / 1.96) * (half / 1.96));
      expect(Math.abs(row.shares.good.ratio - brute.ratio), name).toBeLessThan(4.5 * sd);
    }
  });

  it("differ by what their yields differ by, more surely than the yields are known", () => {
    const [base, ...variants] = result.variants;
    for (const { name, shares, difference, method } of variants) {
      const half = 0.5 * (difference!.good.highRatio - difference!.good.lowRatio);
      const own = 0.5 * (base.shares.good.highRatio - base.shares.good.lowRatio);
      if (method === "integrated") {
        expect(difference!.good.differenceRatio, name).toBeCloseTo(shares.good.ratio - base.shares.good.ratio, 12);
      }
      if (name === "ductile iron roller" || name === "tighter spacings") expect(half, name).toBeLessThan(0.5 * own);
    }
  });

  it("of no change at all differ by nothing, by windows and by plain sampling", () => {
    const assessor = createAssessor(SIZE);
    const plain = parseVariant("shim: preload={method: shim, shim: {measure: play, step: 10 um}}");
    for (const scenario of [source.base, source.vary(plain.changes)]) {
      const difference = differenceOf(assessor.assess(scenario), assessor.assess(scenario), "good");
      expect(difference.differenceRatio).toBe(0);
      expect(difference.highRatio - difference.lowRatio).toBeLessThan(2e-4);
    }
  });

  it("re-centred, give what the drawing moved by as much gives by plain sampling", () => {
    const { acceptance } = createAssessor(SIZE).assess(source.base);
    const { shiftMm, good } = bestNominal(acceptance!.windows, acceptance!.law.law);
    const moved = bruteForce({ "chain.roller shoulder spacing.length": `${54.142 + shiftMm} ±0.006` });
    expect(Math.abs(moved.ratio - good.ratio)).toBeLessThan(4.5 * moved.sd + 1e-3);
    for (const step of [-0.006, 0.006]) {
      const other = bruteForce({ "chain.roller shoulder spacing.length": `${54.142 + shiftMm + step} ±0.006` });
      expect(other.ratio).toBeLessThan(moved.ratio + 3 * moved.sd);
    }
  });

  it("name the best and how far it is ahead, on page and terminal", () => {
    const full = { ...result, verdict: compareVerdict(result) };
    expect(full.verdict[0]).toMatch(
      /^Best is “shims by measured play”: 9\d\.\d+\u00a0% .* ahead of “tighter spacings”/,
    );
    const view = compareView(full);
    expect(decisionPage(full, view)).toContain("All variants");
    const text = decisionText(full, view, { color: false, width: 100 });
    expect(text).toContain("clearance group C3");
    expect(text).not.toContain("NaN");
    expect(compareRows(full).filter(({ statistic }) => statistic === "difference")).toHaveLength(18);
  });

  it("are refused with their name where they do not resolve", () => {
    const wrong = parseVariant("no such group: bearings.both.clearanceGroup=C9");
    const [problem] = problemsOf(() =>
      finish(compareVariants(source, { variants: [wrong], size: SIZE, maker: TEST_MAKER })),
    );
    expect(problem.path).toBe("no such group: bearings.both.clearanceGroup");
  });
});

describe("a variant on the command line", () => {
  it("has a name before a colon, and changes parted by semicolons", () => {
    expect(parseVariant("wide: chain.spacer.length=40 ±0.01; samples=5")).toEqual({
      name: "wide",
      changes: [
        { path: "chain.spacer.length", value: "40 ±0.01" },
        { path: "samples", value: 5 },
      ],
    });
    expect(parseVariant("bearings.both.clearanceGroup=C4").name).toBe("bearings.both.clearanceGroup=C4");
    expect(parseVariant("preload={method: position}").changes[0].value).toEqual({ method: "position" });
  });
});
