import fc from "fast-check";
import { expect, test } from "vitest";
import { createBallRow, fillBallLoads } from "../../src/physics/ball-row.ts";
import { type PairShaft, PairShaftSolver } from "../../src/physics/pair-shaft.ts";
import { isRigid, pathForceN, positionPath, springPath } from "../../src/physics/preload-path.ts";

/** `SEATSPREAD_TEST_PAIRS` looks at more or fewer. */
const PAIRS = Number(process.env.SEATSPREAD_TEST_PAIRS ?? 10_000);

/** Newton's method, from a far start and through many kinks; 7.1 on average when it was written. */
const STEPS_AS_A_RULE = 7.6;

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
/** Even on a logarithmic scale. */
const decades = (low: number, high: number) => between(Math.log(low), Math.log(high)).map((value) => Math.exp(value));

const row = fc
  .record({
    ball: decades(1, 25),
    openness: between(0.01, 0.08),
    count: fc.integer({ min: 3, max: 24 }),
    stiffness: between(6e4, 1.8e5),
    clearance: between(-0.05, 0.3),
    pitch: between(1.5, 5.5),
    azimuthRad: between(0, 6.3),
  })
  .map(({ ball, openness, count, stiffness, clearance, pitch, azimuthRad }) =>
    createBallRow({
      ballCount: count,
      ballStiffnessNPerMm15: stiffness * Math.sqrt(ball),
      grooveDistanceMm: openness * ball,
      clearanceMm: clearance * openness * ball,
      grooveRadiusMm: pitch * ball,
      azimuthRad,
    }),
  );

const path = fc.oneof(
  between(-3, 3).map((offset) => ({ offset, make: (offsetMm: number) => positionPath(offsetMm, 0) })),
  fc
    .tuple(between(-3, 3), decades(1e-8, 1e-3))
    .map(([offset, compliance]) => ({ offset, make: (offsetMm: number) => positionPath(offsetMm, compliance) })),
  fc
    .record({
      offset: between(-1, 3),
      travel: between(0, 2),
      complianceMmPerN: decades(1e-7, 1e-4),
      springComplianceMmPerN: decades(1e-4, 0.1),
      springSolidForceN: decades(10, 1000),
      slidingBearing: fc.constantFrom("a" as const, "b" as const),
    })
    .map(({ offset, travel, ...spring }) => ({
      offset,
      make: (offsetMm: number) => springPath({ ...spring, offsetMm: offsetMm + travel }),
    })),
);

const component = fc.oneof({ arbitrary: fc.constant(0), weight: 1 }, { arbitrary: between(-1, 1), weight: 2 });

const loadedPair = fc
  .record({
    a: row,
    b: row,
    path,
    back: fc.boolean(),
    spanMm: decades(2, 500),
    force: decades(1e-3, 2e4),
    load: fc.tuple(component, component, component, component, component),
  })
  .map(({ a, b, path, back, spanMm, force, load }) => {
    const pair: PairShaft = {
      arrangementSign: back ? 1 : -1,
      spanMm,
      a,
      b,
      path: path.make(path.offset * Math.min(a.grooveDistanceMm, b.grooveDistanceMm)),
    };
    return { pair, load: Float64Array.from(load, (value, i) => value * force * (i < 3 ? 1 : 50)) };
  });

/** Unbalanced force and moment afresh from the balls themselves, with the position of each in space, over what is allowed: below 1. */
function unbalanced(pair: PairShaft, load: Float64Array, solver: PairShaftSolver): number {
  const total = [0, 0, 0, 0, 0];
  let scale = 1e-3;
  for (const [one, ring, positionMm] of [
    [pair.a, solver.displacementA, -0.5 * pair.spanMm],
    [pair.b, solver.displacementB, 0.5 * pair.spanMm],
  ] as const) {
    const loads = new Float64Array(one.ballCount);
    const angles = new Float64Array(one.ballCount);
    fillBallLoads(one, ring, loads, angles);
    for (let ball = 0; ball < one.ballCount; ball++) {
      const axial = loads[ball] * Math.sin(angles[ball]);
      const y = loads[ball] * Math.cos(angles[ball]) * one.cosines[ball];
      const z = loads[ball] * Math.cos(angles[ball]) * one.sines[ball];
      total[0] += axial;
      total[1] += y;
      total[2] += z;
      total[3] += one.grooveRadiusMm * one.sines[ball] * axial - positionMm * z;
      total[4] += positionMm * y - one.grooveRadiusMm * one.cosines[ball] * axial;
      scale += loads[ball];
    }
  }
  const armMm = Math.max(pair.a.grooveRadiusMm, pair.b.grooveRadiusMm) + 0.5 * pair.spanMm;
  const measure = Math.max(scale, ...Array.from(load, (value, i) => Math.abs(value) / (i < 3 ? 1 : armMm)));
  const errors = total.map((force, i) => Math.abs(force - load[i]) / (measure * (i < 3 ? 1 : armMm)));
  if (!isRigid(pair.path)) {
    const share = pair.path.shareARatio;
    const carried = pair.arrangementSign * (share * solver.forceA[0] - (1 - share) * solver.forceB[0]);
    errors.push(Math.abs(carried - pathForceN(pair.path, solver.state[5])) / measure);
  }
  return Math.max(...errors) / 4e-9;
}

test(`${PAIRS} random pairs over the whole admissible range: finite, ball forces balance the load to 1e-9, in eight steps as a rule`, () => {
  const solver = new PairShaftSolver();
  let steps = 0;
  fc.assert(
    fc.property(loadedPair, ({ pair, load }) => {
      expect(solver.solve(pair, load)).toBe(true);
      expect(solver.state.every(Number.isFinite)).toBe(true);
      expect(unbalanced(pair, load, solver)).toBeLessThan(1);
      steps += solver.steps;
    }),
    { numRuns: PAIRS, seed: 20240 },
  );
  expect(steps / PAIRS).toBeLessThan(STEPS_AS_A_RULE);
});

test("loads of a few grams' weight and less across a wide play, where the energy is nearly flat, find their balance too", () => {
  const solver = new PairShaftSolver();
  const tiny = fc.record({
    from: loadedPair,
    force: decades(1e-5, 0.1),
    play: between(0.05, 0.3),
    offset: between(-0.3, 0.3),
  });
  fc.assert(
    fc.property(tiny, ({ from: { pair, load }, force, play, offset }) => {
      const loose = (row: PairShaft["a"]) => ({ ...row, clearanceMm: play * row.grooveDistanceMm });
      const groove = Math.min(pair.a.grooveDistanceMm, pair.b.grooveDistanceMm);
      const wide = {
        ...pair,
        a: loose(pair.a),
        b: loose(pair.b),
        path: positionPath(offset * groove, pair.path.complianceMmPerN),
      };
      const small = load.map((value) => (value / Math.max(1e-9, Math.abs(load[0]), Math.abs(load[1]))) * force);
      expect(solver.solve(wide, small)).toBe(true);
      expect(unbalanced(wide, small, solver)).toBeLessThan(1);
    }),
    { numRuns: 400, seed: 7 },
  );
});
