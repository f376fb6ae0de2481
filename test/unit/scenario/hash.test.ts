import { describe, expect, it } from "vitest";
import { canonicalJson } from "../../../src/scenario/hash.ts";
import { resolved } from "../../support/scenario.ts";

describe("the hash of a scenario", () => {
  const base = resolved().hash;

  it("is 64 hexadecimal digits", () => {
    expect(base).toMatch(/^[0-9a-f]{64}$/);
  });

  it.each([
    ["title", "another"],
    ["description", "words"],
    ["name", "other"],
    ["chain.spacer.length", "40.000 +0.005/-0.005"],
    ["chain.spacer.length", "40000 um ±5 um"],
    ["bearings.both.clearanceGroup", "CN"],
    ["window", "0.5..1.5 % of C"],
    ["preload", { method: "position" }],
    ["samples", 200_000],
  ])("does not change with %s, which changes no number", (path, value) => {
    expect(resolved({ [path]: value }).hash).toBe(base);
  });

  it.each([
    ["chain.spacer.length", "40 ±0.006"],
    ["chain.spacer.name", "tube"],
    ["bearings.a.clearanceGroup", "C3"],
    ["arrangement", "X"],
    ["seats.housing.material", "grey-iron"],
    ["seats.housing.outsideDiameter", "80 mm"],
    ["window", "0.5..1.6 % of C"],
    ["seed", "2"],
    ["samples", 1000],
    ["batch", { size: 5 }],
    ["states", [{ name: "bench", housing: "21 degC" }]],
  ])("changes with %s", (path, value) => {
    expect(resolved({ [path]: value }).hash).not.toBe(base);
  });
});

describe("canonical JSON", () => {
  it("sorts keys, keeps lists, drops what is undefined, and knows no −0", () => {
    expect(canonicalJson({ b: [2, 1], a: { d: -0, c: "x" }, e: undefined })).toBe('{"a":{"c":"x","d":0},"b":[2,1]}');
  });

  it("tells numbers that JSON cannot hold apart", () => {
    expect(canonicalJson([Number.POSITIVE_INFINITY, null])).toBe('["Infinity",null]');
  });
});
