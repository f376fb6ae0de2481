import { expect, it } from "vitest";
import { calloutLines } from "../../src/report/sections/callouts.ts";
import { makeFixture } from "../support/result-fixture.ts";
import { shipped } from "../support/shipped.ts";

/** The callouts of a scenario's own inputs; what a run finds is the fixture's. */
function calloutsOf(file: string, changes: Readonly<Record<string, unknown>> = {}): Record<string, string> {
  const { inputs, content } = shipped(file, changes);
  const lines = calloutLines({ ...makeFixture().result, inputs, scenario: content });
  return Object.fromEntries(lines.map(({ label, value }) => [label, value]));
}

it("calls out bearings, fits, spacings as they stand on the drawing, and the clamp", () => {
  expect(calloutsOf("laminating-roller.yaml")).toMatchObject({
    // Limits: ISO 5753-1:2009 group C3 and ISO 286-1:2010 g6 and N6, as the standards' tables print them.
    "bearings a and b": "20 × 42 × 12 mm (6004), clearance group C3 (13–28 µm), tolerance class 6",
    "shaft seat of bearings a and b (g6)": "19.98–19.993 mm",
    "housing bore of bearings a and b (N6)": "41.972–41.988 mm",
    "housing shoulder spacing": "32.000 ±0.006 mm",
    "shaft spacer": "31.766 ±0.004 mm",
    shim: "0.100 ±0.002 mm",
    "clamp force on the shaft": "2400–3600 N",
  });
});

it("tells two bearings apart, takes the limits of a process, and gives in figures what no standard names", () => {
  const lines = calloutsOf("laminating-roller.yaml", {
    "bearings.b.clearanceGroup": "CN",
    "chain.shim.length": { limits: "0.100 ±0.002", Cpk: 1.33 },
    "chain.shaft spacer.length": { measured: [31.764, 31.766, 31.768] },
  });
  expect(lines["bearing a"]).toContain("clearance group C3");
  expect(lines["bearing b"]).toContain("clearance group CN (5–20 µm)");
  expect(lines.shim).toBe("0.100 ±0.002 mm");
  expect(lines["shaft spacer"]).toMatch(/^31\.76/);
});

it("has no callout for where a member stands or what it is made of", () => {
  const labels = Object.keys(calloutsOf("grinding-spindle.yaml"));
  expect(labels.filter((label) => /place of|material of/.test(label))).toEqual([]);
});
