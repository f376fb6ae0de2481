import { describe, expect, test } from "vitest";
import { alongSlopes } from "../../../src/engine/directions.ts";
import { compileDraw } from "../../../src/engine/draw.ts";
import { createLineIntegrator } from "../../../src/engine/lines.ts";
import { createLocalExecutor } from "../../../src/engine/local.ts";
import { createRunner } from "../../../src/engine/runner.ts";
import { takeSlopes } from "../../../src/engine/slopes.ts";
import { createWorkspace } from "../../../src/model/columns.ts";
import { createWindowColumns } from "../../../src/model/window.ts";
import type { ResolvedScenario } from "../../../src/scenario/types.ts";
import { type Estimate, type Integration, integrate } from "../../../src/studies/conditional.ts";
import { extendedDecides, type YieldSetup, yieldSetup } from "../../../src/studies/yield.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";
import { runStudy } from "../../support/yield.ts";

const PACE = { onProgress: () => {}, isOver: () => false };

/** The setup with lines in place of whatever the pilot chose. */
function withLines(setup: YieldSetup): YieldSetup {
  const draw = compileDraw(setup.scenario);
  const slopes = takeSlopes(setup.scenario, setup.plan, setup.offset?.law ?? null, draw);
  return { ...setup, offset: null, lines: alongSlopes(slopes, draw.drawn.length) };
}

const sharesOf = ({ states, good, bench, service, averaged }: Integration): Estimate[] => [
  ...states.flat(),
  good,
  bench,
  service,
  averaged,
];

/** Everything in the laminating roller's offset fixed, so that it has no law of its own. */
const WITHOUT_OFFSET = {
  "chain.housing shoulder spacing.length": "32.000 mm",
  "chain.shaft spacer.length": "31.766 mm",
  "chain.shim.length": "0.100 mm",
  "bearings.both.standOut": "0 um",
};

/** Clearances and fits do it all; the offset hardly varies. */
const NARROW_OFFSET = { ...WITHOUT_OFFSET, "chain.shim.length": "0.100 ±0.0001" };

const position = SHIPPED.map((file) => ({ file, setup: yieldSetup(shipped(file)) })).filter(
  ({ setup }) => setup.pilot.length > 0 && !extendedDecides(setup.scenario),
);

describe("lines along the slope of the limits", () => {
  test("there are shipped scenarios to look at", () => {
    expect(position.length).toBeGreaterThan(6);
  });

  test.each(position)(
    "$file: every share within 4.5 joint standard errors of integrating over the offset",
    async ({ setup }) => {
      // About 150 shares in all, of t with 15 degrees of freedom each; 1e-5: what the stretch of the states' laws may leave out.
      const over = await integrate(createLocalExecutor(setup), setup, setup.plan, null, PACE);
      const lined = withLines(setup);
      const along = await integrate(createLocalExecutor(lined), lined, setup.plan, null, PACE);
      expect([over.along, along.along]).toEqual(["offset", "slope"]);
      const lines = sharesOf(along);
      sharesOf(over).forEach((share, place) => {
        if (share.ratio < 1e-4 && lines[place].ratio < 1e-4) return;
        const error = Math.hypot(share.standardErrorRatio, lines[place].standardErrorRatio);
        expect(Math.abs(share.ratio - lines[place].ratio), `share ${place}`).toBeLessThan(4.5 * error + 1e-5);
      });
    },
  );

  test("crossings are known so well that no share of a line is off by 1e-6", () => {
    for (const file of ["laminating-roller.yaml", "oven-conveyor-wheel.yaml"]) {
      const { scenario, plan, lines } = withLines(yieldSetup(shipped(file)));
      const weights = scenario.states.map((state) => state.weightRatio);
      const run = (options?: { toleranceRatio: number; reachRatio: number; spacingRatio: number }) => {
        const [workspace, windows] = [createWorkspace(plan, 1024), createWindowColumns(plan, 1024)];
        return createLineIntegrator(plan, compileDraw(scenario), lines!, weights, workspace, windows, options).run(
          0,
          0,
          64,
        );
      };
      const found = run();
      const exact = run({ toleranceRatio: 1e-10, reachRatio: 5, spacingRatio: 1 });
      expect(found.evaluations).toBeLessThan(exact.evaluations);
      found.sums.forEach((sum, place) => {
        expect(Math.abs(sum - exact.sums[place]) / 64, `${file}, share ${place}`).toBeLessThan(1e-6);
      });
      // No second crossing hides between the points of the scan: a scan four times as fine finds the same.
      const finer = run({ toleranceRatio: 1e-10, reachRatio: 5, spacingRatio: 0.25 });
      expect(finer.byCrossings).toEqual(exact.byCrossings);
    }
  });
});

describe("the choice of a direction", () => {
  test.each(position)("$file: the offset, which has less variance for the same work", ({ setup }) => {
    expect(setup.lines).toBeNull();
    // A contest is held only where the offset does not do well on its own.
    const [offset, slope] = setup.pilot;
    expect(offset.along).toBe("offset");
    if (slope === undefined) expect(offset.worthRatio).toBeGreaterThanOrEqual(100);
    else expect(slope.worthRatio).toBeLessThanOrEqual(2 * offset.worthRatio);
  });

  test("lines where the offset hardly varies; the curves still come from the offset, all in agreement with plain sampling", async () => {
    const scenario = shipped("laminating-roller.yaml", { ...NARROW_OFFSET, samples: 200_000 });
    const { finding } = await runStudy(scenario, { workers: 2, rare: false });
    const { along, pilot, crossCheck, overNominal, overTolerance, evaluationsPerPoint } = finding.integration!;
    expect(along).toBe("slope");
    expect(pilot[1].worthRatio!).toBeGreaterThan(2 * pilot[0].worthRatio!);
    expect(evaluationsPerPoint).toBeGreaterThan(10);
    for (const { what, plainRatio, apartRatio } of crossCheck) {
      if (plainRatio > 1e-4 && plainRatio < 1 - 1e-4) expect(Math.abs(apartRatio), what).toBeLessThan(4);
    }
    expect(overNominal.length).toBeGreaterThan(100);
    const asDrawn = overTolerance.find(({ toleranceRatio }) => toleranceRatio === 1)!;
    const { lowRatio, highRatio } = finding.overall.goodInEveryState;
    expect(asDrawn.highRatio).toBeGreaterThan(lowRatio);
    expect(asDrawn.lowRatio).toBeLessThan(highRatio);
  });

  test("without any spread in the offset: lines reach a precision, the same bits on any number of workers", async () => {
    const scenario = shipped("laminating-roller.yaml", { ...WITHOUT_OFFSET, samples: 100_000 });
    const target = { halfWidthRatio: 3e-4, of: null };
    const none = await runStudy(scenario, { workers: 0, target, rare: false });
    const two = await runStudy(scenario, { workers: 2, target, rare: false });
    expect(two.finding).toEqual(none.finding);
    const { integration, overall } = none.finding;
    expect(integration!.along).toBe("slope");
    expect(integration!.pilot).toEqual([]);
    expect(integration!.overNominal).toEqual([]);
    expect(overall.goodInEveryState.method).toBe("integrated");
    expect(0.5 * (overall.goodInEveryState.highRatio - overall.goodInEveryState.lowRatio)).toBeLessThanOrEqual(3e-4);
    for (const { what, plainRatio, apartRatio } of integration!.crossCheck) {
      if (plainRatio > 1e-3 && plainRatio < 1 - 1e-3) expect(Math.abs(apartRatio), what).toBeLessThan(4);
    }
  });

  test("a task of the way that was not set up is a fault", () => {
    const setup: YieldSetup = position[0].setup;
    const scenario: ResolvedScenario = setup.scenario;
    const none = createRunner({ ...setup, scenario, offset: null, lines: null });
    expect(() => none.runTask({ kind: "lines", replicate: 0, first: 0, count: 1 })).toThrow("no lines");
    expect(() => none.runTask({ kind: "conditional", replicate: 0, first: 0, count: 1 })).toThrow("no law");
  });
});
