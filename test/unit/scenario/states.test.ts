import { describe, expect, it } from "vitest";
import type { DutyState, ResolvedScenario, Zone } from "../../../src/scenario/types.ts";
import { resolved } from "../../support/scenario.ts";

/** Terms of a zone as `name·factor`, sorted. */
function terms(scenario: ResolvedScenario, state: DutyState, zone: Zone): string[] {
  return state.zones[zone].map(({ variable, factor }) => `${scenario.variables[variable].name}·${factor}`).sort();
}

function one(state: object) {
  const scenario = resolved({ states: [{ name: "hot", ...state }] });
  return (zone: Zone) => terms(scenario, scenario.states[0], zone);
}

describe("temperatures of the zones of a state", () => {
  it("what is left out: shaft as housing, outer ring as housing, inner ring as shaft, balls midway", () => {
    const zone = one({ housing: "80 ±5 degC" });
    for (const name of ["housing", "shaft", "outer-a", "inner-b", "balls-a"] as const) {
      expect(zone(name)).toEqual(["states.hot.housing·1"]);
    }
  });

  it("a difference shares the draw of the zone it refers to", () => {
    const zone = one({ housing: "80 ±5 degC", shaft: { below: "housing", by: "8 ±2 K" } });
    expect(zone("shaft")).toEqual(["states.hot.housing·1", "states.hot.shaft·-1"]);
    expect(zone("inner-a")).toEqual(["states.hot.housing·1", "states.hot.shaft·-1"]);
    expect(zone("balls-a")).toEqual(["states.hot.housing·1", "states.hot.shaft·-0.5"]);
    expect(zone("outer-a")).toEqual(["states.hot.housing·1"]);
  });

  it("the housing may follow the shaft", () => {
    const zone = one({ shaft: "90 degC", housing: { below: "shaft", by: "4 K" } });
    expect(zone("housing")).toEqual(["states.hot.housing·-1", "states.hot.shaft·1"]);
    expect(one({ shaft: "90 degC" })("outer-b")).toEqual(["states.hot.shaft·1"]);
  });

  it("one ring apart from the other, and balls above their own outer ring", () => {
    const zone = one({
      housing: "80 degC",
      outerRingA: { below: "housing", by: "3 K" },
      balls: { above: "outerRings", by: "5 K" },
    });
    expect(zone("outer-a")).toEqual(["states.hot.housing·1", "states.hot.outerRingA·-1"]);
    expect(zone("outer-b")).toEqual(["states.hot.housing·1"]);
    expect(zone("balls-a")).toEqual(["states.hot.balls·1", "states.hot.housing·1", "states.hot.outerRingA·-1"]);
    expect(zone("balls-b")).toEqual(["states.hot.balls·1", "states.hot.housing·1"]);
  });

  it("the bench comes first: the one marked, else the one of that name, else the first", () => {
    const names = (states: object[]) => resolved({ states }).states.map(({ name, isBench }) => [name, isBench]);
    const at = { housing: "20 degC" };
    expect(
      names([
        { name: "hot", ...at },
        { name: "bench", ...at },
      ]),
    ).toEqual([
      ["bench", true],
      ["hot", false],
    ]);
    expect(
      names([
        { name: "hot", ...at },
        { name: "bench", ...at },
        { name: "test", bench: true, ...at },
      ])[0],
    ).toEqual(["test", true]);
    expect(
      names([
        { name: "hot", ...at },
        { name: "cold", ...at },
      ])[0],
    ).toEqual(["hot", true]);
  });

  it("shares: equal when none is given; else the others divide what is left; scaled with a warning", () => {
    const at = { housing: "20 degC" };
    const weights = (...shares: (number | string | undefined)[]) => {
      const states = shares.map((share, index) => ({ name: `s${index}`, share, ...at }));
      const scenario = resolved({ states });
      return [scenario.states.map(({ weightRatio }) => weightRatio), scenario.warnings.map(({ code }) => code)];
    };
    expect(weights(undefined, undefined)).toEqual([[0.5, 0.5], []]);
    expect(weights(undefined, "60 %", 0.4)).toEqual([[0, 0.6, 0.4], []]);
    expect(weights(undefined, undefined, 0.5)).toEqual([[0.25, 0.25, 0.5], []]);
    expect(weights(0.5, 0.3)).toEqual([[0.625, expect.closeTo(0.375, 12)], ["shares-normalised"]]);
  });
});
