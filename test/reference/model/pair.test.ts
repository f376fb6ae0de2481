import { describe, expect, test } from "vitest";
import { pairOffsetFor, solvePairs } from "../../../src/model/contact.ts";
import { freeContactAngleRad } from "../../../src/physics/axial-contact.ts";
import { evaluateNominal } from "../../../src/studies/nominal.ts";
import { fixedPair, NOMINAL_RINGS } from "../../support/fixed-pair.ts";
import { evaluateOne } from "../../support/model.ts";
import { onePair } from "../../support/pairs.ts";

const DEGREE = Math.PI / 180;

/** Harris's 209: dimensions ISO 15, loose seats so that the 15 µm stay. */
const HARRIS_209 = {
  "bearings.both.bore": "45 mm",
  "bearings.both.outsideDiameter": "85 mm",
  "bearings.both.width": "19 mm",
  "bearings.both.ballCount": 9,
  "bearings.both.ballDiameter": "12.7 mm",
  "bearings.both.pitchDiameter": "65 mm",
  "bearings.both.clearance": "15 um",
  "bearings.both.rings": { name: "steel", expansion: "12 um/m/K", youngsModulus: "207 GPa", poissonRatio: 0.3 },
  "bearings.both.balls": { name: "steel", expansion: "12 um/m/K", youngsModulus: "207 GPa", poissonRatio: 0.3 },
  "seats.shaft.both.fit": "44.98 mm",
  "seats.housing.both.fit": "85.02 mm",
  "seats.housing.outsideDiameter": "130 mm",
};

describe("bearing 209 through the whole model (Harris, Rolling Bearing Analysis; from memory)", () => {
  const scenario = fixedPair(HARRIS_209);

  test("15 µm of clearance: 9.857622° and 0.1739396 mm of end-to-end play, nothing lost in loose seats", () => {
    const [bench] = evaluateNominal(scenario).states;
    expect(bench.clearanceMm.a).toBe(0.015);
    expect(bench.contactAngleRad.a / DEGREE).toBeCloseTo(9.857622, 6);
    expect(bench.axialPlayMm.a).toBeCloseTo(0.1739396, 7);
    // A pair starts to carry at half the sum of the two end-to-end plays; shop practice takes the sum.
    expect(bench.onsetMm).toBeCloseTo(0.1739396, 7);
    expect(bench.sumOfPlaysMm).toBeCloseTo(2 * 0.1739396, 6);
  });

  test("contact constant 370 423.823566 N/mm^1.5 times 9 balls, to the 1e-9 of its printing", () => {
    const { workspace } = evaluateOne(scenario);
    expect(Math.abs(workspace.bearings[0].stiffness[0] / (9 * 370_423.823566) - 1)).toBeLessThan(1e-9);
    expect(workspace.bearings[1].stiffness[0]).toBe(workspace.bearings[0].stiffness[0]);
  });

  test("100 N lie 0.01520425 mm past the middle of either bearing's play (recomputed, 8 digits)", () => {
    const onset = 0.1739396;
    const run = (offsetMm: number) =>
      evaluateOne(scenario, { "chain.housing spacing": 40 + offsetMm }).state("bench").preloadN[0];
    const offset = onset + 2 * 0.01520425;
    // 11.57 N/µm of one bearing: half a digit in the 8th place and in the printed play are 1 mN or less.
    expect(Math.abs(run(offset) - 100)).toBeLessThan(0.01);
    expect(run(-offset)).toBe(-run(offset));
  });
});

describe("pair with Z·K = 9·265 145.67 N/mm^1.5, A = 0.254 mm, 12.5 µm each, rigid (recomputed by bracketing)", () => {
  const bearing = { distanceMm: 0.254, clearanceMm: 0.0125, stiffness: 9 * 265_145.67 };

  test.each([
    [49.75, 128.1879],
    [149.25, 141.9915],
  ])("%d N at %d µm", (forceN, offsetUm) => {
    const { w } = onePair(0, bearing, bearing);
    const offset = pairOffsetFor(forceN, 0.254, w[0], bearing.stiffness, 0.254, w[1], bearing.stiffness, 0);
    // Printed to 0.1 nm.
    expect(Math.abs(1000 * offset - offsetUm)).toBeLessThan(5.1e-5);
    const { columns } = onePair(offsetUm / 1000, bearing, bearing);
    solvePairs(columns, 1, 0);
    // 8.5 N/µm at most on the pair: half of 0.1 nm is below half a millinewton.
    expect(Math.abs(columns.forceN[0] - forceN)).toBeLessThan(5e-4);
    expect(columns.xA[0]).toBeCloseTo(offsetUm / 2000, 12);
  });

  test("no preload at 100 µm, where both bearings still have play", () => {
    const { columns } = onePair(0.1, bearing, bearing);
    solvePairs(columns, 1, 0);
    expect(columns.forceN[0]).toBe(0);
  });

  test("two different bearings carry the same force, each at its own displacement", () => {
    const other = { distanceMm: 0.31, clearanceMm: 0.02, stiffness: 12 * 244_695.27 };
    const { columns, w } = onePair(0.18, bearing, other);
    solvePairs(columns, 1, 0);
    const back = pairOffsetFor(columns.forceN[0], 0.254, w[0], bearing.stiffness, 0.31, w[1], other.stiffness, 0);
    expect(back).toBeCloseTo(0.18, 13);
    expect(columns.xA[0] + columns.xB[0]).toBeCloseTo(0.18, 15);
  });
});

describe("duplex pair 218 at 4450 N with the printed axial constant 896.7 N/mm² (Harris; from memory, recomputed)", () => {
  const ball = 22.23;
  const distanceMm = 0.0464 * ball;
  // F/(Z·D_w²·K) = sin α·(cos α₀/cos α − 1)^1.5 defines the printed constant.
  const stiffness = (16 * 896.7 * ball * ball) / (distanceMm * Math.sqrt(distanceMm));
  const clearanceMm = 2 * distanceMm * (1 - Math.cos(40 * DEGREE));
  const bearing = { distanceMm, clearanceMm, stiffness };
  const { w } = onePair(0, bearing, bearing);
  const offsetAt = (forceN: number) =>
    pairOffsetFor(forceN, distanceMm, w[0], stiffness, distanceMm, w[1], stiffness, 0);

  test("the free angle is 40°", () => {
    expect(freeContactAngleRad(distanceMm, clearanceMm) / DEGREE).toBeCloseTo(40, 12);
  });

  test("each bearing approaches by 0.0155467 mm (7 digits)", () => {
    expect((offsetAt(4450) - offsetAt(0)) / 2).toBeCloseTo(0.0155467, 7);
  });

  test("the pair has 872.01 N/µm against an external load: twice the slope of one bearing", () => {
    const step = 0.5;
    const slopeOfOne = (2 * step) / ((offsetAt(4450 + step) - offsetAt(4450 - step)) / 2);
    expect((2 * slopeOfOne) / 1000).toBeCloseTo(872.01, 2);
  });
});

test("rings at nominal sizes are the default of these checks: a scenario of constants has no other draw left", () => {
  const scenario = fixedPair();
  const drawn = scenario.variables.filter(({ distribution }) => distribution.kind !== "constant");
  expect(drawn.map(({ name }) => name).sort()).toEqual(Object.keys(NOMINAL_RINGS).sort());
});
