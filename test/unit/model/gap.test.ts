import { describe, expect, test } from "vitest";
import { clearanceTerm, displacementFor } from "../../../src/model/contact.ts";
import { TARGET } from "../../../src/model/outcome.ts";
import type { ResolvedScenario } from "../../../src/scenario/types.ts";
import { fixedPair, NOMINAL_RINGS, STEEL } from "../../support/fixed-pair.ts";
import { evaluateOne } from "../../support/model.ts";
import { shipped } from "../../support/shipped.ts";
import { columnOf, runStudy } from "../../support/yield.ts";

const HOT = { name: "hot", housing: "70 degC", shaft: "90 degC" };

function withGap(changes: Record<string, unknown> = {}, gap: Record<string, unknown> = {}): ResolvedScenario {
  return fixedPair({
    gap: {
      bearing: "a",
      shaftMovesInboard: "opens",
      members: [
        { name: "bridge", side: "housing", length: "12.3 mm", material: "aluminium-6061" },
        { name: "disc", side: "shaft", length: "12 mm" },
      ],
      ...gap,
    },
    states: [{ name: "bench", housing: "20 degC" }, HOT],
    window: undefined,
    requirements: [{ quantity: "rotor movement", within: "40 um" }],
    ...changes,
  });
}

/** Axial displacement in one bearing at its preload, mm. */
function displacementMm(found: ReturnType<typeof evaluateOne>, state: string, place: 0 | 1): number {
  const { grooveDistanceMm, stiffness } = found.workspace.bearings[place];
  const columns = found.state(state);
  const clearance = (place === 0 ? columns.clearanceAMm : columns.clearanceBMm)[0];
  const w = clearanceTerm(grooveDistanceMm[0], clearance);
  return displacementFor(columns.preloadN[0], grooveDistanceMm[0], w, stiffness[0]);
}

describe("a gap between shaft and housing", () => {
  test("moves by the growth of its members and by the bearing that locates the shaft, by hand", () => {
    const found = evaluateOne(withGap(), NOMINAL_RINGS);
    expect(found.state("bench").movementMm[0]).toBe(0);
    expect(found.state("bench").gapMm[0]).toBeCloseTo(0.3 + displacementMm(found, "bench", 0), 10);
    // Aluminium 23.4 and the steel of the check values 12 µm/(m·K), 50 and 70 K over 20 °C.
    const growth = 12.3 * 23.4e-6 * 50 - 12 * 12e-6 * 70;
    const moved = displacementMm(found, "hot", 0) - displacementMm(found, "bench", 0);
    expect(found.state("hot").movementMm[0]).toBeCloseTo(growth + moved, 10);
  });

  test.each([
    ["back-to-back", "opens", 1],
    ["back-to-back", "closes", -1],
    ["face-to-face", "opens", -1],
    ["face-to-face", "closes", 1],
  ] as const)(
    "%s, %s: the inner ring of the locating bearing moves inboard back-to-back and outboard face-to-face",
    (arrangement, moves, sign) => {
      const isBack = arrangement === "back-to-back";
      const scenario = withGap(
        {
          arrangement,
          "chain.housing spacing.length": isBack ? "40.15 mm" : "40 mm",
          "chain.spacer.length": isBack ? "40 mm" : "40.15 mm",
          states: [{ name: "bench", housing: "20 degC" }],
        },
        { bearing: "b", shaftMovesInboard: moves },
      );
      const found = evaluateOne(scenario, NOMINAL_RINGS);
      expect(found.state("bench").preloadN[0]).toBeGreaterThan(10);
      expect(found.state("bench").gapMm[0] - 0.3).toBeCloseTo(sign * displacementMm(found, "bench", 1), 10);
    },
  );

  test("does not move with a uniform temperature and one material, but for its own growth", () => {
    const same = [
      { name: "bridge", side: "housing", length: "12.3 mm", material: undefined },
      { name: "disc", side: "shaft", length: "12 mm" },
    ];
    const scenario = withGap(
      {
        states: [
          { name: "bench", housing: "20 degC" },
          { name: "hot", housing: "120 degC" },
        ],
      },
      { members: same },
    );
    const found = evaluateOne(scenario, NOMINAL_RINGS);
    expect(STEEL.expansion).toBe("12 um/m/K");
    // Every length grows by 0.12 %, the axial displacement of the bearing with them to the first order.
    expect(found.state("hot").movementMm[0] / (0.3 * 12e-6 * 100)).toBeGreaterThan(0.9);
    expect(found.state("hot").movementMm[0] / (0.3 * 12e-6 * 100)).toBeLessThan(1.6);
  });
});

describe("a requirement", () => {
  test("counts into what is good, state by state and over the states, as the rows show", async () => {
    const scenario = shipped("encoder-stage.yaml", { samples: 5000 });
    const { finding, kept } = await runStudy(scenario, { keepRows: 5000 });
    let everywhere = 0;
    for (let unit = 0; unit < 5000; unit += 1) {
      const good = scenario.states.map(({ name }) => {
        const outcome = columnOf(kept, `${name}.outcome`)[unit];
        const gap = columnOf(kept, `${name}.gapMm`)[unit];
        const moved = columnOf(kept, `${name}.movementMm`)[unit];
        return outcome === TARGET && Math.abs(moved) <= 0.012 && gap >= 0.19 && gap <= 0.31;
      });
      if (good.every((value) => value)) everywhere += 1;
    }
    expect(finding.overall.goodInEveryState.count).toBe(everywhere);
    expect(everywhere).toBeGreaterThan(2500);
    expect(everywhere).toBeLessThan(4990);
    for (const { states } of finding.requirements) {
      for (const { share } of states) expect(share.count).toBeGreaterThanOrEqual(everywhere);
    }
  });

  test("is asked for in the states that its requirement names, and in no other", () => {
    const asked = (states?: string[]) => {
      const requirement = { quantity: "air gap", low: "1 mm", ...(states === undefined ? {} : { states }) };
      const found = evaluateOne(withGap({ requirements: [requirement] }), NOMINAL_RINGS);
      return ["bench", "hot"].map((name) => found.state(name).good[0]);
    };
    expect(asked()).toEqual([0, 0]);
    expect(asked(["hot"])).toEqual([1, 0]);
    expect(asked(["bench"])).toEqual([0, 1]);
  });

  test("without a window makes any preload above 0 and below bind one on target", () => {
    const scenario = withGap();
    expect(scenario.limits).toMatchObject({ lowN: 0, highN: scenario.limits.bindN });
    const [play, faint, strong, bound] = [40.05, 40.104, 40.17, 40.3].map((spacing) =>
      evaluateOne(scenario, { ...NOMINAL_RINGS, "chain.housing spacing": spacing }).state("bench"),
    );
    expect(play.preloadN[0]).toBe(0);
    expect([play, faint, strong, bound].map(({ good }) => good[0])).toEqual([0, faint.preloadN[0] > 0 ? 1 : 0, 1, 0]);
    expect(bound.preloadN[0]).toBeGreaterThan(2000);
  });
});
