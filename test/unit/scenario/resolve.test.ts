import { describe, expect, it } from "vitest";
import { parseScenario } from "../../../src/scenario/parse.ts";
import type { RingSeat } from "../../../src/scenario/types.ts";
import { LEAST_SCENARIO, resolved, variable } from "../../support/scenario.ts";

const input = (scenario: ReturnType<typeof resolved>, path: string) =>
  scenario.inputs.find((line) => line.path === path);

describe("what the least scenario leaves out comes from catalogue, standard or a stated assumption", () => {
  const scenario = resolved();

  it("boundary dimensions of 6004 (ISO 15: 20 × 42 × 12 mm)", () => {
    const { boreMm, outsideDiameterMm, widthMm } = scenario.bearings.a;
    expect([boreMm, outsideDiameterMm, widthMm]).toEqual([20, 42, 12]);
    expect(input(scenario, "bearings.a.boundary")?.origin).toBe("catalogue");
  });

  it("clearance group CN, bore over 18 to 24 mm (ISO 5753-1: 5 to 20 µm), limits at ±3 sigma", () => {
    const { distribution } = variable(scenario, "bearings.a.clearance");
    expect(distribution).toMatchObject({ kind: "truncated-normal", low: 0.005, high: 0.02 });
    expect(distribution).toMatchObject({ mean: 0.0125, sd: expect.closeTo(0.0025, 15) });
    expect(input(scenario, "bearings.a.clearance")).toMatchObject({
      value: "5–20 µm, truncated normal",
      origin: "assumption",
      source: expect.stringContaining("ISO 5753-1:2009, group CN"),
    });
  });

  it("ring bore and outside diameter of class Normal (ISO 492: 20 −0.010/0, 42 −0.011/0)", () => {
    expect(variable(scenario, "bearings.b.bore").distribution).toMatchObject({ low: 19.99, high: 20 });
    expect(variable(scenario, "bearings.b.outsideDiameter").distribution).toMatchObject({ low: 41.989, high: 42 });
  });

  it("seats by code (ISO 286-2: 20 k5 is +2/+11 µm, 42 J7 is −11/+14 µm)", () => {
    expect(variable(scenario, "seats.shaft.a.diameter").distribution).toMatchObject({ low: 20.002, high: 20.011 });
    expect(variable(scenario, "seats.housing.a.diameter").distribution).toMatchObject({ low: 41.989, high: 42.014 });
    expect(input(scenario, "seats.housing.a.diameter")?.source).toMatch(/ISO 286-1:2010, J7/);
  });

  it("smoothing 0.8·(Rz ring + Rz mate) (DIN 7190-1) of the usual finishes 1, 3 and 5 µm", () => {
    expect(variable(scenario, "seats.shaft.a.smoothing").distribution).toEqual({ kind: "constant", value: 0.0032 });
    expect(variable(scenario, "seats.housing.a.smoothing").distribution).toEqual({ kind: "constant", value: 0.0048 });
  });

  it("conformities, stand-out and friction as assumptions (common practice, no source)", () => {
    const ranges = ["conformityInner", "conformityOuter", "standOut"].map((key) => {
      const { distribution, origin } = variable(scenario, `bearings.a.${key}`);
      return [distribution, origin];
    });
    expect(ranges).toMatchObject([
      [{ low: 0.512, high: 0.518 }, "assumption"],
      [{ low: 0.517, high: 0.523 }, "assumption"],
      [{ low: -0.015, high: 0.015 }, "assumption"],
    ]);
    expect(variable(scenario, "seatFriction")).toMatchObject({
      distribution: { low: 0.08, high: 0.16 },
      origin: "assumption",
    });
  });

  it("one state, the bench at the measuring temperature", () => {
    expect(scenario.states).toHaveLength(1);
    expect(scenario.states[0]).toMatchObject({ name: "bench", isBench: true, weightRatio: 1 });
    expect(variable(scenario, "states.bench.housing").distribution).toEqual({ kind: "constant", value: 20 });
  });

  it("window 0.5 to 1.5 % of C, bind at 10 % of C or 4200 MPa", () => {
    const { dynamicRatingN } = scenario.bearings.a;
    expect(scenario.limits.lowN).toBeCloseTo(0.005 * dynamicRatingN, 9);
    expect(scenario.limits.highN).toBeCloseTo(0.015 * dynamicRatingN, 9);
    expect(scenario.limits.bindN).toBeCloseTo(0.1 * dynamicRatingN, 9);
    expect(scenario.limits.bindPressureMPa).toBe(4200);
  });

  it("seats inboard, not retained; a solid shaft", () => {
    for (const { inner, outer } of Object.values(scenario.bearings)) {
      const seats: readonly RingSeat[] = [inner, outer];
      for (const seat of seats) expect(seat).toMatchObject({ seatSide: "inboard", retained: false });
      expect(inner.mateFarDiameterMm).toBe(0);
      expect(outer.mateFarDiameterMm).toBe(63);
    }
  });

  it("no yield required, seed 1, 200 000 samples; the name from the file", () => {
    expect(scenario).toMatchObject({
      requiredYieldRatio: null,
      seed: "1",
      samples: 200_000,
      name: "test",
      title: "test",
    });
  });

  it("every variable has a line in the table of inputs, and every line has words", () => {
    for (const { name } of scenario.variables) expect(input(scenario, name), name).toBeDefined();
    for (const { path, label, value } of scenario.inputs) {
      expect(label, path).not.toBe("");
      expect(value, path).not.toMatch(/^$|NaN|undefined|\?/);
    }
    for (const { path, origin, source } of scenario.inputs) {
      if (origin === "assumption" || origin === "standard") expect(source, path).not.toBe("");
    }
  });

  it("names of variables are unique and the result is frozen to the bottom", () => {
    const names = scenario.variables.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    expect(Object.isFrozen(scenario.variables[0].distribution)).toBe(true);
    expect(Object.isFrozen(scenario.bearings.a.inner.mateMaterial)).toBe(true);
    expect(() => Object.assign(scenario.limits, { lowN: 0 })).toThrow(TypeError);
  });
});

describe("what is given wins over the default", () => {
  it("bearing a or b over both, with the keys that go together", () => {
    const scenario = resolved({
      "bearings.both.clearanceGroup": "C3",
      "bearings.b.clearance": "1..4 um",
      "bearings.a.standOut": "0 ±2 um",
    });
    expect(variable(scenario, "bearings.a.clearance").distribution).toMatchObject({ low: 0.013, high: 0.028 });
    expect(variable(scenario, "bearings.b.clearance").distribution).toMatchObject({ low: 0.001, high: 0.004 });
    expect(variable(scenario, "bearings.b.standOut").origin).toBe("assumption");
    expect(variable(scenario, "bearings.a.standOut").origin).toBe("given");
  });

  it("a bearing of another designation for b", () => {
    const scenario = resolved({
      "bearings.b.designation": "6005",
      "seats.shaft.b.fit": "25 k5",
      "seats.housing.b.fit": "47 J7",
    });
    expect([scenario.bearings.a.boreMm, scenario.bearings.b.boreMm]).toEqual([20, 25]);
    expect(scenario.limits.highN).toBeCloseTo(0.015 * scenario.bearings.a.dynamicRatingN, 9);
  });

  it("a bearing fully given, with its maker's ratings", () => {
    const { a } = resolved({
      "bearings.both": {
        bore: "20 mm",
        outsideDiameter: 42,
        width: "12 mm",
        ballCount: 9,
        ballDiameter: "6.35 mm",
        pitchDiameter: "31 mm",
        dynamicRating: "9.4 kN",
        staticRating: "5 kN",
      },
    }).bearings;
    expect(a).toMatchObject({ designation: null, ballDiameterMm: 6.35, dynamicRatingN: 9400, staticRatingN: 5000 });
  });

  it("a fit as a bare code, limits, a measured diameter or a distribution", () => {
    const seat = (written: unknown) =>
      variable(resolved({ "seats.shaft.both.fit": written }), "seats.shaft.a.diameter").distribution;
    expect(seat("k5")).toEqual(seat("20 k5"));
    expect(seat("20 +0.011/+0.002")).toEqual(seat("20 k5"));
    expect(seat("20.004 mm")).toEqual({ kind: "constant", value: 20.004 });
    expect(seat({ uniform: { low: 20, high: 20.01 } })).toEqual({ kind: "uniform", low: 20, high: 20.01 });
    expect(seat({ limits: "k5", Cp: 1.5 })).toMatchObject({
      kind: "normal",
      mean: 20.0065,
      sd: expect.closeTo(0.001, 12),
    });
  });

  it("roughness with a spread makes the smoothing a variable", () => {
    const scenario = resolved({ "seats.housing.roughness": "4..6 um", "bearings.both.ringRoughness": "0.5 um" });
    const { distribution, origin } = variable(scenario, "seats.housing.a.smoothing");
    expect(distribution).toMatchObject({
      kind: "truncated-normal",
      low: expect.closeTo(0.0036, 12),
      high: expect.closeTo(0.0052, 12),
    });
    expect(origin).toBe("derived");
  });

  it("a material of one's own", () => {
    const material = {
      name: "alloy",
      expansion: "19 um/m/K",
      youngsModulus: "75 GPa",
      poissonRatio: 0.33,
      density: "2.65 g/cm3",
    };
    const { mateMaterial } = resolved({ "seats.housing.material": material }).bearings.a.outer;
    expect(mateMaterial).toMatchObject({
      name: "alloy",
      expansionPerK: 19e-6,
      youngsModulusMPa: 75_000,
      densityKgPerM3: 2650,
    });
  });

  it("limits in N or as a share of C, pressure switched off", () => {
    const { limits } = resolved({ window: "50..150 N", bind: { preload: "12 % of C", pressure: "none" } });
    expect(limits).toMatchObject({ lowN: 50, highN: 150, bindPressureMPa: null });
    const { dynamicRatingN } = resolved().bearings.a;
    expect(limits.bindN).toBeCloseTo(0.12 * dynamicRatingN, 9);
    expect(resolved({ window: { low: "0.5 % of C", high: "140 N" } }).limits.lowN).toBeCloseTo(
      0.005 * dynamicRatingN,
      9,
    );
  });

  it("the same text as YAML and as JSON", () => {
    const json = JSON.stringify(LEAST_SCENARIO);
    expect(parseScenario(json, "test.json")).toEqual(resolved());
  });
});

describe("warnings", () => {
  it("a material beyond its range of temperature, named with the state", () => {
    const { warnings } = resolved({ states: [{ name: "oven", housing: "220 degC" }] });
    expect(warnings.map(({ code, path }) => [code, path])).toContainEqual(["material-range", "states.oven"]);
    expect(warnings[0].message).toMatch(/bearing-steel reaches 220 °C; its figures are stated for −60 °C to 150 °C/);
  });

  it("a free clearance that reaches below zero", () => {
    const { warnings } = resolved({ "bearings.both.clearance": "-2..8 um" });
    expect(warnings.filter(({ code }) => code === "clearance-negative")).toHaveLength(2);
  });

  it("a ball set that is an estimate", () => {
    const changes = {
      "bearings.both.designation": "61804",
      "seats.shaft.both.fit": "20 k5",
      "seats.housing.both.fit": "32 J7",
    };
    const { warnings, inputs } = resolved(changes);
    const origin = inputs.find(({ path }) => path === "bearings.a.ballSet")?.origin;
    expect(warnings.some(({ code }) => code === "estimate")).toBe(origin === "assumption");
  });

  it("a clamp that squeezes nothing", () => {
    const { warnings } = resolved({ clamp: { force: "1 kN" } });
    expect(warnings).toMatchObject([{ code: "unlikely-value", path: "clamp" }]);
  });

  it("none for the least scenario", () => {
    expect(resolved().warnings).toEqual([]);
  });
});

describe("names", () => {
  it.each([
    ["scenarios/belt.yaml", "belt"],
    ["C:\\parts\\my roller.yml", "my-roller"],
    ["../../etc/passwd", "passwd"],
    ["..", "scenario"],
    ["-rf.yaml", "rf"],
    ["ü.json", "scenario"],
  ])("of the file %s is %s", (file, name) => {
    expect(parseScenario(JSON.stringify(LEAST_SCENARIO), file).name).toBe(name);
  });

  it("O and X stand for back-to-back and face-to-face, in any case", () => {
    const words = ["O", "o", "back-to-back", "Back to back", "X", "x", "face-to-face"];
    const found = words.map((arrangement) => {
      const chain = LEAST_SCENARIO.chain.map((member) => ({ ...member, length: "40" }));
      return resolved({ arrangement, chain }).arrangement;
    });
    const O = "back-to-back";
    const X = "face-to-face";
    expect(found).toEqual([O, O, O, O, X, X, X]);
  });

  it("a title may be any text", () => {
    const title = '<script>alert("x")</script> & Łódź';
    expect(resolved({ title }).title).toBe(title);
  });
});
