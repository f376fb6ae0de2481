import { expect, test } from "vitest";
import { solvePairs } from "../../../src/model/contact.ts";
import { bisectedPreloadN, type ContactOfBearing, forceOfBearingN, onePair } from "../../support/pairs.ts";

/** A small generator of its own, so that the cases stay the same whatever the program draws. */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const draw = generator(20);
const between = (low: number, high: number) => low + (high - low) * draw();
const logBetween = (low: number, high: number) => low * (high / low) ** draw();

const bearing = (lowClearanceMm: number, highClearanceMm: number): ContactOfBearing => ({
  distanceMm: logBetween(0.05, 1.5),
  clearanceMm: between(lowClearanceMm, highClearanceMm),
  stiffness: logBetween(1e5, 5e7),
});

function onset({ distanceMm, clearanceMm }: ContactOfBearing): number {
  const r = distanceMm - clearanceMm / 2;
  return r < distanceMm ? Math.sqrt(distanceMm ** 2 - r * r) : 0;
}

interface Family {
  readonly name: string;
  readonly clearanceMm: readonly [number, number];
  readonly complianceMmPerN: () => number;
  readonly second?: (first: ContactOfBearing) => ContactOfBearing;
}

const families: Family[] = [
  { name: "ordinary clearances, rigid", clearanceMm: [0.001, 0.03], complianceMmPerN: () => 0 },
  {
    name: "ordinary clearances, members that give way",
    clearanceMm: [0.001, 0.03],
    complianceMmPerN: () => logBetween(1e-8, 1e-5),
  },
  {
    name: "radial interference in both",
    clearanceMm: [-0.01, -0.0001],
    complianceMmPerN: () => logBetween(1e-8, 1e-6),
  },
  {
    name: "interference in one, play in the other",
    clearanceMm: [-0.01, -0.0001],
    complianceMmPerN: () => 0,
    second: () => bearing(0.001, 0.03),
  },
  {
    name: "one bearing a thousand times as stiff",
    clearanceMm: [0.001, 0.03],
    complianceMmPerN: () => 0,
    second: (first) => ({ ...bearing(0.001, 0.03), stiffness: first.stiffness * 1000 }),
  },
  { name: "very soft members", clearanceMm: [0.001, 0.03], complianceMmPerN: () => logBetween(1e-4, 1e-1) },
  { name: "no clearance at all", clearanceMm: [0, 0], complianceMmPerN: () => logBetween(1e-8, 1e-6) },
];

test.each(families)("agrees with a bisection in another form to 1e-9: $name", (family) => {
  const { clearanceMm, complianceMmPerN, second } = family;
  let worst = 0;
  let carrying = 0;
  for (let index = 0; index < 250; index += 1) {
    const a = bearing(clearanceMm[0], clearanceMm[1]);
    const b = second?.(a) ?? bearing(clearanceMm[0], clearanceMm[1]);
    const c = complianceMmPerN();
    const excess = logBetween(2e-4, 0.15);
    const offset = onset(a) + onset(b) + excess;
    const { columns } = onePair(offset, a, b);
    solvePairs(columns, 1, c);
    const expected = bisectedPreloadN(offset, a, b, c);
    if (expected > 0) carrying += 1;
    // s − A of the plain form loses digits at light loads: ε·A over the contact deflection, which is all of the allowance.
    const deflection = (expected / Math.max(a.stiffness, b.stiffness)) ** (2 / 3);
    const rounding = (1e-15 * Math.max(a.distanceMm, b.distanceMm)) / deflection;
    const error = Math.abs(columns.forceN[0] / expected - 1) / (1 + rounding / 1e-9);
    worst = Math.max(worst, error);
    expect(columns.xA[0] + columns.xB[0] + c * columns.forceN[0]).toBeCloseTo(offset, 12);
  }
  expect(carrying).toBe(250);
  expect(worst).toBeLessThan(1e-9);
});

test("both bearings carry the solved preload at their solved displacements", () => {
  for (let index = 0; index < 200; index += 1) {
    const a = bearing(0.002, 0.02);
    const b = bearing(0.002, 0.02);
    const { columns } = onePair(onset(a) + onset(b) + 0.03, a, b);
    solvePairs(columns, 1, 2e-7);
    const force = columns.forceN[0];
    expect(Math.abs(forceOfBearingN(columns.xA[0], a) / force - 1)).toBeLessThan(1e-8);
    expect(Math.abs(forceOfBearingN(columns.xB[0], b) / force - 1)).toBeLessThan(1e-8);
  }
});

test("no force at the onset and below it; a force that goes to zero as (excess)^1.5 just above", () => {
  const a = bearing(0.005, 0.02);
  const b = bearing(0.005, 0.02);
  const start = onset(a) + onset(b);
  const at = (excess: number) => {
    const { columns } = onePair(start + excess, a, b);
    solvePairs(columns, 1, 0);
    return columns.forceN[0];
  };
  expect(at(-1e-6)).toBe(0);
  expect(at(-1e-12)).toBe(0);
  const near = at(1e-6);
  const nearer = at(1e-8);
  expect(near).toBeGreaterThan(0);
  // A hundredth of the excess carries a thousandth of the force.
  expect(near / nearer).toBeGreaterThan(950);
  expect(near / nearer).toBeLessThan(1050);
});
