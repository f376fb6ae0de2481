import { beforeAll, describe, expect, test } from "vitest";
import { runContributors } from "../../../src/engine/contributors.ts";
import { compileDraw, createInputs } from "../../../src/engine/draw.ts";
import { createWorkspace } from "../../../src/model/columns.ts";
import { FLAGS, OUTCOMES, TARGET } from "../../../src/model/outcome.ts";
import { compilePlan } from "../../../src/model/plan.ts";
import { BLOCK_SIZE } from "../../../src/random/streams.ts";
import { clopperPearsonInterval, wilsonInterval } from "../../../src/stats/intervals.ts";
import { quantileOfSorted } from "../../../src/stats/quantiles.ts";
import type { Share } from "../../../src/studies/result.ts";
import { shareOf } from "../../../src/studies/share.ts";
import { openUnit } from "../../../src/studies/unit.ts";
import { fixedPair } from "../../support/fixed-pair.ts";
import { shipped } from "../../support/shipped.ts";
import { columnOf, type Ran, runStudy } from "../../support/yield.ts";

const SAMPLES = 12_000;
const FILES = ["oven-conveyor-wheel.yaml", "laminating-roller.yaml"];

describe.each(FILES)("a run of %s", (file) => {
  const scenario = shipped(file, { samples: SAMPLES });
  let ran: Ran;
  beforeAll(async () => {
    ran = await runStudy(scenario, { keepRows: SAMPLES });
  }, 60_000);

  test("puts every unit in exactly one class a state, and in one fate: good, bench or service", () => {
    const { states, overall, provenance } = ran.finding;
    expect(provenance.samples).toBe(SAMPLES);
    for (const { outcomes } of states) {
      expect(Object.values(outcomes).reduce((sum, { count }) => sum + count, 0)).toBe(SAMPLES);
    }
    const { goodInEveryState, failsAtBench, failsInService, serviceCauses } = overall;
    expect(goodInEveryState.count + failsAtBench.count + failsInService.count).toBe(SAMPLES);
    expect(serviceCauses.reduce((sum, { share }) => sum + share.count, 0)).toBe(failsInService.count);
    expect(states.reduce((sum, { weightRatio }) => sum + weightRatio, 0)).toBeCloseTo(1, 12);
  });

  test("counts what its rows show, each state by itself", () => {
    for (const state of ran.finding.states) {
      const classes = columnOf(ran.kept, `${state.name}.outcome`);
      const flags = columnOf(ran.kept, `${state.name}.flags`);
      OUTCOMES.forEach((outcome, code) => {
        expect(state.outcomes[outcome].count, outcome).toBe(classes.filter((value) => value === code).length);
      });
      FLAGS.forEach((flag, bit) => {
        expect(state.flags[flag].count, flag).toBe(flags.filter((value) => (value & (1 << bit)) !== 0).length);
      });
    }
  });

  test("tells scrap at the bench from failures in service, and a unit good in every state from the average over states", () => {
    const { states, overall } = ran.finding;
    const good = states.map(({ name }) => columnOf(ran.kept, `${name}.outcome`));
    const bench = good[states.findIndex(({ isBench }) => isBench)];
    const weights = states.map(({ weightRatio }) => weightRatio);
    let everywhere = 0;
    let scrap = 0;
    let average = 0;
    for (let unit = 0; unit < SAMPLES; unit += 1) {
      if (good.every((column) => column[unit] === TARGET)) everywhere += 1;
      if (bench[unit] !== TARGET) scrap += 1;
      good.forEach((column, state) => {
        if (column[unit] === TARGET) average += weights[state] / SAMPLES;
      });
    }
    expect(overall.goodInEveryState.count).toBe(everywhere);
    expect(overall.failsAtBench.count).toBe(scrap);
    const plain = ran.finding.integration!.crossCheck.find(({ what }) => what === "averaged over states")!;
    expect(plain.plainRatio).toBeCloseTo(average, 12);
    // Printed is the more certain figure of the two ways, which agree.
    expect(Math.abs(plain.apartRatio)).toBeLessThan(4);
    expect(overall.averagedOverStates.shareRatio).toBe(plain.integratedRatio);
    expect(everywhere / SAMPLES).toBeLessThan(average);
  });

  test("sums up preload and offset as its rows do: moments of n − 1, quantiles of type 7 to a bin of the histogram", () => {
    for (const state of ran.finding.states) {
      for (const [summary, column] of [
        [state.preloadN, `${state.name}.preloadN`],
        [state.offsetMm, `${state.name}.offsetMm`],
        [state.clearanceMm.a, `${state.name}.clearanceAMm`],
      ] as const) {
        const values = Float64Array.from(columnOf(ran.kept, column)).sort();
        const mean = values.reduce((sum, value) => sum + value, 0) / SAMPLES;
        const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
        expect(Math.abs(summary.mean - mean)).toBeLessThan(1e-10 * Math.max(1, Math.abs(mean)));
        expect(Math.abs(summary.sd / Math.sqrt(squares / (SAMPLES - 1)) - 1)).toBeLessThan(1e-10);
        expect(summary.min).toBe(values[0]);
        expect(summary.max).toBe(values[SAMPLES - 1]);
        for (const { probabilityRatio, value } of summary.quantiles) {
          // Bins of 1/2048 of the range, or of 1/128 of the value: never off by more than that and the gap between neighbours.
          const around = [-1, 1].map((side) => quantileOfSorted(values, clamp(probabilityRatio + side / SAMPLES)));
          const slack = Math.max((summary.max - summary.min) / 2048, 0.01 * Math.abs(value));
          expect(value).toBeGreaterThanOrEqual(around[0] - slack);
          expect(value).toBeLessThanOrEqual(around[1] + slack);
        }
      }
    }
  });

  test.each([0, 1, 4095, 4096, 11_999])("opens unit %d again to the last bit of its row", (index) => {
    const unit = openUnit(scenario, index);
    const at = (name: string) => columnOf(ran.kept, name)[index];
    expect(unit.machinedOffsetMm).toBe(at("machinedOffsetMm"));
    expect(unit.window).toEqual({ lowMm: at("window.lowMm"), highMm: at("window.highMm") });
    for (const state of unit.states) {
      expect(state.preloadN).toBe(at(`${state.state}.preloadN`));
      expect(state.offsetMm).toBe(at(`${state.state}.offsetMm`));
      expect(state.playMm).toBe(at(`${state.state}.playMm`));
      expect(state.bearings.a.clearanceMm).toBe(at(`${state.state}.clearanceAMm`));
      expect(state.bearings.b.clearanceMm).toBe(at(`${state.state}.clearanceBMm`));
      expect(OUTCOMES.indexOf(state.outcome)).toBe(at(`${state.state}.outcome`));
      expect(state.flags.reduce((bits, flag) => bits | (1 << FLAGS.indexOf(flag)), 0)).toBe(at(`${state.state}.flags`));
      expect(state.window.lowMm).toBe(at(`${state.state}.window.lowMm`));
      // Both bearings of a unit carry its preload: F = Z·Q·sin α.
      const { bearings } = scenario;
      for (const key of ["a", "b"] as const) {
        const { ballLoadN, contactAngleRad } = state.bearings[key];
        const carried = bearings[key].ballCount * ballLoadN * Math.sin(contactAngleRad);
        expect(Math.abs(carried - Math.abs(state.preloadN))).toBeLessThanOrEqual(1e-7 * Math.abs(state.preloadN));
      }
    }
    for (const { name, value, drawn } of unit.inputs) {
      if (!drawn) continue;
      const column = ran.kept.columns.find(
        (candidate) => candidate.name.startsWith(name) && !/\.[a-z]/i.test(candidate.name.slice(name.length)),
      );
      expect(column?.values[index], name).toBe(value);
    }
  });
});

describe("the interval beside a share", () => {
  const bounds = ({ lowRatio, highRatio }: Share) => [lowRatio, highRatio];

  test("is Wilson's for ordinary counts, Clopper and Pearson's where few units failed or few are good", () => {
    for (const [count, total] of [
      [81, 263],
      [5000, 10_000],
    ]) {
      const share = shareOf(count, total);
      const { low, high } = wilsonInterval(count, total);
      expect(share.method).toBe("wilson");
      expect(bounds(share)).toEqual([low, high]);
    }
    for (const [count, total] of [
      [0, 200_000],
      [3, 100_000],
      [99_998, 100_000],
    ]) {
      const share = shareOf(count, total);
      const { low, high } = clopperPearsonInterval(count, total);
      expect(share.method).toBe("clopper-pearson");
      expect(bounds(share)).toEqual([low, high]);
    }
  });

  test("3 of 100 000: 6.186764e-6 to 8.7670203e-5 (Clopper and Pearson, recomputed); 81 of 263: 0.2553 to 0.3662 (Newcombe 1998, from memory)", () => {
    const rare = shareOf(3, 100_000);
    expect(rare.lowRatio).toBeCloseTo(6.186764e-6, 11);
    expect(rare.highRatio).toBeCloseTo(8.7670203e-5, 11);
    const usual = shareOf(81, 263);
    expect(usual.lowRatio).toBeCloseTo(0.2553, 4);
    expect(usual.highRatio).toBeCloseTo(0.3662, 4);
  });
});

describe("a batch", () => {
  const changes = (batchShare: number) => ({
    samples: 8000,
    "batch.size": 100,
    "chain.pulley shoulder ring.length": { limits: "24.000 ±0.010", batchShare },
  });

  test("whose units share a lathe setting ranges wider than one whose units are independent, about the same mean", async () => {
    const independent = await runStudy(shipped("belt-tensioner.yaml", changes(0)));
    const shared = await runStudy(shipped("belt-tensioner.yaml", changes(0.8)));
    expect(independent.finding.batch.method).toBe("binomial");
    expect(shared.finding.batch.method).toBe("nested");
    const width = ({ finding }: Ran) => finding.batch.good.high - finding.batch.good.low;
    expect(width(shared)).toBeGreaterThan(1.3 * width(independent));
    // The share of single units does not know of batches at all.
    expect(shared.finding.overall.goodInEveryState).toEqual(independent.finding.overall.goodInEveryState);
    // 400 batches of 100 with that spread: the mean is good to a point or so.
    expect(Math.abs(shared.finding.batch.good.expected - independent.finding.batch.good.expected)).toBeLessThan(5);
    for (const { finding } of [independent, shared]) {
      const { good, benchFailures, serviceFailures } = finding.batch;
      expect(good.expected + benchFailures.expected + serviceFailures.expected).toBeCloseTo(100, 9);
    }
  });
});

describe("what quantities contribute", () => {
  const contributorsOf = (
    scenario: ReturnType<typeof shipped>,
    replacements: { variable: number; value: number }[],
  ) => {
    const plan = compilePlan(scenario);
    const draw = compileDraw(scenario);
    const inputs = createInputs(draw, BLOCK_SIZE);
    const variation = { label: "frozen", replacements };
    return runContributors(plan, draw, [variation], 0, BLOCK_SIZE, inputs, createWorkspace(plan, BLOCK_SIZE));
  };

  test("a constant frozen at its value changes no unit", () => {
    const scenario = shipped("laminating-roller.yaml");
    const variable = scenario.variables.findIndex(({ distribution }) => distribution.kind === "constant");
    const { distribution } = scenario.variables[variable];
    if (distribution.kind !== "constant") throw new Error("no constant in the scenario");
    const { gained, lost, base } = contributorsOf(scenario, [{ variable, value: distribution.value }]);
    expect([gained[0], lost[0]]).toEqual([0, 0]);
    expect(base).toBeGreaterThan(0);
  });

  test("a drawn quantity frozen at its median moves units both ways, and the yield by the difference", () => {
    const scenario = shipped("laminating-roller.yaml");
    const variable = scenario.variables.findIndex(({ name }) => name === "chain.housing shoulder spacing");
    const { gained, lost } = contributorsOf(scenario, [{ variable, value: 32 }]);
    expect(gained[0]).toBeGreaterThan(0);
    expect(lost[0]).toBeGreaterThan(0);
  });

  test("the one drawn quantity of a scenario carries all of the variance that its preload has", async () => {
    const scenario = fixedPair({ samples: 8192, "chain.housing spacing.length": "40.18 ±0.01" });
    const { finding } = await runStudy(scenario);
    const [bench] = finding.contributors.preloadVariance;
    expect(bench.rows[0].groupLabel).toBe("the housing spacing");
    // Binned over 32 equal shares: what varies within a bin is missing.
    expect(bench.rows[0].firstOrderRatio).toBeGreaterThan(0.97);
    expect(bench.rows[0].firstOrderRatio).toBeLessThanOrEqual(1.001);
    for (const row of bench.rows.slice(1)) expect(Math.abs(row.firstOrderRatio)).toBeLessThan(0.02);
  });
});

function clamp(probability: number): number {
  return Math.min(1, Math.max(0, probability));
}
