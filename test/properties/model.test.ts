import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { clearanceTerm, halfPlay, solvePairs } from "../../src/model/contact.ts";
import { fixedPair, NOMINAL_RINGS } from "../support/fixed-pair.ts";
import { evaluateOne, evaluateRows } from "../support/model.ts";
import { type ContactOfBearing, onePair } from "../support/pairs.ts";

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
/** From miniature to 100 mm bore; with play, or squeezed. */
const bearing: fc.Arbitrary<ContactOfBearing> = fc.record({
  distanceMm: real(0.1, 0.8),
  clearanceMm: fc.oneof(real(0.001, 0.04), real(-0.01, -0.001)),
  stiffness: real(1e6, 2e7),
});
const compliance = fc.oneof(fc.constant(0), real(1e-8, 1e-4));

const onset = ({ distanceMm, clearanceMm }: ContactOfBearing) => halfPlay(clearanceTerm(distanceMm, clearanceMm));

function preload(offsetMm: number, a: ContactOfBearing, b: ContactOfBearing, c: number): number {
  const { columns } = onePair(offsetMm, a, b);
  solvePairs(columns, 1, c);
  return columns.forceN[0];
}

describe("the pair solver", () => {
  test("gives more preload for more offset, and none up to the onset", () => {
    fc.assert(
      fc.property(bearing, bearing, compliance, real(1e-9, 0.2), real(1e-6, 0.1), (a, b, c, excess, more) => {
        const start = onset(a) + onset(b);
        const less = preload(start + excess, a, b, c);
        expect(preload(start + excess + more, a, b, c)).toBeGreaterThan(less);
        expect(less).toBeGreaterThanOrEqual(0);
        expect(preload(start * (1 - 1e-9), a, b, c)).toBe(0);
      }),
      { numRuns: 400 },
    );
  });

  test("is continuous at the onset: the force goes to zero with the excess", () => {
    fc.assert(
      fc.property(bearing, bearing, compliance, (a, b, c) => {
        const start = onset(a) + onset(b);
        const forces = [1e-5, 1e-6, 1e-7].map((excess) => preload(start + excess, a, b, c));
        expect(forces[2]).toBeLessThanOrEqual(forces[1] * 0.11);
        expect(forces[1]).toBeLessThanOrEqual(forces[0] * 0.11);
      }),
      { numRuns: 300 },
    );
  });

  test("does not care which bearing is called a", () => {
    fc.assert(
      fc.property(bearing, bearing, compliance, real(1e-4, 0.2), (a, b, c, excess) => {
        const offset = onset(a) + onset(b) + excess;
        const one = preload(offset, a, b, c);
        expect(Math.abs(preload(offset, b, a, c) / one - 1)).toBeLessThan(1e-9);
      }),
      { numRuns: 400 },
    );
  });

  test("splits the offset of two equal bearings in halves: F of the pair is F of one at half the offset", () => {
    fc.assert(
      fc.property(bearing, real(1e-4, 0.2), (a, excess) => {
        const { columns } = onePair(2 * onset(a) + excess, a, a);
        solvePairs(columns, 1, 0);
        expect(Math.abs(columns.xA[0] / columns.xB[0] - 1)).toBeLessThan(1e-9);
      }),
      { numRuns: 200 },
    );
  });
});

const states = [
  { name: "bench", housing: "20 degC" },
  { name: "hot", housing: "80 degC", shaft: "95 degC" },
];
const scenario = fixedPair({
  states,
  "seats.shaft.both.fit": "20.004 mm",
  "seats.housing.both.fit": "46.996 mm",
  clamp: { force: "1000 N" },
  "chain.spacer.area": "150 mm2",
  "chain.spacer.clampPath": true,
});

/** Everything that a bearing of its own has, by the name after the bearing's letter. */
const OWN = [
  "bearings.#.clearance",
  "bearings.#.conformityInner",
  "bearings.#.conformityOuter",
  "bearings.#.standOut",
  "bearings.#.bore",
  "bearings.#.outsideDiameter",
  "seats.shaft.#.diameter",
  "seats.shaft.#.smoothing",
  "seats.housing.#.diameter",
  "seats.housing.#.smoothing",
];

const ownValues = fc.tuple(
  real(0.005, 0.03),
  real(0.515, 0.525),
  real(0.515, 0.525),
  real(-0.01, 0.01),
  real(19.99, 20),
  real(46.989, 47),
  real(19.99, 20.01),
  real(0, 0.004),
  real(46.985, 47.01),
  real(0, 0.004),
);
const named = (key: "a" | "b", values: readonly number[]) =>
  Object.fromEntries(OWN.map((name, place) => [name.replace("#", key), values[place]]));

describe("the whole model", () => {
  test("swaps its two bearings without a change of preload, play, class or window", () => {
    fc.assert(
      fc.property(ownValues, ownValues, real(40.05, 40.25), (first, second, spacing) => {
        const shared = { "chain.housing spacing": spacing };
        const { workspace, windows } = evaluateRows(scenario, [
          { ...named("a", first), ...named("b", second), ...shared },
          { ...named("a", second), ...named("b", first), ...shared },
        ]);
        for (const state of workspace.states) {
          expect(state.clearanceAMm[1]).toBe(state.clearanceBMm[0]);
          expect(state.clearanceBMm[1]).toBe(state.clearanceAMm[0]);
          expect(state.outcome[1]).toBe(state.outcome[0]);
          // The flags of bearing a and of bearing b change places.
          const flags = state.flags[0];
          expect(state.flags[1]).toBe((flags & ~15) | ((flags & 5) << 1) | ((flags & 10) >> 1));
          const [one, other] = state.preloadN;
          expect(Math.abs(one - other)).toBeLessThanOrEqual(1e-9 * Math.abs(one));
          expect(Math.abs(state.playMm[0] - state.playMm[1])).toBeLessThan(1e-14);
        }
        expect(Math.abs(windows.lowMm[0] - windows.lowMm[1])).toBeLessThan(1e-12);
        expect(Math.abs(windows.highMm[0] - windows.highMm[1])).toBeLessThan(1e-12);
      }),
      { numRuns: 200 },
    );
  });

  test("is odd: an offset turned round gives the opposite preload and the same play", () => {
    // No heat, clamp or stand-out: the chain alone makes the offset.
    const plain = fixedPair();
    fc.assert(
      fc.property(real(0, 0.3), real(0.005, 0.03), (offset, clearance) => {
        const own = { ...NOMINAL_RINGS, "bearings.a.clearance": clearance };
        const forward = 40 + offset;
        const { workspace } = evaluateRows(plain, [
          { ...own, "chain.housing spacing": forward, "chain.spacer": 40 },
          { ...own, "chain.housing spacing": 40, "chain.spacer": forward },
        ]);
        const [state] = workspace.states;
        expect(state.offsetMm[1] + state.offsetMm[0]).toBe(0);
        expect(state.preloadN[1] + state.preloadN[0]).toBe(0);
        expect(Math.abs(state.playMm[1] - state.playMm[0])).toBeLessThan(1e-15);
      }),
      { numRuns: 200 },
    );
  });

  test("rises with every cause of more offset or less clearance", () => {
    fc.assert(
      fc.property(real(40.12, 40.2), real(1e-5, 5e-3), (spacing, step) => {
        const base = { ...NOMINAL_RINGS, "chain.housing spacing": spacing };
        const { workspace } = evaluateRows(scenario, [
          base,
          { ...base, "chain.housing spacing": spacing + step },
          { ...base, "chain.spacer": 40 - step },
          { ...base, "bearings.b.standOut": step },
          { ...base, "bearings.a.clearance": 0.02 - step },
          { ...base, "seats.shaft.a.diameter": 20.004 + step },
          { ...base, "seats.housing.b.diameter": 46.996 - step },
        ]);
        for (const { preloadN } of workspace.states) {
          for (let row = 1; row < 7; row += 1) {
            if (preloadN[0] > 0) expect(preloadN[row]).toBeGreaterThan(preloadN[0]);
            else expect(preloadN[row]).toBeGreaterThanOrEqual(preloadN[0]);
          }
        }
      }),
      { numRuns: 100 },
    );
  });

  test("gives identical numbers for the same drawing in mm, µm and m, and in inches to rounding", () => {
    fc.assert(
      fc.property(fc.integer({ min: 40_120_000, max: 40_250_000 }), (nanometres) => {
        const at = (text: string) => {
          const unit = evaluateOne(fixedPair({ "chain.housing spacing.length": text, states }), NOMINAL_RINGS);
          return [unit.state("hot").preloadN[0], unit.state("bench").preloadN[0], unit.windows.lowMm[0]];
        };
        const expected = at(`${nanometres}e-6 mm`);
        expect(at(`${nanometres}e-3 um`)).toEqual(expected);
        expect(at(`${nanometres}e-9 m`)).toEqual(expected);
        const inches = at(`${nanometres / 25.4e6} in`);
        inches.forEach((value, place) => {
          // A last bit of 40 mm is 7e-15 mm, and a preload follows the excess over the onset.
          expect(Math.abs(value - expected[place])).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(expected[place])));
        });
      }),
      { numRuns: 25 },
    );
  });
});
