import { describe, expect, test } from "vitest";
import { compileDraw, createInputs, drawBlock } from "../../../src/engine/draw.ts";
import { countedColumns } from "../../../src/engine/tally.ts";
import { createWorkspace } from "../../../src/model/columns.ts";
import { evaluateBlock } from "../../../src/model/evaluate.ts";
import { BIND, HEAVY, PLAY, REVERSED, TARGET } from "../../../src/model/outcome.ts";
import { compilePlan } from "../../../src/model/plan.ts";
import { createWindowColumns } from "../../../src/model/window.ts";
import { BLOCK_SIZE } from "../../../src/random/streams.ts";
import type { ResolvedScenario } from "../../../src/scenario/types.ts";
import { fixedPair, NOMINAL_RINGS } from "../../support/fixed-pair.ts";
import { evaluateOne } from "../../support/model.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const SAMPLES = 100_000;

/** Nearer to an end of a window than this, rounding may decide either way; nothing else may differ. mm. */
const ROUNDING_MM = 1e-12;

interface Counts {
  readonly samples: number;
  /** Units whose class and window disagree, over all states and for all states together. */
  disagree: number;
  readonly byOutcome: Map<number, number>;
  endless: number;
  empty: number;
}

/** Draws units and holds their class against the window that was worked out without it. */
function compare(scenario: ResolvedScenario, samples = SAMPLES): Counts {
  const plan = compilePlan(scenario);
  const draw = compileDraw(scenario);
  const inputs = createInputs(draw, BLOCK_SIZE);
  const workspace = createWorkspace(plan, BLOCK_SIZE);
  const windows = createWindowColumns(plan, BLOCK_SIZE);
  const counts: Counts = { samples, disagree: 0, byOutcome: new Map(), endless: 0, empty: 0 };
  for (let first = 0; first < samples; first += BLOCK_SIZE) {
    const count = Math.min(BLOCK_SIZE, samples - first);
    drawBlock(draw, first / BLOCK_SIZE, inputs, count);
    evaluateBlock(plan, inputs, count, workspace, windows);
    const states = countedColumns(workspace);
    const ends = windows.afterService === null ? windows.states : [...windows.states, windows.afterService];
    for (let i = 0; i < count; i += 1) {
      const offset = workspace.machinedOffsetMm[i];
      const near = (end: number) => Math.abs(offset - end) < ROUNDING_MM;
      let good = true;
      let wrong = false;
      for (let s = 0; s < states.length; s += 1) {
        const outcome = states[s].outcome[i];
        counts.byOutcome.set(outcome, (counts.byOutcome.get(outcome) ?? 0) + 1);
        good &&= outcome === TARGET;
        const { lowMm, highMm } = ends[s];
        const inside = lowMm[i] <= offset && offset <= highMm[i];
        if (inside !== (outcome === TARGET) && !near(lowMm[i]) && !near(highMm[i])) wrong = true;
      }
      const inside = windows.lowMm[i] <= offset && offset <= windows.highMm[i];
      if (inside !== good && !near(windows.lowMm[i]) && !near(windows.highMm[i])) wrong = true;
      if (wrong) counts.disagree += 1;
      if (windows.highMm[i] === Number.POSITIVE_INFINITY) counts.endless += 1;
      if (windows.lowMm[i] > windows.highMm[i]) counts.empty += 1;
    }
  }
  return counts;
}

describe("a unit is on target exactly if its machined offset lies in its acceptance window", () => {
  test.each(SHIPPED)(`%s, ${SAMPLES} units, in every state and in all together`, (file) => {
    const scenario = shipped(file);
    const counts = compare(scenario);
    expect(counts.disagree).toBe(0);
    expect(counts.byOutcome.get(TARGET) ?? 0).toBeGreaterThan(0.1 * SAMPLES);
    // Springs, adjusters, shims and ground pairs keep most units out of the outer classes.
    const isCoarse = scenario.method.kind === "position" && scenario.bearings.a.kind === "deep-groove";
    expect(counts.byOutcome.size).toBeGreaterThanOrEqual(isCoarse ? 3 : 1);
  });

  test("where outer rings walk in the heat, some to nothing and some to what friction holds", () => {
    const counts = compare(
      shipped("oven-conveyor-wheel.yaml", { "seats.housing.both.fit": "47 M7", seatFriction: "0.02..0.06" }),
    );
    expect(counts.disagree).toBe(0);
    expect(counts.byOutcome.get(TARGET) ?? 0).toBeGreaterThan(0.1 * SAMPLES);
    expect(counts.endless).toBeGreaterThan(0.05 * SAMPLES);
    expect(counts.endless).toBeLessThan(0.95 * SAMPLES);
    expect(counts.empty).toBeGreaterThan(100);
  });

  test("where the clamp is too weak for the preload", () => {
    const counts = compare(shipped("laminating-roller.yaml", { "clamp.force": "300 ±250 N" }));
    expect(counts.disagree).toBe(0);
    expect(counts.endless).toBeGreaterThan(0.05 * SAMPLES);
  });

  test("where the pressure limit of bind lies inside the target window", () => {
    const counts = compare(shipped("laminating-roller.yaml", { "bind.pressure": "1500 MPa" }), 20_000);
    expect(counts.disagree).toBe(0);
    expect(counts.byOutcome.get(BIND) ?? 0).toBeGreaterThan(1000);
    expect(counts.byOutcome.get(TARGET) ?? 0).toBeGreaterThan(1000);
  });

  test("where clamp and pressure limit both lie inside the target window", () => {
    const counts = compare(
      shipped("laminating-roller.yaml", { "bind.pressure": "1250 MPa", "clamp.force": "300 ±250 N" }),
      20_000,
    );
    expect(counts.disagree).toBe(0);
    expect(counts.byOutcome.get(BIND) ?? 0).toBeGreaterThan(100);
  });

  test("where bearings are left without radial clearance, and where offsets are reversed", () => {
    const tight = compare(
      shipped("laminating-roller.yaml", {
        "bearings.both.clearanceGroup": undefined,
        "bearings.both.clearance": "0..6 um",
      }),
      20_000,
    );
    expect(tight.disagree).toBe(0);
    const changes = { "chain.housing shoulder spacing.length": "31.85 ±0.3" };
    const wide = compare(shipped("laminating-roller.yaml", changes), 20_000);
    expect(wide.disagree).toBe(0);
    for (const outcome of [REVERSED, PLAY, TARGET, HEAVY, BIND]) expect(wide.byOutcome.get(outcome)).toBeGreaterThan(0);
  });
});

describe("windows of one unit", () => {
  const states = [
    { name: "bench", housing: "20 degC" },
    { name: "hot", housing: "80 degC", shaft: "60 degC" },
  ];
  const scenario = fixedPair({ states });

  test("the preload at either end of a state's window is the limit of the target, and there is none below the onset", () => {
    const { windows } = evaluateOne(scenario, NOMINAL_RINGS);
    const preloadAt = (machinedMm: number, state: string) =>
      evaluateOne(scenario, { ...NOMINAL_RINGS, "chain.housing spacing": 40 + machinedMm }).state(state).preloadN[0];
    // The windows of heated states are taken at the unit's own lengths: its growth is that of this unit, not of the end.
    expect(preloadAt(windows.states[0].lowMm[0], "bench")).toBeCloseTo(50, 6);
    expect(preloadAt(windows.states[0].highMm[0], "bench")).toBeCloseTo(500, 6);
    expect(preloadAt(windows.states[0].bindMm[0], "bench")).toBeCloseTo(2000, 5);
    expect(preloadAt(windows.states[0].onsetMm[0] - 1e-9, "bench")).toBe(0);
    expect(preloadAt(windows.states[0].onsetMm[0] + 1e-6, "bench")).toBeGreaterThan(0);
    const hot = preloadAt(windows.states[1].lowMm[0], "hot");
    expect(Math.abs(hot - 50)).toBeLessThan(1);
  });

  test("all states together: the greatest low end and the least high end, each with the state that sets it", () => {
    const { windows } = evaluateOne(scenario, NOMINAL_RINGS);
    const [bench, hot] = windows.states;
    expect(windows.lowMm[0]).toBe(Math.max(bench.lowMm[0], hot.lowMm[0]));
    expect(windows.highMm[0]).toBe(Math.min(bench.highMm[0], hot.highMm[0]));
    expect(windows.lowState[0]).toBe(bench.lowMm[0] >= hot.lowMm[0] ? 0 : 1);
    expect(windows.highState[0]).toBe(bench.highMm[0] <= hot.highMm[0] ? 0 : 1);
  });
});
