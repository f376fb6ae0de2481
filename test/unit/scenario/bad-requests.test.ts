import { describe, expect, it } from "vitest";
import { formatProblem } from "../../../src/errors.ts";
import { problemsOf, resolved } from "../../support/scenario.ts";

const spring = (changes: Record<string, unknown>) => ({
  preload: {
    method: "spring",
    spring: { freeLength: "5 ±0.2 mm", rate: "50 N/mm", solidHeight: "2 mm", ...changes },
  },
  "chain.housing spacing.length": "36 ±0.05",
});
const adjuster = (entry: Record<string, unknown>) => ({ preload: { method: "adjuster", adjuster: entry } });
const shim = (entry: Record<string, unknown>) => ({
  preload: { method: "shim", shim: { measure: "dimensions", step: "0.05 mm", ...entry } },
});
const PATHS = [
  { from: "balls", to: "outer", conductance: "0.5 W/K" },
  { from: "balls", to: "inner", conductance: "0.5 W/K" },
  { from: "outer", to: "housing", conductance: "4 W/K" },
  { from: "inner", to: "shaft", conductance: "4 W/K" },
  { from: "housing", to: "ambient", conductance: "2 W/K" },
];
const network = (paths: unknown, state: Record<string, unknown> = {}) => ({
  thermal: { paths },
  states: [
    { name: "bench", housing: "20 degC" },
    { name: "run", network: { ambient: "20 degC" }, speed: "1000 rpm", ...state },
  ],
});
const extended = (entry: Record<string, unknown>) => ({ extended: { speed: "1000 rpm", ...entry } });

type Case = readonly [name: string, changes: Record<string, unknown>, code: string, path: string, message: RegExp];

const CASES: readonly Case[] = [
  [
    "a bind torque below that of the bearings without load",
    { "bind.torque": "1 N.mm" },
    "out-of-range",
    "bind.torque",
    /without preload/,
  ],
  [
    "a bind torque inside the window",
    { "bind.torque": "6 N.mm", window: "20..900 N" },
    "conflict",
    "bind.torque",
    /above the window/,
  ],
  [
    "a method nobody knows",
    { preload: { method: "sprig" } },
    "unknown-name",
    "preload.method",
    /Did you mean "spring"/,
  ],
  [
    "a spring beside position",
    { preload: { method: "position", spring: { freeLength: 5, rate: "5 N/mm" } } },
    "conflict",
    "preload.spring",
    /method: spring/,
  ],
  [
    "a spring solid at its free length",
    spring({ solidHeight: "4.9 mm" }),
    "impossible-geometry",
    "preload.spring.solidHeight",
    /no travel/,
  ],
  ["a spring without an end", spring({ solidHeight: undefined }), "missing", "preload.spring.solidHeight", /stop/],
  ["a spring with two ends", spring({ stop: "1 mm" }), "conflict", "preload.spring.stop", /both/],
  [
    "a spring that is solid as assembled",
    { ...spring({ solidHeight: "4.2 mm" }), "chain.housing spacing.length": "36 ±0.05" },
    "impossible-geometry",
    "preload.spring.freeLength",
    /solid/,
  ],
  [
    "a spring too short for its room",
    { ...spring({}), "chain.housing spacing.length": "34 ±0.05" },
    "impossible-geometry",
    "preload.spring.freeLength",
    /shorter/,
  ],
  ["a rate of nothing", spring({ rate: "0 N/mm" }), "out-of-range", "preload.spring.rate", /above 0/],
  ["a rate in the wrong unit", spring({ rate: "50 N" }), "wrong-unit", "preload.spring.rate", /stiffness/],
  ["half a spring", spring({ parallel: 0.5 }), "out-of-range", "preload.spring.parallel", /whole number/],
  [
    "a sliding ring whose shoulder is on the wrong side",
    { ...spring({}), "seats.housing.b.seatSide": "outboard" },
    "conflict",
    "seats.housing.b.seatSide",
    /inboard, where the spring must stand/,
  ],
  ["an adjuster without a setting", adjuster({}), "missing", "preload.adjuster", /advance/],
  [
    "an adjuster with two settings",
    adjuster({ advance: "10 um", torque: "20 N.mm" }),
    "conflict",
    "preload.adjuster",
    /both/,
  ],
  [
    "an adjuster torque below that of the bearings without load",
    adjuster({ torque: "2 ±1.5 N.mm" }),
    "out-of-range",
    "preload.adjuster.torque",
    /without preload/,
  ],
  [
    "an adjuster torque below a stated idle torque",
    adjuster({ torque: "20 ±5 N.mm", noLoadTorque: "10..16 N.mm" }),
    "out-of-range",
    "preload.adjuster.torque",
    /10–16 N·mm/,
  ],
  ["shims without a step", shim({ step: "0 mm" }), "out-of-range", "preload.shim.step", /above 0/],
  [
    "a stock that leaves nothing as it is",
    shim({ range: "0.1..0.3 mm" }),
    "out-of-range",
    "preload.shim.range",
    /include 0/,
  ],
  [
    "a body without a path to ambient",
    network(PATHS.filter(({ to }) => to !== "shaft")),
    "conflict",
    "thermal.paths",
    /none from|from every node/,
  ],
  ["a network without paths", network([]), "conflict", "thermal.paths", /path/],
  [
    "a network without a speed",
    network([...PATHS, { from: "shaft", to: "ambient", conductance: "1 W/K" }], { speed: undefined }),
    "missing",
    "states.run.speed",
    /speed/,
  ],
  [
    "a body nobody knows",
    network([{ from: "houssing", to: "ambient", conductance: "2 W/K" }]),
    "unknown-name",
    "thermal.paths.0.from",
    /Did you mean "housing"/,
  ],
  [
    "a conductance of nothing",
    network([{ from: "housing", to: "ambient", conductance: "0 W/K" }]),
    "out-of-range",
    "thermal.paths.0.conductance",
    /above 0/,
  ],
  [
    "temperatures given beside a network",
    network([...PATHS, { from: "shaft", to: "ambient", conductance: "1 W/K" }], { shaft: "40 degC" }),
    "conflict",
    "states.run.shaft",
    /either/,
  ],
  [
    "a speed that nothing uses",
    { states: [{ name: "bench", housing: "20 degC", speed: "100 rpm" }] },
    "conflict",
    "states.bench.speed",
    /only where/,
  ],
  [
    "a moment without a position",
    extended({ loads: [{ moment: "2 N.m" }] }),
    "missing",
    "extended.loads.0.at",
    /position of the moment/,
  ],
  [
    "a radial load without a position",
    extended({ loads: [{ radial: "100 N" }] }),
    "missing",
    "extended.loads.0.at",
    /position of the radial load/,
  ],
  [
    "a load of nothing",
    extended({ loads: [{ at: "10 mm" }] }),
    "missing",
    "extended.loads.0",
    /radial, axial or moment/,
  ],
  [
    "a load in a state that is not there",
    extended({ loads: [{ axial: "5 N", states: ["warm"] }] }),
    "unknown-name",
    "extended.loads.0.states",
    /bench/,
  ],
  ["extended outputs without a speed", { extended: {} }, "missing", "extended.speed", /speed/],
  [
    "ball planes closer than the bearings are wide",
    extended({ span: "5 mm" }),
    "impossible-geometry",
    "extended.span",
    /side by side/,
  ],
  [
    "a requirement without a limit",
    { requirements: [{ quantity: "preload" }] },
    "missing",
    "requirements.0",
    /low, high or within/,
  ],
  [
    "a requirement with its limits reversed",
    { requirements: [{ quantity: "preload", low: "90 N", high: "50 N" }] },
    "reversed-limits",
    "requirements.0",
    /low below high/,
  ],
  [
    "a requirement in the wrong unit",
    { requirements: [{ quantity: "preload", low: "90 um" }] },
    "wrong-unit",
    "requirements.0.low",
    /force/,
  ],
  [
    "a requirement on a gap without a gap",
    { requirements: [{ quantity: "rotor movement", within: "5 um" }] },
    "missing",
    "requirements.0",
    /section gap/,
  ],
  [
    "a requirement on life without the extended section",
    { requirements: [{ quantity: "ball-load life", low: "8000 h" }] },
    "missing",
    "requirements.0",
    /section extended/,
  ],
  [
    "a requirement on play at a radius without a radius",
    { ...extended({}), requirements: [{ quantity: "play at radius", high: "20 um" }] },
    "missing",
    "requirements.0",
    /extended.probe/,
  ],
  [
    "a gap that is closed as drawn",
    { gap: { bearing: "a", shaftMovesInboard: "opens", members: [{ name: "disc", side: "shaft", length: "5 mm" }] } },
    "impossible-geometry",
    "gap.members",
    /there is a gap/,
  ],
  [
    "a gap at the bearing that slides",
    {
      ...spring({}),
      gap: { bearing: "b", shaftMovesInboard: "opens", members: [{ name: "bridge", side: "housing", length: "5 mm" }] },
    },
    "conflict",
    "gap.bearing",
    /slides/,
  ],
  [
    "an angular-contact bearing without its angle",
    { "bearings.both.designation": "7004" },
    "not-supported",
    "bearings.both.designation",
    /contactAngle/,
  ],
  [
    "an angle beside a clearance group",
    { bearings: { both: { designation: "7004", contactAngle: "15 deg", clearanceGroup: "C3" } } },
    "conflict",
    "bearings.both.clearanceGroup",
    /contactAngle/,
  ],
  [
    "an angle that no bearing has",
    { bearings: { both: { designation: "7004", contactAngle: "5 deg" } } },
    "out-of-range",
    "bearings.both.contactAngle",
    /10 to 45 deg/,
  ],
  [
    "a deep-groove designation with an angle",
    { "bearings.both.contactAngle": "15 deg" },
    "unknown-name",
    "bearings.both.designation",
    /angular-contact/,
  ],
  [
    "a tapered roller bearing",
    { "bearings.both.designation": "30204" },
    "not-supported",
    "bearings.both.designation",
    /tapered roller bearings, which are outside this program/,
  ],
];

describe("what is asked beyond position preload is refused with its reason", () => {
  it.each(CASES)("%s", (_, changes, code, path, message) => {
    const problems = problemsOf(() => resolved(changes));
    const texts = problems.map(formatProblem);
    const found = problems.find((problem) => problem.code === code && problem.path === path);
    expect(found, `problems were:\n${texts.join("\n")}`).toBeDefined();
    expect(formatProblem(found!)).toMatch(message);
    expect(found!.file).toBe("test.yaml");
  });
});
