import { describe, expect, test } from "vitest";
import type { ResolvedScenario } from "../../../src/scenario/types.ts";
import { ZONES } from "../../../src/scenario/types.ts";
import { fixedPair, NOMINAL_RINGS } from "../../support/fixed-pair.ts";
import { type Evaluated, evaluateOne, flagsOf, outcomeOf } from "../../support/model.ts";

const PATHS = [
  { from: "balls", to: "outer", conductance: "0.5 W/K" },
  { from: "balls", to: "inner", conductance: "0.5 W/K" },
  { from: "outer", to: "housing", conductance: "4 W/K" },
  { from: "inner", to: "shaft", conductance: "4 W/K" },
  { from: "housing", to: "ambient", conductance: "2 W/K" },
  { from: "shaft", to: "ambient", conductance: "0.25 W/K" },
];

/** Face-to-face, so that a shaft warmer than the housing tightens the pair. */
function driven(changes: Record<string, unknown> = {}, state: Record<string, unknown> = {}): ResolvedScenario {
  return fixedPair({
    arrangement: "face-to-face",
    chain: [
      { name: "spacer", side: "shaft", length: "80.15 mm" },
      { name: "housing spacing", side: "housing", length: "80 mm" },
    ],
    thermal: { paths: PATHS },
    states: [
      { name: "bench", housing: "20 degC" },
      { name: "run", network: { ambient: "20 degC" }, speed: "1000 rpm", viscosity: "20 mm2/s", ...state },
    ],
    ...changes,
  });
}

function temperatureC(found: Evaluated, zone: (typeof ZONES)[number]): number {
  return found.state("run").zoneC[ZONES.indexOf(zone)][0];
}

/** Load part and viscous part of one bearing's friction, as printed (Palmgren), N·mm: series 60 with grease. */
function torqueNmm(preloadN: number, speedPerMin: number, viscosityMm2PerS: number): number {
  const product = viscosityMm2PerS * speedPerMin;
  const flow = product < 2000 ? 160 : product ** (2 / 3);
  return 1.1 * flow * 33.095 ** 3 * 1e-7 + 0.0007 * Math.sqrt((0.5 * preloadN) / 5000) * 3.3 * preloadN * 33.095;
}

describe("a heat balance", () => {
  test("at rest, with heat from outside: series and parallel paths by hand", () => {
    const found = evaluateOne(
      driven({}, { network: { ambient: "25 degC", heat: { housing: "30 W" } }, speed: "0 rpm" }),
      NOMINAL_RINGS,
    );
    // From the housing to ambient: directly 2 W/K, and through outer rings, balls, inner rings and the shaft.
    const perBearing = 1 / (1 / 4 + 1 / 0.5 + 1 / 0.5 + 1 / 4);
    const throughShaft = 1 / (1 / (2 * perBearing) + 1 / 0.25);
    const housing = 30 / (2 + throughShaft);
    expect(temperatureC(found, "housing")).toBeCloseTo(25 + housing, 9);
    const shaft = (housing * throughShaft) / 0.25;
    expect(temperatureC(found, "shaft")).toBeCloseTo(25 + shaft, 9);
    expect(temperatureC(found, "balls-a")).toBeCloseTo(25 + 0.5 * (housing + shaft), 9);
    expect(found.state("run").frictionHeatW[0]).toBe(0);
  });

  test("gives off to its surroundings what the bearings make at the preload it comes to (Palmgren's torque, printed constants)", () => {
    const found = evaluateOne(driven(), NOMINAL_RINGS);
    const preload = found.state("run").preloadN[0];
    const heat = (2 * torqueNmm(preload, 1000, 20) * 1e-3 * 2 * Math.PI * 1000) / 60;
    expect(found.state("run").frictionHeatW[0] / heat).toBeCloseTo(1, 5);
    const given = 2 * (temperatureC(found, "housing") - 20) + 0.25 * (temperatureC(found, "shaft") - 20);
    expect(given / heat).toBeCloseTo(1, 5);
    expect(flagsOf(found.state("run"))).not.toContain("thermal-runaway");
  });

  test("is the state that given temperatures of the same figures make", () => {
    const found = evaluateOne(driven(), NOMINAL_RINGS);
    const zone = (name: (typeof ZONES)[number]) => `${temperatureC(found, name)} degC`;
    const same = driven({
      thermal: undefined,
      states: [
        { name: "bench", housing: "20 degC" },
        {
          name: "run",
          housing: zone("housing"),
          shaft: zone("shaft"),
          outerRings: zone("outer-a"),
          innerRings: zone("inner-a"),
          balls: zone("balls-a"),
        },
      ],
    });
    expect(evaluateOne(same, NOMINAL_RINGS).state("run").preloadN[0]).toBeCloseTo(found.state("run").preloadN[0], 6);
  });

  test("comes to rest where step by step warming from cold does, and runs away where that passes the bind limit", () => {
    let rests = 0;
    let runs = 0;
    for (const spacer of [80.12, 80.15, 80.16, 80.17, 80.18, 80.19]) {
      for (const speed of [500, 2000, 4000, 8000]) {
        const scenario = driven({}, { speed: `${speed} rpm` });
        const row = { ...NOMINAL_RINGS, "chain.spacer": spacer };
        const found = evaluateOne(scenario, row).state("run");
        const walked = warmUp(spacer, speed);
        if (walked === null) {
          runs += 1;
          expect(flagsOf(found), `${spacer} ${speed}`).toContain("thermal-runaway");
          expect(outcomeOf(found)).toBe("bind");
        } else {
          rests += 1;
          expect(flagsOf(found), `${spacer} ${speed}`).not.toContain("thermal-runaway");
          expect(found.frictionHeatW[0] / walked - 1, `${spacer} ${speed}`).toBeLessThan(1e-4);
          expect(found.frictionHeatW[0] / walked - 1, `${spacer} ${speed}`).toBeGreaterThan(-1e-4);
        }
      }
    }
    expect(rests).toBeGreaterThan(5);
    expect(runs).toBeGreaterThan(3);
  });
});

/**
 * Friction heat at rest, W, found the slow way: hand the heat made to a network without friction (speed 0) as heat from outside,
 * look what heat the pair then makes, and again; null when the preload passes the bind limit first.
 */
function warmUp(spacer: number, speed: number): number | null {
  let heat = 0;
  for (let step = 0; step < 2000; step += 1) {
    const still = driven({}, { speed: "0 rpm", network: { ambient: "20 degC", heat: { balls: `${heat / 2} W` } } });
    const found = evaluateOne(still, { ...NOMINAL_RINGS, "chain.spacer": spacer }).state("run");
    const preload = found.preloadN[0];
    if (preload >= 2000) return null;
    const made = (2 * torqueNmm(preload, speed, 20) * 1e-3 * 2 * Math.PI * speed) / 60;
    if (Math.abs(made - heat) <= 1e-5 * made) return made;
    heat = made;
  }
  return heat;
}
