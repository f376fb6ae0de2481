import { describe, expect, it } from "vitest";
import { applyOverrides, parseOverride } from "../../../src/scenario/overrides.ts";
import { LEAST_SCENARIO, problemsOf, resolved } from "../../support/scenario.ts";

describe("overrides", () => {
  it.each([
    ["bearings.both.clearanceGroup=C3", { path: "bearings.both.clearanceGroup", value: "C3" }],
    ["chain.shaft spacer.length = 60 ±0.01", { path: "chain.shaft spacer.length", value: "60 ±0.01" }],
    ["samples=1e5", { path: "samples", value: 100_000 }],
    ["seats.shaft.both.retained=true", { path: "seats.shaft.both.retained", value: true }],
    ["window={ low: 50 N, high: 150 N }", { path: "window", value: { low: "50 N", high: "150 N" } }],
    ["window=0.5..1.5 % of C", { path: "window", value: "0.5..1.5 % of C" }],
    ["title=a: b: c", { path: "title", value: "a: b: c" }],
  ])("%s", (text, override) => {
    expect(parseOverride(text)).toEqual(override);
  });

  it.each(["clearanceGroup", "=C3", ""])("without an address is refused: %s", (text) => {
    expect(problemsOf(() => parseOverride(text))[0].code).toBe("usage");
  });

  it("sets values in a copy, makes groups, finds list elements by name or number", () => {
    const before = structuredClone(LEAST_SCENARIO);
    const after = applyOverrides(LEAST_SCENARIO, [
      { path: "chain.spacer.length", value: "41" },
      { path: "chain.0.material", value: "brass" },
      { path: "batch.size", value: 9 },
    ]);
    expect(after).toMatchObject({ chain: [{ material: "brass" }, { length: "41" }], batch: { size: 9 } });
    expect(LEAST_SCENARIO).toEqual(before);
  });

  it("are checked like the file", () => {
    const [problem] = problemsOf(() => resolved({ "bearings.both.clearanceGrop": "C3" }));
    expect(problem).toMatchObject({ code: "unknown-key", hint: 'Did you mean "clearanceGroup"?' });
  });

  it("name the nearest list element, and refuse to go through a plain value", () => {
    const set = (path: string) => problemsOf(() => applyOverrides(LEAST_SCENARIO, [{ path, value: 1 }]))[0];
    expect(set("chain.spacr.length")).toMatchObject({ code: "unknown-name", hint: 'Did you mean "spacer"?' });
    expect(set("arrangement.kind")).toMatchObject({ code: "unknown-key", hint: "Set arrangement as a whole." });
  });

  it("cannot reach an object's kind", () => {
    const after = applyOverrides({}, [{ path: "__proto__.polluted", value: 1 }]) as object;
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
    expect(Object.getPrototypeOf(after)).toBe(Object.prototype);
  });
});
