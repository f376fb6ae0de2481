import { describe, expect, test } from "vitest";
import { fixedPair, NOMINAL_RINGS } from "../../support/fixed-pair.ts";
import { evaluateOne } from "../../support/model.ts";

const SPRUNG_CHAIN = [
  { name: "housing spacing", side: "housing", length: "36.1 mm", area: "100 mm2" },
  { name: "spacer", side: "shaft", length: "40 mm", area: "100 mm2" },
];

test("a diaphragm's travel is what its stop leaves; far from it, as one with a solid height out of reach", () => {
  const preloadN = (spring: Record<string, unknown>) =>
    evaluateOne(
      fixedPair({
        chain: SPRUNG_CHAIN,
        preload: { method: "spring", spring: { freeLength: "5 mm", rate: "100 N/mm", slides: "outer-a", ...spring } },
      }),
      NOMINAL_RINGS,
    ).state("bench").preloadN[0];
  const far = preloadN({ solidHeight: "0.5 mm" });
  expect(far).toBeGreaterThan(90);
  expect(preloadN({ form: "diaphragm" })).toBe(far);
  expect(preloadN({ stop: "4.5 mm" })).toBe(far);
});

describe("the cylinder that stands for a ring under its fit", () => {
  test("out to the mean groove diameters 1.05(4d + D)/5 and 0.95(d + 4D)/5 (Lamé for one material, by hand)", () => {
    const found = evaluateOne(
      fixedPair({
        "bearings.both.ringModel": "mean-groove",
        "seats.shaft.both.fit": "20.010 mm",
        "seats.housing.both.fit": "46.990 mm",
      }),
      NOMINAL_RINGS,
    );
    const inner = (1.05 * (4 * 20 + 47)) / 5;
    const outer = (0.95 * (20 + 4 * 47)) / 5;
    // Δᵢ/I = d/d₁ on a solid shaft; Δₒ/I = (D₁/D)·[1 − (D/D_h)²]/[1 − (D₁/D_h)²].
    const growth = (0.01 * 20) / inner;
    const shrinkage = (0.01 * (outer / 47) * (1 - (47 / 70) ** 2)) / (1 - (outer / 70) ** 2);
    expect(found.state("bench").clearanceAMm[0]).toBeCloseTo(0.02 - growth - shrinkage, 12);
    expect(found.state("bench").clearanceBMm[0]).toBeCloseTo(0.02 - growth - shrinkage, 12);
  });
});

test("an adjuster whose reading is no more than the bearings resist without load leaves the pair at its onset", () => {
  const { state } = evaluateOne(
    fixedPair({ preload: { method: "adjuster", adjuster: { torque: "20 ±1 N.mm", noLoadTorque: "4 N.mm" } } }),
    // Far out of its limits, as a test alone can draw it.
    { ...NOMINAL_RINGS, "preload.adjuster.torque": 3 },
  );
  expect(state("bench").preloadN[0]).toBeLessThan(1e-6);
  expect(state("bench").playMm[0]).toBeLessThan(1e-9);
});

test("an oil bath makes the viscous friction 1.7/1.1 of that with grease (series 60, Palmgren's f₀ as printed): so the rise", () => {
  const riseK = (lubrication: string) => {
    const scenario = fixedPair({
      "chain.housing spacing.length": "40 mm",
      lubrication,
      thermal: {
        paths: [
          { from: "balls", to: "outer", conductance: "0.5 W/K" },
          { from: "balls", to: "inner", conductance: "0.5 W/K" },
          { from: "outer", to: "housing", conductance: "4 W/K" },
          { from: "inner", to: "shaft", conductance: "4 W/K" },
          { from: "housing", to: "ambient", conductance: "2 W/K" },
          { from: "shaft", to: "ambient", conductance: "2 W/K" },
        ],
      },
      states: [
        { name: "bench", housing: "20 degC" },
        { name: "run", network: { ambient: "20 degC" }, speed: "100 rpm", viscosity: "10 mm2/s" },
      ],
    });
    const run = evaluateOne(scenario, NOMINAL_RINGS).state("run");
    // No preload: nothing but the viscous part, without the temperature in it.
    expect(run.preloadN[0]).toBe(0);
    return run.frictionHeatW[0];
  };
  expect(riseK("oil bath") / riseK("grease")).toBeCloseTo(1.7 / 1.1, 9);
});

test("an adjuster turned to a torque with unlike bearings: the load parts of both add up to it (Palmgren, by hand)", () => {
  const scenario = fixedPair({
    bearings: { a: { designation: "6004" }, b: { designation: "7004", contactAngle: "25 deg" } },
    "seats.housing.both.fit": "42.01 mm",
    preload: { method: "adjuster", adjuster: { torque: "20 N.mm", noLoadTorque: "4 N.mm" } },
  });
  const force = evaluateOne(scenario).state("bench").preloadN[0];
  expect(force).toBeGreaterThan(10);
  const { a, b } = scenario.bearings;
  // Series 60: z = 0.0007, y = 0.5, P₀ = 0.5·F, P₁ = 3.3·F; series 70 at 25°: z = 0.001, y = 0.33, P₀ = 0.38·F, P₁ = F.
  const ofA = 0.0007 * ((0.5 * force) / a.staticRatingN) ** 0.5 * 3.3 * force * a.pitchDiameterMm;
  const ofB = 0.001 * ((0.38 * force) / b.staticRatingN) ** 0.33 * force * b.pitchDiameterMm;
  expect(ofA + ofB).toBeCloseTo(16, 6);
});
