import { describe, expect, it } from "vitest";
import { allGlossaryEntries, FLAGS, OUTCOMES } from "../../../src/units/glossary.ts";
import { UNIT_SUFFIXES, unitSuffixOf } from "../../../src/units/suffixes.ts";

describe("glossary", () => {
  it("one record a name, each with a meaning, a source and a unit from the closed list", () => {
    const entries = allGlossaryEntries();
    expect(new Set(entries.map((e) => e.name)).size).toBe(entries.length);
    const units = new Set<string>([...Object.values(UNIT_SUFFIXES), "1", ""]);
    for (const e of entries) {
      expect(e.meaning.length, e.name).toBeGreaterThan(20);
      expect(e.source, e.name).not.toBe("");
      expect(units.has(e.unit), `${e.name}: ${e.unit}`).toBe(true);
    }
  });

  it("names the six outcomes and six flags of the preload model", () => {
    expect(Object.keys(OUTCOMES)).toEqual(["reversed", "play", "light", "target", "heavy", "bind"]);
    expect(Object.keys(FLAGS)).toEqual([
      "seat-lost",
      "ring-walk",
      "clamp-exceeded",
      "spring-solid",
      "spring-stuck",
      "thermal-runaway",
    ]);
  });
});

describe("unitSuffixOf: the longest suffix after a lower-case letter or digit", () => {
  it.each([
    ["offsetMm", "Mm"],
    ["sectionAreaMm2", "Mm2"],
    ["preloadN", "N"],
    ["stiffnessNPerMm", "NPerMm"],
    ["pressureMPa", "MPa"],
    ["temperatureC", "C"],
    ["temperatureRiseK", "RiseK"],
    ["expansionPerK", "PerK"],
    ["conformityInnerRatio", "Ratio"],
    ["sampleCount", null],
    ["N", null],
    ["versionJSON", null],
  ])("%s → %s", (name, suffix) => {
    expect(unitSuffixOf(name)).toBe(suffix);
  });
});
