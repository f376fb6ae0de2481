import { expect, test } from "vitest";
import type { Outcome } from "../../../src/model/outcome.ts";
import { unitText } from "../../../src/report/unit-text.ts";
import { openUnit } from "../../../src/studies/unit.ts";
import { fixedPair } from "../../support/fixed-pair.ts";
import { resolved } from "../../support/scenario.ts";

/** One state at the temperatures given. */
const at = (housing: string, shaft = housing) => [
  { name: "bench", housing: "20 degC" },
  { name: "extreme", housing, shaft },
];

/** A spring 5 mm free and 0.1 mm solid, pressed by about 1 mm, behind an outer ring that slides. */
const sprung = (rate: string) => ({
  chain: [
    { name: "housing spacing", side: "housing", length: "36.1 mm", area: "100 mm2" },
    { name: "spacer", side: "shaft", length: "40 mm", area: "100 mm2" },
  ],
  preload: {
    method: "spring",
    spring: { freeLength: "5 mm", rate, solidHeight: "0.1 mm", slides: "outer-b" },
  },
});

/** Extremes of the admissible range, each with the class it must fall in and why. */
test.each<[string, ReturnType<typeof fixedPair>, Outcome, RegExp]>([
  [
    "no clearance and no offset: nothing carries",
    fixedPair({ "bearings.both.clearance": "0 um", "chain.housing spacing.length": "40 mm" }),
    "play",
    /; 0\.0\sµm of axial play are left/,
  ],
  [
    "no clearance: the least offset carries",
    fixedPair({ "bearings.both.clearance": "0 um", "chain.housing spacing.length": "40.005 mm" }),
    "light",
    /lies 5\.0\sµm past the onset/,
  ],
  [
    "members as stiff as can be: an offset of 0.4 mm binds",
    fixedPair({ "chain.housing spacing.length": "40.4 mm" }),
    "bind",
    /past the onset, which gives/,
  ],
  [
    "a very soft spring, 0.01 N/mm: next to no force, and yet no play",
    fixedPair(sprung("0.01 N/mm")),
    "light",
    /past the onset, which gives 0\.0\sN/,
  ],
  [
    "a spring of 100 N/mm pressed by a good millimetre: on target",
    fixedPair(sprung("100 N/mm")),
    "target",
    /On target in every state/,
  ],
  [
    "a spring of 90 kN/mm, pressed by a millimetre: hardly softer than the bearings, and it binds",
    fixedPair(sprung("90000 N/mm")),
    "bind",
    /past the onset, which gives/,
  ],
  [
    "members of a square metre in section: as a rigid structure",
    fixedPair({
      "chain.housing spacing.area": "1000000 mm2",
      "chain.spacer.area": "1000000 mm2",
      "chain.housing spacing.length": "40.4 mm",
    }),
    "bind",
    /past the onset, which gives/,
  ],
  ["−60 °C throughout", fixedPair({ states: at("-60 degC") }), "light", /past the onset/],
  [
    "300 °C throughout, one material: the offset grows with its own expansion only",
    fixedPair({ states: at("300 degC") }),
    "light",
    /past the onset/,
  ],
  [
    "radial interference when the shaft is far hotter than the housing",
    fixedPair({ states: at("20 degC", "220 degC") }),
    "heavy",
    /radial clearance mounted\s+[-−]\d/,
  ],
])("%s", (_, scenario, outcome, reason) => {
  const unit = openUnit(scenario, 0);
  const state = unit.states[unit.states.length - 1];
  expect(Number.isFinite(state.preloadN)).toBe(true);
  expect({ outcome: state.outcome, preloadN: state.preloadN }).toMatchObject({ outcome });
  expect(unitText(scenario, unit, { width: 200 })).toMatch(reason);
});

test.each([
  ["603", "3 k5", "9 J7"],
  ["6312", "60 k5", "130 J7"],
])(
  "bearing %s: every unit of a block has a class and finite figures from −60 to 300 °C",
  (designation, shaft, housing) => {
    for (const temperature of ["-60 degC", "300 degC"]) {
      const scenario = resolved({
        "bearings.both.designation": designation,
        "seats.shaft.both.fit": shaft,
        "seats.housing.both.fit": housing,
        states: at(temperature),
      });
      for (const index of [0, 1, 2]) {
        for (const state of openUnit(scenario, index).states) {
          expect(["play", "light", "target", "heavy", "bind", "reversed"]).toContain(state.outcome);
          expect([state.preloadN, state.playMm, state.offsetMm].every(Number.isFinite)).toBe(true);
          if (state.outcome === "play") expect(state.preloadN).toBe(0);
          else expect(state.preloadN).not.toBe(0);
        }
      }
    }
  },
);
