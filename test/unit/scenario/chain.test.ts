import { describe, expect, it } from "vitest";
import { checkScenario } from "../../../src/scenario/check.ts";
import { resolved, variable } from "../../support/scenario.ts";

/** Spacings that suit the seats' sides: 6004 rings are 12 mm wide, −0.12/0 by ISO 492. */
const seats = (outerA: string, outerB: string, innerA: string, innerB: string) => ({
  "seats.housing.a.seatSide": outerA,
  "seats.housing.b.seatSide": outerB,
  "seats.shaft.a.seatSide": innerA,
  "seats.shaft.b.seatSide": innerB,
});

describe("the dimension chain", () => {
  it("offset = housing − shaft back to back, shaft − housing face to face; subtract turns a member", () => {
    const chain = [
      { name: "hub", side: "housing", length: "60.2 ±0.01" },
      { name: "cover", side: "housing", length: "20 ±0.01", subtract: true },
      { name: "spacer", side: "shaft", length: "40.1 ±0.01" },
    ];
    expect(checkScenario(resolved({ chain })).nominalMm).toBeCloseTo(0.1, 12);
    expect(checkScenario(resolved({ chain, arrangement: "X" })).nominalMm).toBeCloseTo(-0.1, 12);
  });

  it("a member takes material and zone of its side when it names none", () => {
    const { chain } = resolved({ "seats.housing.material": "aluminium-6061" });
    expect(chain.map(({ material, zone }) => [material.name, zone])).toEqual([
      ["aluminium-6061", "housing"],
      ["carbon-steel", "shaft"],
    ]);
  });

  it("a zone goes by its name in the states or in the results", () => {
    const zones = ["outerRingA", "outer-a", "innerRingB", "ballsA", "housing"].map(
      (zone) => resolved({ "chain.spacer.zone": zone }).chain[1].zone,
    );
    expect(zones).toEqual(["outer-a", "outer-a", "inner-b", "balls-a", "housing"]);
  });

  it("a member with an area gives way under the preload, one in the clamp path under the clamp, unless it says otherwise", () => {
    const clamp = { force: "1 kN" };
    const flags = (changes: object) => {
      const { areaMm2, inClampPath, carriesPreload } = resolved({ clamp, ...changes }).chain[1];
      return [areaMm2, inClampPath, carriesPreload];
    };
    expect(flags({})).toEqual([null, false, false]);
    expect(flags({ "chain.spacer.area": "150 mm2" })).toEqual([150, false, true]);
    expect(flags({ "chain.spacer.area": "1.5 cm2", "chain.spacer.clampPath": true })).toEqual([150, true, false]);
    expect(flags({ "chain.spacer.area": "150 mm2", "chain.spacer.carriesPreload": false })).toEqual([
      150,
      false,
      false,
    ]);
  });

  it("a length may carry an ISO 286 code (ISO 286-2: 40 h9 is 0/−62 µm)", () => {
    const { distribution } = variable(resolved({ "chain.spacer.length": "40 h9" }), "chain.spacer");
    expect(distribution).toMatchObject({ low: 39.938, high: 40 });
  });
});

describe("ring widths enter where the two rings of a bearing sit on opposite sides", () => {
  it("not at all when both rings sit on the same side", () => {
    expect(resolved(seats("outboard", "outboard", "outboard", "outboard")).chain).toHaveLength(2);
    expect(resolved(seats("inboard", "outboard", "inboard", "outboard")).chain).toHaveLength(2);
  });

  it.each([
    // Outer ring centres = H + s·B/2 a bearing, s = +1 inboard, −1 outboard; inner ones = S + s·B/2: worked out by hand.
    ["outer inboard, inner outboard on a", seats("inboard", "inboard", "outboard", "inboard"), "28.13 ±0.01", 1],
    ["outer outboard, inner inboard on b", seats("inboard", "outboard", "inboard", "inboard"), "52.13 ±0.01", -1],
    ["outer outboard, inner inboard on both", seats("outboard", "outboard", "inboard", "inboard"), "64.13 ±0.01", -2],
  ])("%s", (_what, sides, housing, widths) => {
    const scenario = resolved({ ...sides, "chain.housing spacing.length": housing });
    const stack = checkScenario(scenario);
    // The middle of a ring width is 12 − 0.06.
    expect(stack.nominalMm).toBeCloseTo(0.13 - 0.06 * widths, 9);
    const width = stack.parts.filter(({ group }) => group === "ring width");
    expect(width.map(({ sensitivityRatio }) => sensitivityRatio)).toEqual(
      Array(Math.abs(widths)).fill(Math.sign(widths)),
    );
    expect(width[0]).toMatchObject({ low: 11.88, high: 12 });
  });

  it("half of it as warm as the outer ring, half as the inner", () => {
    const changes = {
      ...seats("inboard", "inboard", "outboard", "inboard"),
      "chain.housing spacing.length": "28.13 ±0.01",
    };
    const halves = resolved(changes).chain.slice(2);
    expect(halves).toMatchObject([
      { side: "housing", factor: 0.5, zone: "outer-a", material: { name: "bearing-steel" } },
      { side: "shaft", factor: -0.5, zone: "inner-a", material: { name: "bearing-steel" } },
    ]);
    expect(halves[0].length).toBe(halves[1].length);
  });
});

describe("worst case and root sum square at 20 °C", () => {
  it("of three parts by hand: 0.10 ± (10 + 6 + 2) µm and ± √(100 + 36 + 4) µm", () => {
    const chain = [
      { name: "hub", side: "housing", length: "40.1 ±0.010" },
      { name: "spacer", side: "shaft", length: "39.9 ±0.006" },
      { name: "shim", side: "shaft", length: "0.1 +0.004/0" },
    ];
    const { nominalMm, worstCase, rootSumSquare } = checkScenario(resolved({ chain }));
    expect(nominalMm).toBeCloseTo(0.098, 12);
    expect(worstCase).toEqual({ lowMm: expect.closeTo(0.08, 12), highMm: expect.closeTo(0.116, 12) });
    expect(rootSumSquare.highMm - nominalMm).toBeCloseTo(Math.sqrt(140) / 1000, 12);
  });

  it("with stand-out and clamp: P·L/(E·A) = 2000·40/(206 000·100) mm = 3.88 µm more for a shaft spacer", () => {
    const scenario = resolved({
      clamp: { force: "2 kN" },
      "chain.spacer.area": "100 mm2",
      "chain.spacer.clampPath": true,
      "bearings.both.standOut": "0 ±4 um",
    });
    const stack = checkScenario(scenario);
    expect(stack.clampShiftMm).toBeCloseTo((2000 * 40) / (206_000 * 100), 12);
    expect(stack.worstCaseWithStandOut.highMm - stack.worstCase.highMm).toBeCloseTo(0.008 + stack.clampShiftMm, 12);
  });

  it("dimensions measured at 30 °C are brought back to 20 °C: 40·11.6e-6·10 mm shorter a side", () => {
    const { nominalMm } = checkScenario(
      resolved({ measuredAt: "30 degC", "seats.housing.material": "aluminium-6061" }),
    );
    const shrunk = 40.13 / (1 + 23.4e-6 * 10) - 40 / (1 + 11.6e-6 * 10);
    expect(nominalMm).toBeCloseTo(shrunk, 12);
  });
});
