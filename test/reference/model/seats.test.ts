import { describe, expect, test } from "vitest";
import { fixedPair, NOMINAL_RINGS } from "../../support/fixed-pair.ts";
import { evaluateOne, flagsOf, outcomeOf } from "../../support/model.ts";

const aluminium = { name: "6061", expansion: "23.4 um/m/K", youngsModulus: "68.9 GPa", poissonRatio: 0.33 };
const titanium = { name: "Ti-6Al-4V", expansion: "8.6 um/m/K", youngsModulus: "113.8 GPa", poissonRatio: 0.342 };
const freeMm = 0.02;

describe("clearance before and after mounting: Lamé cylinders through an evaluated unit (see SOURCE.md)", () => {
  // 10 µm of interference on one seat, the other loose; growth of the inner or shrinkage of the outer groove in µm.
  test.each([
    ["solid steel shaft", {}, 7.499063],
    ["steel shaft, bore 8", { "seats.shaft.bore": "8 mm" }, 6.922041],
    ["steel shaft, bore 10", { "seats.shaft.bore": "10 mm" }, 6.544369],
    ["steel shaft, bore 14", { "seats.shaft.bore": "14 mm" }, 5.279252],
    ["solid Ti-6Al-4V shaft", { "seats.shaft.material": titanium }, 6.75594],
    ["solid 6061 shaft", { "seats.shaft.material": aluminium }, 5.81584],
  ])("inner ring on a %s", (_, changes, growthUm) => {
    const scenario = fixedPair({ "seats.shaft.both.fit": "20.01 mm", ...changes });
    const bench = evaluateOne(scenario, NOMINAL_RINGS).state("bench");
    // The last digit printed of the reference, in mm.
    const digit = String(growthUm).split(".")[1].length + 3;
    expect(freeMm - bench.clearanceAMm[0]).toBeCloseTo(growthUm / 1000, digit);
    expect(bench.clearanceBMm[0]).toBe(bench.clearanceAMm[0]);
    expect(flagsOf(bench)).toEqual(["outer-seat-lost-a", "outer-seat-lost-b"]);
  });

  test.each([
    ["steel, outside 100", { "seats.housing.outsideDiameter": "100 mm" }, 7.763616],
    ["steel, outside 70", {}, 6.778356],
    ["steel, outside 60", { "seats.housing.outsideDiameter": "60 mm" }, 5.738599],
    ["6061, outside 70", { "seats.housing.material": aluminium }, 3.95929],
  ])("outer ring in a housing of %s", (_, changes, shrinkUm) => {
    const scenario = fixedPair({ "seats.housing.both.fit": "46.99 mm", ...changes });
    const bench = evaluateOne(scenario, NOMINAL_RINGS).state("bench");
    const digit = String(shrinkUm).split(".")[1].length + 3;
    expect(freeMm - bench.clearanceAMm[0]).toBeCloseTo(shrinkUm / 1000, digit);
    expect(flagsOf(bench)).toEqual(["inner-seat-lost-a", "inner-seat-lost-b"]);
  });

  test("both seats take their share, and smoothing takes 0.8·(Rz + Rz) off the interference (DIN 7190-1)", () => {
    const changes = { "seats.shaft.both.fit": "20.01 mm", "seats.housing.both.fit": "46.99 mm" };
    const smooth = evaluateOne(fixedPair(changes), NOMINAL_RINGS).state("bench");
    expect(freeMm - smooth.clearanceAMm[0]).toBeCloseTo((7.499063 + 6.778356) / 1000, 9);
    const rough = fixedPair({ ...changes, "seats.shaft.roughness": "3 um", "bearings.both.ringRoughness": "1 um" });
    // Shaft 0.8·(3 + 1) = 3.2 µm, housing 0.8·1 = 0.8 µm of 10 µm.
    const left = evaluateOne(rough, NOMINAL_RINGS).state("bench");
    expect(freeMm - left.clearanceAMm[0]).toBeCloseTo((7.499063 * 0.68 + 6.778356 * 0.92) / 1000, 8);
  });
});

const states = (housing: string, more: object = {}) => [
  { name: "bench", housing: "20 degC" },
  { name: "hot", housing, ...more },
];

describe("heat", () => {
  test("one material everywhere at one temperature: the offset grows by its own α·ΔT, the mounted clearance by none of the rings'", () => {
    const scenario = fixedPair({
      "seats.shaft.both.fit": "20.01 mm",
      "seats.housing.both.fit": "46.99 mm",
      states: states("120 degC"),
    });
    const unit = evaluateOne(scenario, NOMINAL_RINGS);
    const bench = unit.state("bench");
    const hot = unit.state("hot");
    const growth = 1 + 12e-6 * 100;
    expect(hot.offsetMm[0]).toBeCloseTo(bench.offsetMm[0] * growth, 12);
    // Interference grows by its own α·ΔT; D₁ − d₁ − 2·D_w = 0, so that rings and balls cancel.
    const lost = freeMm - bench.clearanceAMm[0];
    expect(freeMm - hot.clearanceAMm[0]).toBeCloseTo(lost * growth, 12);
    expect(flagsOf(hot)).toEqual([]);
  });

  test("rings warmer inside than outside lose clearance: α·[D₁·ΔT_o − d₁·ΔT_i − 2·D_w·ΔT_b], balls midway", () => {
    const scenario = fixedPair({ states: states("60 degC", { shaft: "80 degC" }) });
    const hot = evaluateOne(scenario, NOMINAL_RINGS).state("hot");
    const change = 12e-6 * (39.52 * 40 - 26.67 * 60 - 2 * 6.425 * 50);
    expect(change).toBeLessThan(-0.0079);
    expect(hot.clearanceAMm[0]).toBeCloseTo(freeMm + change, 12);
  });

  test("ceramic balls grow less: 3.2 against 12 µm/(m·K) leave 2·D_w·8.8e-6·ΔT of clearance at uniform heat", () => {
    const ceramic = { name: "ceramic", expansion: "3.2 um/m/K", youngsModulus: "310 GPa", poissonRatio: 0.26 };
    const scenario = fixedPair({ "bearings.both.balls": ceramic, states: states("120 degC") });
    const unit = evaluateOne(scenario, NOMINAL_RINGS);
    expect(unit.state("hot").clearanceAMm[0]).toBeCloseTo(freeMm + 2 * 6.425 * 8.8e-6 * 100, 12);
    // Stiffer than steel balls: K follows E′ of the pair of materials, (2/3)·… with 1/E′ = Σ(1 − ν²)/E for either contact.
    const perSteel = (1 - 0.09) / 208_000;
    const perCeramic = (1 - 0.26 * 0.26) / 310_000;
    const steel = evaluateOne(fixedPair(), NOMINAL_RINGS).workspace.bearings[0].stiffness[0];
    const ratio = (2 * perSteel) / (perSteel + perCeramic);
    expect(unit.workspace.bearings[0].stiffness[0] / steel).toBeCloseTo(ratio, 9);
  });

  test("an aluminium housing loses its fit where D·(1 + α_r·ΔT) = bore·(1 + α_h·ΔT) + smoothing, and transmits nothing past it", () => {
    const bore = 46.98;
    const smoothing = 0.8 * 0.005;
    const rise = (47 - bore - smoothing) / (bore * 23.4e-6 - 47 * 12e-6);
    expect(rise).toBeGreaterThan(29);
    expect(rise).toBeLessThan(31);
    const at = (temperature: number) =>
      evaluateOne(
        fixedPair({
          "seats.housing.both.fit": `${bore} mm`,
          "seats.housing.material": aluminium,
          "seats.housing.roughness": "5 um",
          states: states(`${temperature} degC`),
        }),
        NOMINAL_RINGS,
      );
    const before = at(20 + rise - 0.001);
    expect(flagsOf(before.state("hot"))).toEqual(["inner-seat-lost-a", "inner-seat-lost-b"]);
    expect(flagsOf(before.state("bench"))).toEqual(["inner-seat-lost-a", "inner-seat-lost-b"]);
    const past = at(20 + rise + 0.001).state("hot");
    expect(flagsOf(past)).toEqual(["inner-seat-lost-a", "inner-seat-lost-b", "outer-seat-lost-a", "outer-seat-lost-b"]);
    // Steel rings and balls at one temperature: the free clearance is back.
    expect(past.clearanceAMm[0]).toBeCloseTo(freeMm, 12);
    expect(before.state("bench").clearanceAMm[0]).toBeLessThan(freeMm - 0.005);
  });

  test("dimensions measured at 30 °C are shorter at 20 °C by α·10 K, each by its own α", () => {
    const scenario = fixedPair({ measuredAt: "30 degC", "seats.housing.material": aluminium });
    const unit = evaluateOne(scenario, NOMINAL_RINGS);
    const expected = 40.15 / (1 + 23.4e-5) - 40 / (1 + 12e-5);
    expect(unit.workspace.machinedOffsetMm[0]).toBeCloseTo(expected, 12);
  });
});

describe("clamp", () => {
  const clamped = (changes: Record<string, unknown> = {}) =>
    fixedPair({
      clamp: { force: "2000 N" },
      "chain.spacer.area": "100 mm2",
      "chain.spacer.clampPath": true,
      "seats.shaft.both.retained": false,
      ...changes,
    });

  test("2000 N shorten 40 mm of 100 mm² of steel by P·L/(E·A) = 3.846 µm, which adds to the offset back-to-back", () => {
    const unit = evaluateOne(clamped(), NOMINAL_RINGS);
    const shortening = (2000 * 40) / (208_000 * 100);
    expect(1000 * shortening).toBeCloseTo(3.846, 3);
    expect(unit.workspace.machinedOffsetMm[0]).toBeCloseTo(0.15, 12);
    expect(unit.state("bench").offsetMm[0]).toBeCloseTo(0.15 + shortening, 12);
    expect(flagsOf(unit.state("bench"))).not.toContain("clamp-exceeded");
  });

  test("the same takes from the offset face-to-face, where shaft members count plus", () => {
    const scenario = clamped({ arrangement: "face-to-face", "chain.housing spacing.length": "39.85 mm" });
    const bench = evaluateOne(scenario, NOMINAL_RINGS).state("bench");
    expect(bench.offsetMm[0]).toBeCloseTo(0.15 - (2000 * 40) / (208_000 * 100), 12);
  });

  test("a preload above the clamp force that holds the inner rings is capped at it and flagged", () => {
    const free = evaluateOne(fixedPair({ "chain.housing spacing.length": "40.2 mm" }), NOMINAL_RINGS).state("bench");
    expect(free.preloadN[0]).toBeGreaterThan(600);
    const scenario = clamped({ "clamp.force": "300 N", "chain.housing spacing.length": "40.2 mm" });
    const unit = evaluateOne(scenario, NOMINAL_RINGS);
    expect(unit.state("bench").preloadN[0]).toBe(300);
    expect(flagsOf(unit.state("bench"))).toContain("clamp-exceeded");
    expect(outcomeOf(unit.state("bench"))).toBe("target");
    // More offset adds no preload: the window has no upper end.
    expect(unit.windows.highMm[0]).toBe(Number.POSITIVE_INFINITY);
    expect(unit.windows.lowMm[0]).toBeLessThan(0.2);
  });

  test("a clamp below the window can never bring a unit into it", () => {
    const unit = evaluateOne(
      clamped({ "clamp.force": "40 N", "chain.housing spacing.length": "40.2 mm" }),
      NOMINAL_RINGS,
    );
    expect(outcomeOf(unit.state("bench"))).toBe("light");
    expect(unit.windows.lowMm[0]).toBe(Number.POSITIVE_INFINITY);
  });
});
