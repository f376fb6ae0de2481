import { describe, expect, it } from "vitest";
import { formatProblem } from "../../../src/errors.ts";
import { parseScenario } from "../../../src/scenario/parse.ts";
import { problemsOf, resolved } from "../../support/scenario.ts";

type Row = [what: string, changes: Record<string, unknown>, code: string, path: string, message: RegExp];

const chain = (length: unknown, more: object = {}) => ({
  chain: [
    { name: "housing spacing", side: "housing", length: "40.13 ±0.01" },
    { name: "spacer", side: "shaft", length, ...more },
  ],
});

const rows: Row[] = [
  ["an unknown key", { arrangment: "O" }, "unknown-key", "arrangment", /Did you mean "arrangement"/],
  [
    "an unknown key inside",
    { "bearings.both.clearence": "5 um" },
    "unknown-key",
    "bearings.both.clearence",
    /Did you mean "clearance"/,
  ],
  [
    "an unknown key in a distribution",
    { "bearings.both.clearance": { limts: "5..9 um" } },
    "unknown-key",
    "bearings.both.clearance.limts",
    /Did you mean "limits"/,
  ],
  [
    "an unknown key in a list",
    chain("40 ±0.01", { materal: "brass" }),
    "unknown-key",
    "chain.spacer.materal",
    /Did you mean "material"/,
  ],
  [
    "a wrong choice",
    chain("40 ±0.01", { side: "shaf" }),
    "unknown-name",
    "chain.spacer.side",
    /housing or shaft.*Did you mean "shaft"/,
  ],
  ["a list for a text", { title: ["x"] }, "wrong-type", "title", /text.*got a list/],
  [
    "yes for true",
    { "seats.shaft.both.retained": "yes" },
    "wrong-type",
    "seats.shaft.both.retained",
    /true or false.*got "yes"/,
  ],
  ["a key without value", { clamp: null }, "missing", "clamp", /nothing after the key/],
  ["a missing part", { "seats.housing": undefined }, "missing", "seats.housing", /got nothing/],
  ["an older format", { seatspread: 0 }, "not-supported", "seatspread", /version 1, got 0/],
  ["a newer format", { seatspread: 2 }, "not-supported", "seatspread", /belongs to a newer program/],
  ["no format", { seatspread: undefined }, "missing", "seatspread", /Begin the file with "seatspread: 1"/],

  [
    "12 mm of clearance",
    { "bearings.both.clearance": "12 mm" },
    "out-of-range",
    "bearings.both.clearance",
    /got 12 mm\. Did you mean 12 um/,
  ],
  [
    "a clearance without unit",
    { "bearings.both.clearance": 12 },
    "wrong-unit",
    "bearings.both.clearance",
    /A unit is missing: write "12 um"/,
  ],
  [
    "a stand-out without unit",
    { "bearings.both.standOut": "0 ±15" },
    "wrong-unit",
    "bearings.both.standOut",
    /unit is missing/,
  ],
  ["a force for a length", chain("40 N"), "wrong-unit", "chain.spacer.length", /expected a length.*got 40 N/],
  ["a length for a force", { "clamp.force": "12 mm" }, "wrong-unit", "clamp.force", /expected a force.*got 12 mm/],
  [
    "degrees for kelvin",
    { states: [{ name: "bench", housing: "20 degC", shaft: { below: "housing", by: "5 degC" } }] },
    "wrong-unit",
    "states.bench.shaft.by",
    /difference.*got 5 degC/,
  ],
  ["reversed limits", chain("40.01..39.99 mm"), "reversed-limits", "chain.spacer.length", /low limit comes first/],
  ["reversed deviations", chain("40 -0.01/-0.02 +0.01"), "syntax", "chain.spacer.length", /got 40 -0.01/],
  [
    "reversed uniform limits",
    { "bearings.both.clearance": { uniform: { low: "9 um", high: "5 um" } } },
    "reversed-limits",
    "bearings.both.clearance.uniform.low",
    /below the high limit/,
  ],
  ["a reversed window", { window: { low: "100 N", high: "50 N" } }, "reversed-limits", "window", /Swap low and high/],
  ["a reversed window as text", { window: "1.5..0.5 % of C" }, "reversed-limits", "window", /1\.5/],
  ["a window of no width", { window: { low: "100 N", high: "100 N" } }, "reversed-limits", "window", /low below high/],
  ["a window above bind", { window: "50..2000 N" }, "conflict", "window", /above 2000 N.*Give bind\.preload/],
  ["a bind below the window", { bind: { preload: "60 N" } }, "conflict", "bind.preload", /above 140\.7 N, got 60 N/],
  ["a negative length", chain("-40 ±0.01"), "out-of-range", "chain.spacer.length", /above 0/],
  ["a decimal comma", chain("40,00 ±0.01"), "syntax", "chain.spacer.length", /decimal point: 40\.00/],

  [
    "an unknown designation",
    { "bearings.both.designation": "6044" },
    "unknown-name",
    "bearings.both.designation",
    /6044/,
  ],
  [
    "a designation with suffix",
    { "bearings.both.designation": "6004 C3" },
    "not-supported",
    "bearings.both.designation",
    /clearance/i,
  ],
  [
    "a tapered roller bearing",
    { "bearings.both.designation": "30204" },
    "not-supported",
    "bearings.both.designation",
    /tapered/i,
  ],
  [
    "an unknown clearance group",
    { "bearings.both.clearanceGroup": "C7" },
    "unknown-name",
    "bearings.both.clearanceGroup",
    /C2, CN, C3, C4, C5/,
  ],
  [
    "an unknown tolerance class",
    { "bearings.both.toleranceClass": "7" },
    "unknown-name",
    "bearings.both.toleranceClass",
    /Normal, 6 or 5/,
  ],
  [
    "an unknown material",
    { "seats.housing.material": "aluminium-6016" },
    "unknown-name",
    "seats.housing.material",
    /Did you mean "aluminium-6061"/,
  ],
  [
    "an impossible Poisson ratio",
    { "seats.housing.material": { expansion: "12 um/m/K", youngsModulus: "200 GPa", poissonRatio: 0.5 } },
    "out-of-range",
    "seats.housing.material.poissonRatio",
    /below 0\.5/,
  ],
  [
    "clearance and group at once",
    { "bearings.both.clearance": "5..9 um", "bearings.both.clearanceGroup": "CN" },
    "conflict",
    "bearings.both.clearanceGroup",
    /either clearance or clearanceGroup/,
  ],
  [
    "a bearing with neither name nor size",
    { "bearings.both": {} },
    "missing",
    "bearings.both.designation",
    /designation such as "6004"/,
  ],
  ["half a ball set", { "bearings.both.ballCount": 9 }, "missing", "bearings.both.ballCount", /whole ball set/],
  [
    "ratings without their ball set",
    { "bearings.both.dynamicRating": "9.4 kN" },
    "conflict",
    "bearings.both.dynamicRating",
    /only together with the ball set/,
  ],
  [
    "dimensions beside a designation",
    { "bearings.both.bore": "20 mm" },
    "conflict",
    "bearings.both.bore",
    /only without a designation/,
  ],
  [
    "balls that are too many",
    { "bearings.both.ballCount": 16, "bearings.both.ballDiameter": "6.35 mm", "bearings.both.pitchDiameter": "31 mm" },
    "impossible-geometry",
    "bearings.both.ballCount",
    /at most 15 balls/,
  ],
  [
    "balls too large for the rings",
    { "bearings.both.ballCount": 7, "bearings.both.ballDiameter": "11.5 mm", "bearings.both.pitchDiameter": "31 mm" },
    "impossible-geometry",
    "bearings.both.ballDiameter",
    /balls below 11 mm/,
  ],
  [
    "a pitch circle outside the rings",
    { "bearings.both.ballCount": 9, "bearings.both.ballDiameter": "6 mm", "bearings.both.pitchDiameter": "45 mm" },
    "impossible-geometry",
    "bearings.both.pitchDiameter",
    /between the bore of 20 mm/,
  ],
  [
    "a fraction of a ball",
    { "bearings.both.ballCount": 8.5, "bearings.both.ballDiameter": "6 mm", "bearings.both.pitchDiameter": "31 mm" },
    "impossible-geometry",
    "bearings.both.ballCount",
    /whole number/,
  ],
  [
    "a conformity of 0.5",
    { "bearings.both.conformityInner": "0.5" },
    "impossible-geometry",
    "bearings.both.conformityInner",
    /above 0\.5/,
  ],
  [
    "a conformity that reaches 0.5",
    { "bearings.both.conformityOuter": "0.51 ±0.012" },
    "impossible-geometry",
    "bearings.both.conformityOuter",
    /over its whole spread/,
  ],
  [
    "a normal conformity whose tail reaches 0.5",
    { "bearings.both.conformityInner": { normal: { mean: 0.515, sd: 0.003 } } },
    "impossible-geometry",
    "bearings.both.conformityInner",
    /give it limits/,
  ],
  [
    "a free clearance below zero",
    { "bearings.both.clearance": "-12..-3 um" },
    "out-of-range",
    "bearings.both.clearance",
    /mounted clearance negative/,
  ],

  [
    "a hole's code on a shaft",
    { "seats.shaft.both.fit": "20 K5" },
    "conflict",
    "seats.shaft.both.fit",
    /a shaft is k5/,
  ],
  [
    "a code at another size",
    { "seats.shaft.both.fit": "25 k5" },
    "impossible-fit",
    "seats.shaft.both.fit",
    /Did you mean "20 k5"/,
  ],
  [
    "a fit that cannot be pressed on",
    { "seats.shaft.both.fit": "20.2 ±0.01" },
    "impossible-fit",
    "seats.shaft.both.fit",
    /interference/,
  ],
  [
    "a fit that rattles",
    { "seats.housing.both.fit": "43 mm" },
    "impossible-fit",
    "seats.housing.both.fit",
    /clearance to the outside diameter/,
  ],
  ["a seat without a fit", { "seats.shaft.both.fit": undefined }, "missing", "seats.shaft.both.fit", /"20 k5"/],
  [
    "a shaft bored away",
    { "seats.shaft.bore": "20 mm" },
    "impossible-geometry",
    "seats.shaft.bore",
    /below its seat of 20 mm/,
  ],
  [
    "a housing smaller than its bearing",
    { "seats.housing.outsideDiameter": "42 mm" },
    "impossible-geometry",
    "seats.housing.outsideDiameter",
    /above the bearing's 42 mm/,
  ],

  ["an empty chain", { chain: [] }, "missing", "chain", /at least one member/],
  [
    "a chain with a part missing",
    { chain: [{ name: "x", side: "housing", length: "40" }] },
    "impossible-geometry",
    "chain",
    /housing 40 mm, shaft 0 mm/,
  ],
  [
    "two members of one name",
    {
      chain: [
        { name: "x", side: "housing", length: "40" },
        { name: "x", side: "shaft", length: "40" },
      ],
    },
    "conflict",
    "chain.x",
    /name of its own/,
  ],
  [
    "a member with a dot in its name",
    { chain: [{ name: "a.b", side: "housing", length: "0.1" }] },
    "wrong-type",
    "chain.0.name",
    /without a full stop/,
  ],
  [
    "clampPath without clamp",
    chain("40 ±0.01", { clampPath: true, area: "100 mm2" }),
    "conflict",
    "chain.spacer.clampPath",
    /Give clamp/,
  ],
  [
    "clampPath without area",
    { ...chain("40 ±0.01", { clampPath: true }), clamp: { force: "1 kN" } },
    "missing",
    "chain.spacer.area",
    /section area/,
  ],
  [
    "clampPath on the other side",
    { ...chain("40 ±0.01", { clampPath: true, area: "9 mm2" }), clamp: { force: "1 kN", side: "housing" } },
    "conflict",
    "chain.spacer.clampPath",
    /the housing, got shaft/,
  ],
  ["an unknown zone", chain("40 ±0.01", { zone: "shat" }), "unknown-name", "chain.spacer.zone", /Did you mean "shaft"/],
  ["a zone that means two", chain("40 ±0.01", { zone: "outerRings" }), "unknown-name", "chain.spacer.zone", /one zone/],

  [
    "below absolute zero",
    { states: [{ name: "bench", housing: "-300 degC" }] },
    "out-of-range",
    "states.bench.housing",
    /absolute zero/,
  ],
  [
    "a spread below absolute zero",
    { states: [{ name: "bench", housing: "-270 ±5 degC" }] },
    "out-of-range",
    "states.bench.housing",
    /absolute zero/,
  ],
  [
    "a difference below absolute zero",
    { states: [{ name: "bench", housing: "20 degC", shaft: { below: "housing", by: "300 K" } }] },
    "out-of-range",
    "states.bench.shaft",
    /absolute zero/,
  ],
  [
    "zones that wait for each other",
    { states: [{ name: "bench", housing: { above: "shaft", by: "1 K" }, shaft: { above: "housing", by: "1 K" } }] },
    "conflict",
    "states.bench.housing",
    /depend on itself/,
  ],
  [
    "a difference to two rings",
    { states: [{ name: "bench", housing: "20 degC", shaft: { above: "outerRings", by: "1 K" } }] },
    "conflict",
    "states.bench.shaft",
    /outerRingA/,
  ],
  [
    "above and below at once",
    { states: [{ name: "bench", housing: "20 degC", shaft: { above: "housing", below: "housing", by: "1 K" } }] },
    "conflict",
    "states.bench.shaft",
    /either above or below/,
  ],
  ["a state without a temperature", { states: [{ name: "bench" }] }, "missing", "states.bench.housing", /"80 ±5 degC"/],
  ["no states in the list", { states: [] }, "missing", "states", /empty list/],
  [
    "two benches",
    {
      states: [
        { name: "a", bench: true, housing: "20 degC" },
        { name: "b", bench: true, housing: "20 degC" },
      ],
    },
    "conflict",
    "states.b.bench",
    /a and b/,
  ],
  [
    "two states of one name",
    {
      states: [
        { name: "a", housing: "20 degC" },
        { name: "a", housing: "20 degC" },
      ],
    },
    "conflict",
    "states.a",
    /name of its own/,
  ],
  [
    "a state's name with a blank",
    { states: [{ name: "hot soak", housing: "20 degC" }] },
    "wrong-type",
    "states.hot soak.name",
    /label/,
  ],
  [
    "a share above 1",
    { states: [{ name: "a", housing: "20 degC", share: 2 }] },
    "out-of-range",
    "states.a.share",
    /from 0 to 1/,
  ],

  ["a spring that is not described", { preload: { method: "spring" } }, "missing", "preload.spring", /got nothing/],
  [
    "an unknown arrangement",
    { arrangement: "back-to-bak" },
    "unknown-name",
    "arrangement",
    /Did you mean "back-to-back"/,
  ],
  ["tandem", { arrangement: "tandem" }, "not-supported", "arrangement", /not preloaded against itself/],
  ["a name that leads out", { name: "../../etc/passwd" }, "wrong-type", "name", /letters, digits, - and _, got \.\.\//],
  ["a name of dots", { name: ".." }, "wrong-type", "name", /letters, digits/],
  ["a batch of none", { batch: { size: 0 } }, "out-of-range", "batch.size", /from 1 to/],
  ["no samples", { samples: 0 }, "out-of-range", "samples", /from 1 to 10000000000, got 0/],
  ["too many samples", { samples: 1e11 }, "out-of-range", "samples", /got 100000000000/],
  ["an empty seed", { seed: "" }, "wrong-type", "seed", /got an empty text/],
  ["a yield above 1", { requiredYield: "120 %" }, "out-of-range", "requiredYield", /got 120 %/],

  [
    "an unknown variable",
    { correlations: [{ between: ["bearings.a.clearence", "bearings.b.clearance"], coefficient: 0.5 }] },
    "unknown-name",
    "correlations.0.between",
    /Did you mean "bearings.a.clearance"/,
  ],
  [
    "a fixed variable",
    { correlations: [{ between: ["bearings.a.clearance", "seats.shaft.a.smoothing"], coefficient: 0.5 }] },
    "conflict",
    "correlations.0.between",
    /which is fixed/,
  ],
  [
    "a coefficient of 1",
    { correlations: [{ between: ["bearings.a.clearance", "bearings.b.clearance"], coefficient: 1 }] },
    "out-of-range",
    "correlations.0.coefficient",
    /between −1 and 1/,
  ],
  [
    "correlations that contradict",
    {
      correlations: [
        { between: ["bearings.a.clearance", "bearings.b.clearance"], coefficient: 0.9 },
        { between: ["bearings.a.clearance", "bearings.a.standOut"], coefficient: 0.9 },
        { between: ["bearings.b.clearance", "bearings.a.standOut"], coefficient: -0.9 },
      ],
    },
    "conflict",
    "correlations.0",
    /positive definite/,
  ],
  [
    "a pair given twice",
    {
      correlations: [
        { between: ["bearings.a.clearance", "bearings.b.clearance"], coefficient: 0.5 },
        { between: ["bearings.b.clearance", "bearings.a.clearance"], coefficient: 0.2 },
      ],
    },
    "conflict",
    "correlations.1.between",
    /once/,
  ],

  [
    "two distributions at once",
    chain({ limits: "40 ±0.01", measured: [40, 40.1] }),
    "conflict",
    "chain.spacer.length",
    /limits and measured/,
  ],
  ["no distribution", chain({ batchShare: 0.5 }), "missing", "chain.spacer.length", /exactly one of/],
  [
    "Cpk above Cp",
    chain({ limits: "40 ±0.01", Cp: 1, Cpk: 1.3 }),
    "conflict",
    "chain.spacer.length.limits.Cpk",
    /at most Cp/,
  ],
  [
    "Cp beside no limits",
    chain({ uniform: { low: 39.9, high: 40 }, Cp: 1 }),
    "conflict",
    "chain.spacer.length.Cp",
    /only beside limits/,
  ],
  [
    "a shift that is not stated",
    chain({ limits: "40 ±0.01", Cp: 1.3, Cpk: 1 }),
    "missing",
    "chain.spacer.length.limits.shift",
    /low or high/,
  ],
  [
    "a batch share above 1",
    chain({ limits: "40 ±0.01", batchShare: 1.5 }),
    "out-of-range",
    "chain.spacer.length.batchShare",
    /from 0 to 1/,
  ],
  ["one reading", chain({ readings: ["40 mm"] }), "missing", "chain.spacer.length.readings", /at least 2/],
  [
    "a spread of zero",
    chain({ normal: { mean: 40, sd: 0 } }),
    "out-of-range",
    "chain.spacer.length.normal.sd",
    /above 0/,
  ],
];

describe("a problem names its place, what was expected, what stands there and the nearest fix", () => {
  it.each(rows)("%s", (_what, changes, code, path, message) => {
    const problems = problemsOf(() => resolved(changes));
    const texts = problems.map(formatProblem);
    const found = problems.find((problem) => problem.code === code && problem.path === path);
    expect(found, `problems were:\n${texts.join("\n")}`).toBeDefined();
    expect(formatProblem(found!)).toMatch(message);
    expect(found?.file).toBe("test.yaml");
  });

  it("each row is refused for its own reason alone, told once or twice at most (both bearings may share it)", () => {
    for (const [what, changes] of rows) {
      const problems = problemsOf(() => resolved(changes));
      expect(problems.length, `${what}: ${problems.map(formatProblem).join("\n")}`).toBeLessThanOrEqual(3);
    }
  });
});

describe("all problems of a scenario are told together, with their lines", () => {
  const text = [
    "seatspread: 1",
    "arrangment: O",
    "arrangement: Q",
    "bearings:",
    '  both: { designation: "6004", clearance: 12 mm }',
    "chain:",
    "  - name: housing spacing",
    "    side: housing",
    "    length: 40.13 ±0.01",
    "  - name: spacer",
    "    side: shaft",
    "    length: 40 N",
    "seats:",
    "  shaft: { both: { fit: 25 k5 } }",
    "  housing: { both: { fit: 42 J7 } }",
    "samples: many",
  ].join("\n");

  it("shape and meaning alike", () => {
    const problems = problemsOf(() => parseScenario(text, "line.yaml"));
    const places = problems.map(({ path, line }) => [path, line]);
    expect(places).toContainEqual(["arrangment", 2]);
    expect(places).toContainEqual(["arrangement", 3]);
    expect(places).toContainEqual(["bearings.both.clearance", 5]);
    expect(places).toContainEqual(["chain.spacer.length", 12]);
    expect(places).toContainEqual(["seats.shaft.both.fit", 14]);
    expect(places).toContainEqual(["samples", 16]);
    expect(problems.every(({ file }) => file === "line.yaml")).toBe(true);
  });

  it("in the form file:line: path: expected …, got …. Hint", () => {
    const [first] = problemsOf(() => parseScenario(text, "line.yaml")).filter(({ path }) => path === "arrangment");
    expect(formatProblem(first)).toMatch(
      /^line\.yaml:2: arrangment: expected .*, got arrangment\. Did you mean "arrangement"\?$/,
    );
  });
});
