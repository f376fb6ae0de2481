import { describe, expect, it } from "vitest";
import { compilePlan } from "../../../../src/model/plan.ts";
import { methodsVerdict, methodsView } from "../../../../src/report/decide/methods.ts";
import { decisionPage, decisionText } from "../../../../src/report/decide/view.ts";
import { drawFates } from "../../../../src/studies/decide/assess.ts";
import { sortedUnits } from "../../../../src/studies/decide/method-variants.ts";
import { bestShift, compareMethods } from "../../../../src/studies/decide/methods.ts";
import { shimUnits } from "../../../../src/studies/decide/shim-units.ts";
import { methodsRows } from "../../../../src/tables/methods.ts";
import { shippedVariable, TEST_MAKER } from "../../../support/variable.ts";

const COUNT = 8192;
const request = { groups: [2, 5], prices: {}, size: { points: 256, samples: COUNT }, maker: TEST_MAKER };

describe("methods on the same units", () => {
  const source = shippedVariable("press-roller-variants.yaml", {
    costs: { scrap: "12 EUR", warranty: "180 EUR" },
  });
  const result = compareMethods(source, request);
  const of = (name: string) => result.methods.find((method) => method.name === name)!;

  it("as machined is the plain run, unit by unit", () => {
    const { fates } = drawFates(source.base, compilePlan(source.base), COUNT);
    const count = (fate: number) => fates.filter((value) => value === fate).length / COUNT;
    const { shares } = of("as machined");
    expect([shares.good.ratio, shares.bench.ratio, shares.service.ratio]).toEqual([count(0), count(1), count(2)]);
  });

  it("the best nominal is the plain run of the drawing moved by as much", () => {
    const units = shimUnits(source.base, compilePlan(source.base), COUNT);
    const shift = bestShift(units, null);
    const moved = source.vary([
      { path: "chain.roller shoulder spacing.length", value: `${(54.142 + shift).toFixed(7)} ±0.006` },
    ]);
    const good = drawFates(moved, compilePlan(moved), COUNT).fates.filter((fate) => fate === 0).length;
    expect(Math.abs(good / COUNT - of("as machined, best nominal").shares.good.ratio)).toBeLessThan(2 / COUNT);
    // No other shift on a grid of half a micrometre has more.
    for (let step = -40; step <= 40; step += 1) {
      let other = 0;
      for (let i = 0; i < COUNT; i += 1) {
        const offset = units.machinedMm[i] + step * 5e-4;
        if (offset >= units.lowMm[i] && offset <= units.highMm[i]) other += 1;
      }
      expect(other).toBeLessThanOrEqual(good + 2);
    }
  });

  it("one group of sorted bearings is no sorting at all, and both bearings of a unit are of one group", () => {
    const { base } = source;
    const plain = shimUnits(base, compilePlan(base), 1024);
    const { units } = sortedUnits(base, 1024, 1);
    for (let i = 0; i < 1024; i += 1) expect(units.lowMm[i]).toBeCloseTo(plain.lowMm[i], 9);
    const { group } = sortedUnits(base, 4096, 5);
    for (let of = 0; of < 5; of += 1) {
      const share = group.filter((value) => value === of).length / 4096;
      expect(Math.abs(share - 0.2)).toBeLessThan(4.5 * Math.sqrt((0.2 * 0.8) / 4096));
    }
  });

  it("more groups give more good units, a method that sees the play most of all", () => {
    const good = (name: string) => of(name).shares.good.ratio;
    expect(good("sorted bearings, 2 groups")).toBeGreaterThan(good("as machined, best nominal"));
    expect(good("sorted bearings, 5 groups")).toBeGreaterThan(good("sorted bearings, 2 groups"));
    expect(good("adjuster")).toBeGreaterThan(good("sorted bearings, 5 groups"));
    expect(good("shims by measured play")).toBeGreaterThan(good("shims by dimensions"));
    expect(good("spring")).toBeGreaterThan(0.99);
  });

  it("costs failures by the scenario's prices over the good units", () => {
    const { shares, costPerGoodUnit } = of("as machined");
    const cost = (12 * shares.bench.ratio + 180 * shares.service.ratio) / shares.good.ratio;
    expect(costPerGoodUnit).toBeCloseTo(cost, 10);
    expect(result.currency).toBe("EUR");
  });

  it("says which is best, on page and terminal and as rows", () => {
    const full = { ...result, verdict: methodsVerdict(result) };
    const view = methodsView(full);
    expect(decisionPage(full, view)).toContain("What becomes of the units");
    expect(decisionText(full, view, { color: false, width: 100 })).toContain("sorted bearings, 5 groups");
    expect(methodsRows(full).filter(({ measure }) => measure === "cost of a good unit")).toHaveLength(8);
  });
});

describe("stiffness and life", () => {
  it("stand beside the yield where the scenario asks for them", () => {
    const source = shippedVariable("press-roller-variants.yaml", {
      extended: { samples: 256, speed: "600 rpm", viscosity: "30 mm2/s" },
    });
    const { methods } = compareMethods(source, { ...request, groups: [2], size: { points: 256, samples: 2048 } });
    const spring = methods.find(({ name }) => name === "spring")!.extended!;
    const adjuster = methods.find(({ name }) => name === "adjuster")!.extended!;
    expect(spring.axialStiffnessNPerMm.median).toBeGreaterThan(0);
    // A soft spring leaves about half of what two bearings have.
    expect(spring.axialStiffnessNPerMm.median).toBeLessThan(0.8 * adjuster.axialStiffnessNPerMm.median);
  });
});
