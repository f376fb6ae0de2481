import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { quantile } from "../../src/distributions/index.ts";
import { compileDraw, createInputs } from "../../src/engine/draw.ts";
import { runExtended } from "../../src/engine/extended.ts";
import { countedColumns } from "../../src/engine/tally.ts";
import { createWorkspace } from "../../src/model/columns.ts";
import { evaluateBlock } from "../../src/model/evaluate.ts";
import { compileExtended } from "../../src/model/extended-plan.ts";
import { OUTCOMES } from "../../src/model/outcome.ts";
import { compilePlan } from "../../src/model/plan.ts";
import { createWindowColumns } from "../../src/model/window.ts";
import { resolveContent } from "../../src/scenario/parse.ts";
import type { ResolvedScenario } from "../../src/scenario/types.ts";

const SCENARIOS = 170;
const UNITS_EACH = 64;

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const um = (value: number) => `${value.toFixed(3)} um`;

const deepGroove = fc.record({
  designation: fc.constantFrom("608", "61804", "6004", "6203", "6206", "6310", "61903"),
  clearanceGroup: fc.constantFrom("C2", "CN", "C3", "C5"),
  standOut: between(-100, 100).map((value) => `${um(value)} ±20 um`),
});
const angular = fc.record({
  designation: fc.constantFrom("7004", "71903", "7206"),
  contactAngle: fc.constantFrom("15 deg", "25 ±2 deg", "40 deg"),
  standOut: between(-5, 15).map((value) => `${um(value)} ±2 um`),
});

/** Bore and outside diameter of what can be drawn, mm. */
const SIZES: Readonly<Record<string, readonly [number, number]>> = {
  "608": [8, 22],
  "61804": [20, 32],
  "6004": [20, 42],
  "6203": [17, 40],
  "6206": [30, 62],
  "6310": [50, 110],
  "61903": [17, 30],
  "7004": [20, 42],
  "71903": [17, 30],
  "7206": [30, 62],
};

const methods = fc.oneof(
  fc.constant({ method: "position" }),
  fc.record({
    method: fc.constant("spring"),
    spring: fc.record({
      form: fc.constantFrom("wave", "coil"),
      slides: fc.constantFrom("outer-a", "outer-b", "inner-a", "inner-b"),
      freeLength: fc.constantFrom("6 mm", "6 ±0.3 mm"),
      rate: between(1, 3000).map((value) => `${value.toFixed(2)} N/mm`),
      solidHeight: between(0, 5.6).map((value) => `${value.toFixed(3)} mm`),
    }),
  }),
  fc.record({
    method: fc.constant("adjuster"),
    adjuster: fc.oneof(
      fc.record({ advance: between(-60, 150).map((value) => `${um(value)} ±5 um`) }),
      fc.record({ torque: between(40, 900).map((value) => `${value.toFixed(1)} N.mm`) }),
    ),
  }),
  fc.record({
    method: fc.constant("shim"),
    shim: fc.record({
      measure: fc.constantFrom("dimensions", "play"),
      step: between(1, 200).map(um),
      error: between(0, 20).map((value) => `0 um ±${um(value + 0.01)}`),
    }),
  }),
);

const given = fc.record({
  housing: between(-60, 150).map((value) => `${value.toFixed(2)} degC`),
  shaft: between(-60, 150).map((value) => `${value.toFixed(2)} degC`),
  balls: between(-60, 150).map((value) => `${value.toFixed(2)} degC`),
});
const balanced = fc.record({
  network: fc.record({
    ambient: between(-40, 60).map((value) => `${value.toFixed(2)} ±5 degC`),
    heat: fc.record({ housing: between(-5, 60).map((value) => `${value.toFixed(2)} W`) }),
  }),
  speed: between(0, 20_000).map((value) => `${value.toFixed(0)} rpm`),
});

const parameters = fc.record({
  seed: fc.integer({ min: 0, max: 1e6 }),
  arrangement: fc.constantFrom("back-to-back", "face-to-face"),
  bearing: fc.oneof({ weight: 3, arbitrary: deepGroove }, { weight: 1, arbitrary: angular }),
  preload: methods,
  excessUm: between(-300, 500),
  interferenceUm: fc.tuple(between(-25, 25), between(-25, 25)),
  retained: fc.boolean(),
  area: fc.boolean(),
  clampN: fc.oneof(fc.constant(null), between(50, 20_000)),
  materials: fc.tuple(
    fc.constantFrom("carbon-steel", "aluminium-6061", "titanium-6al4v"),
    fc.constantFrom("carbon-steel", "aluminium-6061", "magnesium-az91"),
  ),
  states: fc.array(fc.oneof({ weight: 3, arbitrary: given }, { weight: 2, arbitrary: balanced }), {
    minLength: 1,
    maxLength: 3,
  }),
  load: fc.record({ radial: between(-3000, 3000), axial: between(-3000, 3000), at: between(-200, 200) }),
});

type Parameters = typeof parameters extends fc.Arbitrary<infer T> ? T : never;

/** A scenario as a person might write it, within what the program admits. */
function contentOf(given: Parameters): unknown {
  const [bore, outside] = SIZES[given.bearing.designation];
  const slides = "spring" in given.preload ? given.preload.spring.slides : null;
  const isBack = given.arrangement === "back-to-back";
  const [shaftFit, housingFit] = given.interferenceUm;
  // The chain is made to end near the onset, wherever springs and ring widths put it.
  const excessMm = given.excessUm / 1000 + 0.1;
  const housingMm = isBack ? 60 + excessMm : 60;
  const shaftMm = isBack ? 60 : 60 + excessMm;
  const widthsMm = slides === null ? 0 : springShiftMm(given.arrangement, slides, given.bearing.designation);
  return {
    seatspread: 1,
    seed: String(given.seed),
    arrangement: given.arrangement,
    bearings: { both: given.bearing },
    preload: given.preload,
    chain: [
      {
        name: "housing part",
        side: "housing",
        length: `${(housingMm + (isBack ? widthsMm : -widthsMm)).toFixed(6)} mm ±10 um`,
        ...(given.area ? { area: "300 mm2" } : {}),
      },
      {
        name: "shaft part",
        side: "shaft",
        length: `${shaftMm.toFixed(6)} mm ±10 um`,
        ...(given.area ? { area: "80 mm2" } : {}),
        ...(given.area && given.clampN !== null ? { clampPath: true } : {}),
      },
    ],
    seats: {
      shaft: {
        both: { fit: `${(bore + shaftFit / 1000).toFixed(6)} mm ±5 um`, retained: given.retained },
        material: given.materials[0],
      },
      housing: {
        both: { fit: `${(outside - housingFit / 1000).toFixed(6)} mm ±5 um`, retained: given.retained },
        material: given.materials[1],
        outsideDiameter: `${(outside * 1.3).toFixed(3)} mm`,
      },
    },
    ...(given.clampN === null ? {} : { clamp: { force: `${given.clampN.toFixed(1)} N` } }),
    thermal: {
      paths: [
        { from: "balls", to: "outer", conductance: "0.5 ±0.2 W/K" },
        { from: "balls", to: "inner", conductance: "0.5 ±0.2 W/K" },
        { from: "outer", to: "housing", conductance: "3 W/K" },
        { from: "inner", to: "shaft", conductance: "3 W/K" },
        { from: "housing", to: "ambient", conductance: "1 ±0.5 W/K" },
        { from: "shaft", to: "ambient", conductance: "0.2 ±0.1 W/K" },
      ],
    },
    states: [
      { name: "bench", housing: "20 ±3 degC" },
      ...given.states.map((state, place) => ({ name: `state-${place}`, ...state })),
    ],
    extended: {
      samples: 8,
      span: "90 mm",
      speed: "1000 rpm",
      loads: [
        {
          radial: `${given.load.radial.toFixed(1)} N`,
          axial: `${given.load.axial.toFixed(1)} N`,
          at: `${given.load.at.toFixed(1)} mm`,
        },
      ],
      probe: { radius: "50 mm", sideLoad: "20 N" },
    },
    window: { low: "40 N", high: "200 N" },
    requirements: [{ quantity: "preload", high: "1e9 N" }],
  };
}

/** What a spring of 6 mm and the width of the ring it pushes add to the chain, to be taken off it; pressed by 0.5 mm besides. */
function springShiftMm(arrangement: string, slides: string, designation: string): number {
  const widths: Record<string, number> = {
    "608": 7,
    "61804": 7,
    "6004": 12,
    "6203": 12,
    "6206": 16,
    "6310": 27,
    "61903": 7,
    "7004": 12,
    "71903": 7,
    "7206": 16,
  };
  const movesWidth = (arrangement === "back-to-back") !== slides.startsWith("outer");
  return -6 + 0.5 + (movesWidth ? widths[designation] : 0);
}

function admitted(given: Parameters): ResolvedScenario | null {
  try {
    return resolveContent(contentOf(given), "random.yaml");
  } catch {
    return null;
  }
}

describe("any scenario that is admitted", () => {
  test(`ends every unit in one class and in finite numbers: ${SCENARIOS} scenarios of ${UNITS_EACH} units, far into the tails`, () => {
    let units = 0;
    const kinds = new Map<string, number>();
    const seen = new Set<number>();
    fc.assert(
      fc.property(parameters, (given) => {
        const scenario = admitted(given);
        fc.pre(scenario !== null);
        const plan = compilePlan(scenario!);
        const workspace = createWorkspace(plan, UNITS_EACH);
        const windows = createWindowColumns(plan, UNITS_EACH);
        const spread = [1e-9, 1e-3, 0.03, 0.2, 0.5, 0.8, 0.97, 0.999, 1 - 1e-9];
        const inputs = scenario!.variables.map(({ distribution }, place) =>
          Float64Array.from({ length: UNITS_EACH }, (_, unit) =>
            quantile(distribution, spread[(unit * 7 + place * 5 + unit * place) % spread.length]),
          ),
        );
        evaluateBlock(plan, inputs, UNITS_EACH, workspace, windows);
        for (const state of countedColumns(workspace)) {
          for (let unit = 0; unit < UNITS_EACH; unit += 1) {
            expect(state.outcome[unit]).toBeLessThan(OUTCOMES.length);
            seen.add(state.outcome[unit]);
          }
          const finite = [
            state.offsetMm,
            state.clearanceAMm,
            state.clearanceBMm,
            state.preloadN,
            state.playMm,
            state.effectiveMm,
            ...state.zoneC,
            state.frictionHeatW,
          ];
          for (const column of finite) expect(column.every(Number.isFinite)).toBe(true);
        }
        // Windows may be endless or empty, never undefined.
        for (const column of [
          windows.lowMm,
          windows.highMm,
          ...windows.states.flatMap((state) => Object.values(state)),
        ]) {
          expect((column as Float64Array).some(Number.isNaN)).toBe(false);
        }
        units += UNITS_EACH;
        kinds.set(scenario!.method.kind, (kinds.get(scenario!.method.kind) ?? 0) + 1);
      }),
      { numRuns: SCENARIOS, seed: 20_261, maxSkipsPerRun: 20 },
    );
    expect(units).toBeGreaterThanOrEqual(10_000);
    expect(seen.size).toBe(OUTCOMES.length);
    for (const kind of ["position", "spring", "adjuster", "shim"]) expect(kinds.get(kind) ?? 0).toBeGreaterThan(10);
  });

  test("has finite stiffness, life, torque and movement under any load", () => {
    fc.assert(
      fc.property(parameters, (given) => {
        const scenario = admitted(given);
        fc.pre(scenario !== null);
        const plan = compilePlan(scenario!);
        const draw = compileDraw(scenario!);
        const inputs = createInputs(draw, 8);
        const workspace = createWorkspace(plan, 8);
        const result = runExtended(plan, compileExtended(scenario!)!, draw, { block: 0, count: 8 }, inputs, workspace);
        for (const state of result.values) for (const column of state) expect(column.every(Number.isFinite)).toBe(true);
      }),
      { numRuns: 60, seed: 20_262, maxSkipsPerRun: 20 },
    );
    expect.hasAssertions();
  });
});
