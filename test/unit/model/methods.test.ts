import { describe, expect, test } from "vitest";
import { compileDraw, createInputs, drawBlock } from "../../../src/engine/draw.ts";
import { clearanceTerm, pairOffsetFor } from "../../../src/model/contact.ts";
import { solvePairShaft } from "../../../src/physics/pair-solution.ts";
import { positionPath, springPath } from "../../../src/physics/preload-path.ts";
import type { ResolvedScenario } from "../../../src/scenario/types.ts";
import { fixedPair, NOMINAL_RINGS } from "../../support/fixed-pair.ts";
import { shaftOf } from "../../support/loaded.ts";
import { type Evaluated, evaluateOne, flagsOf } from "../../support/model.ts";
import { shipped } from "../../support/shipped.ts";

const NO_LOAD = new Float64Array(5);
const HOT = { name: "hot", housing: "60 degC", shaft: "60 degC" };
const STATES = [{ name: "bench", housing: "20 degC" }, HOT];

/** The fixed pair with a spring of 5 mm free and 3 mm solid in 28 mm of housing: pressed by about 1 mm. */
function sprung(changes: Record<string, unknown> = {}): ResolvedScenario {
  return fixedPair({
    chain: [
      { name: "housing spacing", side: "housing", length: "36.1 mm", area: "100 mm2" },
      { name: "spacer", side: "shaft", length: "40 mm", area: "100 mm2" },
    ],
    preload: {
      method: "spring",
      spring: { freeLength: "5 mm", rate: "100 N/mm", solidHeight: "3 mm", slides: "outer-b" },
    },
    states: STATES,
    ...changes,
  });
}

function preloadIn(found: Evaluated, state: string): number {
  return found.state(state).preloadN[0];
}

/** The fixed pair's other rings are loose, which does not matter here; the sliding one must not be told as loose. */
function springFlags(found: Evaluated, state: string): string[] {
  const flags = flagsOf(found.state(state));
  expect(flags).not.toContain("outer-seat-lost-b");
  return flags.filter((flag) => !flag.includes("seat-lost"));
}

/** What the shaft gives way by, mm/N, as the members say. */
function complianceOf({ plan }: Evaluated): number {
  return plan.complianceMmPerN;
}

describe("a spring", () => {
  test("gives the preload that the solver in five degrees of freedom finds with the spring in its path", () => {
    const scenario = sprung();
    const found = evaluateOne(scenario, NOMINAL_RINGS);
    const offsetMm = found.state("bench").offsetMm[0];
    const path = springPath({
      offsetMm,
      complianceMmPerN: complianceOf(found),
      springComplianceMmPerN: 1 / 100,
      springSolidForceN: 200,
      slidingBearing: "b",
    });
    const { preloadN } = solvePairShaft(shaftOf(scenario, found, "bench", path), NO_LOAD);
    expect(preloadIn(found, "bench")).toBeGreaterThan(80);
    expect(preloadIn(found, "bench") / preloadN - 1).toBeLessThan(1e-8);
    expect(preloadIn(found, "bench") / preloadN - 1).toBeGreaterThan(-1e-8);
    expect(springFlags(found, "bench")).toEqual([]);
  });

  test("gives way to the structure when it is solid, as the solver in five degrees of freedom finds too", () => {
    const scenario = sprung();
    const found = evaluateOne(scenario, { ...NOMINAL_RINGS, "preload.spring.solidHeight": 4.1 });
    const path = springPath({
      offsetMm: found.state("bench").offsetMm[0],
      complianceMmPerN: complianceOf(found),
      springComplianceMmPerN: 1 / 100,
      springSolidForceN: 90,
      slidingBearing: "b",
    });
    const { preloadN } = solvePairShaft(shaftOf(scenario, found, "bench", path), NO_LOAD);
    expect(preloadIn(found, "bench")).toBeGreaterThan(90 * 1.05);
    expect(Math.abs(preloadIn(found, "bench") / preloadN - 1)).toBeLessThan(1e-8);
    expect(springFlags(found, "bench")).toEqual(["spring-solid"]);
  });

  test.each([
    [2, 1, 2],
    [1, 2, 0.5],
    [2, 2, 1],
  ])(
    "of %i side by side and %i behind one another has %d times the rate, and all of their lengths",
    (parallel, series, ratio) => {
      const one = sprung();
      const room = 36.1 - 5 * (series - 1);
      const stack = sprung({
        "preload.spring.parallel": parallel,
        "preload.spring.series": series,
        "chain.housing spacing.length": `${room} mm`,
      });
      const found = evaluateOne(stack, NOMINAL_RINGS);
      const single = evaluateOne(one, { ...NOMINAL_RINGS, "preload.spring.rate": 100 * ratio });
      // The stack's chain is longer by its springs and shorter by as much, and its travel never ends here.
      expect(found.state("bench").offsetMm[0]).toBeCloseTo(single.state("bench").offsetMm[0], 10);
      // The housing member that gives way is 5 mm shorter for each further spring: a few parts in 100 000.
      expect(Math.abs(preloadIn(found, "bench") / preloadIn(single, "bench") - 1)).toBeLessThan(1e-4);
    },
  );

  test("face-to-face pushes the outer ring from the outboard side: the chain turns round with it", () => {
    const scenario = fixedPair({
      arrangement: "face-to-face",
      chain: [
        { name: "housing between shoulder and cover", side: "housing", length: "57.9 mm" },
        { name: "spacer", side: "shaft", length: "40 mm" },
      ],
      preload: { method: "spring", spring: { freeLength: "5 mm", rate: "100 N/mm", solidHeight: "3 mm" } },
      states: STATES,
    });
    expect(scenario.bearings.b.outer.seatSide).toBe("outboard");
    // Outer rings: 57.9 − 5 − 14 = 38.9 mm apart with the spring free, inner rings 40 mm: pressed by 1.1 mm.
    const found = evaluateOne(scenario, { ...NOMINAL_RINGS, "bearings.b.width": 14 });
    expect(found.state("bench").offsetMm[0]).toBeCloseTo(1.1, 9);
    expect(preloadIn(found, "bench")).toBeGreaterThan(80);
  });

  test("that hangs free leaves the pair without preload, held by the other bearing alone", () => {
    const found = evaluateOne(sprung(), { ...NOMINAL_RINGS, "preload.spring.freeLength": 3.8 });
    const halfPlayMm = Math.sqrt(
      clearanceTerm(found.workspace.bearings[0].grooveDistanceMm[0], found.state("bench").clearanceAMm[0]),
    );
    expect(preloadIn(found, "bench")).toBe(0);
    expect(found.state("bench").playMm[0]).toBeCloseTo(2 * halfPlayMm, 12);
  });

  test("is bypassed where the seat of its ring closes: the ring stands where the bench left it, and is flagged", () => {
    const loose = sprung({ states: [STATES[0], { ...HOT, housing: "20 degC", shaft: "60 degC" }] });
    const tight = { "seats.housing.b.diameter": 46.99 };
    const stuck = evaluateOne(loose, { ...NOMINAL_RINGS, ...tight });
    expect(springFlags(stuck, "bench")).toEqual(["spring-stuck"]);
    expect(springFlags(stuck, "hot")).toEqual(["spring-stuck"]);
    // By hand: the offset of the hot state less what the spring was pressed by on the bench, by position.
    const hot = stuck.state("hot");
    const give = preloadIn(stuck, "bench") / 100;
    const path = positionPath(hot.offsetMm[0] - give, complianceOf(stuck));
    const { preloadN } = solvePairShaft(shaftOf(loose, stuck, "hot", path), NO_LOAD);
    expect(Math.abs(preloadIn(stuck, "hot") / preloadN - 1)).toBeLessThan(1e-7);
    // With a loose ring the spring takes the growth up and the preload hardly moves.
    const sliding = evaluateOne(loose, NOMINAL_RINGS);
    expect(Math.abs(preloadIn(sliding, "hot") / preloadIn(sliding, "bench") - 1)).toBeLessThan(0.05);
    expect(Math.abs(preloadIn(stuck, "hot") / preloadIn(stuck, "bench") - 1)).toBeGreaterThan(0.2);
  });
});

describe("an adjuster", () => {
  const adjusted = (changes: Record<string, unknown>) =>
    fixedPair({ preload: { method: "adjuster", adjuster: { advance: "10 um" } }, states: STATES, ...changes });

  test("sets the offset past the unit's own onset, whatever its parts measure", () => {
    const scenario = adjusted({});
    const short = evaluateOne(scenario, NOMINAL_RINGS);
    const long = evaluateOne(scenario, { ...NOMINAL_RINGS, "chain.spacer": 39.8, "bearings.a.standOut": 0.01 });
    const { bearings } = short.workspace;
    const bench = short.state("bench");
    const onset =
      Math.sqrt(clearanceTerm(bearings[0].grooveDistanceMm[0], bench.clearanceAMm[0])) +
      Math.sqrt(clearanceTerm(bearings[1].grooveDistanceMm[0], bench.clearanceBMm[0]));
    expect(bench.offsetMm[0]).toBeCloseTo(onset + 0.01, 12);
    expect(long.state("bench").offsetMm[0]).toBeCloseTo(bench.offsetMm[0], 12);
    expect(preloadIn(long, "bench")).toBeCloseTo(preloadIn(short, "bench"), 6);
  });

  test("turned to a torque gives the preload whose friction that is (Palmgren: z(P0/C0)^y·P1·d, by hand)", () => {
    const scenario = adjusted({
      preload: { method: "adjuster", adjuster: { torque: "20 N.mm", noLoadTorque: "4 N.mm" } },
    });
    const found = evaluateOne(scenario, NOMINAL_RINGS);
    const force = preloadIn(found, "bench");
    // Series 60 stands for a bearing without a designation: z = 0.0007, y = 0.5; P0 = 0.5 F, P1 = 3.3 F.
    const perBearing = 0.0007 * Math.sqrt((0.5 * force) / 5000) * 3.3 * force * 33.095;
    expect(2 * perBearing).toBeCloseTo(16, 6);
  });

  test("holds its setting in the other states: they follow by heat alone, as by position", () => {
    const scenario = adjusted({});
    const found = evaluateOne(scenario, NOMINAL_RINGS);
    const position = fixedPair({ states: STATES });
    const same = evaluateOne(position, {
      ...NOMINAL_RINGS,
      "chain.housing spacing": 40 + found.workspace.machinedOffsetMm[0],
    });
    expect(preloadIn(found, "bench")).toBeCloseTo(preloadIn(same, "bench"), 6);
    // But for the growth of the few micrometres that were set instead of machined.
    expect(Math.abs(preloadIn(found, "hot") / preloadIn(same, "hot") - 1)).toBeLessThan(1e-3);
  });
});

test("binding at a torque is binding at the preload that has it (Palmgren, by hand)", () => {
  const scenario = fixedPair({ "bind.torque": "60 N.mm", window: "50..300 N" });
  const force = scenario.limits.bindN;
  const idle = 1.1 * 160 * 33.095 ** 3 * 1e-7;
  const loaded = 0.0007 * Math.sqrt((0.5 * force) / 5000) * 3.3 * force * 33.095;
  expect(2 * (idle + loaded)).toBeCloseTo(60, 6);
  expect(force).toBeLessThan(2000);
});

describe("shims", () => {
  const shimmed = (shim: Record<string, unknown>) =>
    fixedPair({ preload: { method: "shim", shim: { step: "0.02 mm", error: "0 ±5 um", ...shim } }, states: STATES });

  test.each([
    [40.15, 0, 0.16],
    [40.189, 0, 0.169],
    [40.191, 0, 0.171],
    [40.15, 0.011, 0.18],
  ])(
    "by dimensions: %d mm with an error of %d mm ends at %d mm, the step nearest to the aim of 0.165",
    (spacing, error, ends) => {
      const scenario = shimmed({ measure: "dimensions", aim: "0.165 mm" });
      const found = evaluateOne(scenario, {
        ...NOMINAL_RINGS,
        "chain.housing spacing": spacing,
        "preload.shim.error": error,
      });
      const machined = spacing - 40;
      // Round half away from nothing is no matter here: no case lies on a half step.
      const byHand = machined + 0.02 * Math.round((0.165 - machined + error) / 0.02);
      expect(found.workspace.machinedOffsetMm[0]).toBeCloseTo(byHand, 12);
      expect(Math.abs(byHand - ends)).toBeLessThan(0.011);
    },
  );

  test("by play: the unit's own onset and half a step are what is left", () => {
    const scenario = shimmed({ measure: "play", aim: "0.012 mm" });
    for (const spacing of [40.08, 40.123, 40.19]) {
      const found = evaluateOne(scenario, {
        ...NOMINAL_RINGS,
        "chain.housing spacing": spacing,
        "preload.shim.error": 0,
      });
      const onset = found.windows.states[0].onsetMm[0];
      expect(Math.abs(found.workspace.machinedOffsetMm[0] - onset - 0.012)).toBeLessThanOrEqual(0.01 + 1e-12);
    }
  });

  test("never beyond the stock", () => {
    const scenario = shimmed({ measure: "dimensions", aim: "0.3 mm", range: "-0.05..0.05 mm" });
    const found = evaluateOne(scenario, { ...NOMINAL_RINGS, "preload.shim.error": 0 });
    expect(found.workspace.machinedOffsetMm[0]).toBeCloseTo(0.15 + 0.04, 12);
  });

  test("aim at the middle of the nominal window when nothing is said", () => {
    const scenario = shimmed({ measure: "dimensions" });
    const position = evaluateOne(fixedPair({ states: STATES }));
    const middle = 0.5 * (position.windows.lowMm[0] + position.windows.highMm[0]);
    expect(evaluateOne(scenario).plan.shim?.aimMm).toBeCloseTo(middle, 10);
  });
});

describe("an angular-contact bearing", () => {
  test("in a ground pair with equal spacers carries from the ground offset on, whatever its angle", () => {
    const scenario = fixedPair({
      bearings: { both: { designation: "7004", contactAngle: "15 ±2 deg", standOut: "3 um", ringRoughness: "0 um" } },
      "chain.housing spacing.length": "40 mm",
      "seats.shaft.both": { fit: "19.99 mm", retained: true },
      "seats.housing.both": { fit: "42.01 mm", retained: true },
    });
    const rings = {
      "bearings.a.bore": 20,
      "bearings.b.bore": 20,
      "bearings.a.outsideDiameter": 42,
      "bearings.b.outsideDiameter": 42,
    };
    const degree = Math.PI / 180;
    for (const angle of [13.2, 15, 16.7]) {
      const row = { ...rings, "bearings.a.contactAngle": angle * degree, "bearings.b.contactAngle": 15 * degree };
      const found = evaluateOne(scenario, row);
      const bench = found.state("bench");
      const [a, b] = found.workspace.bearings;
      const onset = pairOffsetFor(
        0,
        a.grooveDistanceMm[0],
        clearanceTerm(a.grooveDistanceMm[0], bench.clearanceAMm[0]),
        a.stiffness[0],
        b.grooveDistanceMm[0],
        clearanceTerm(b.grooveDistanceMm[0], bench.clearanceBMm[0]),
        b.stiffness[0],
        0,
      );
      expect(bench.offsetMm[0] - onset).toBeCloseTo(0.006, 10);
      expect(bench.preloadN[0]).toBeGreaterThan(5);
      // cos α0 = 1 − G/2A: the clearance that the angle stands for (Harris).
      expect(Math.acos(1 - bench.clearanceAMm[0] / (2 * a.grooveDistanceMm[0])) / degree).toBeCloseTo(angle, 9);
    }
  });
});

test("two methods on the same parts draw the same parts, so that they can be compared unit by unit", () => {
  const device = { method: "adjuster", adjuster: { advance: "10 ±3 um" } };
  const position = shipped("laminating-roller.yaml");
  const adjusted = shipped("laminating-roller.yaml", { preload: device });
  const columns = (scenario: ResolvedScenario) => {
    const draw = compileDraw(scenario);
    const inputs = createInputs(draw, 256);
    drawBlock(draw, 3, inputs, 256);
    return new Map(scenario.variables.map(({ name }, place) => [name, Array.from(inputs[place])]));
  };
  const [one, other] = [columns(position), columns(adjusted)];
  expect([...other.keys()].filter((name) => !one.has(name))).toEqual(["preload.adjuster.advance"]);
  for (const [name, values] of one) expect(other.get(name), name).toEqual(values);
});
