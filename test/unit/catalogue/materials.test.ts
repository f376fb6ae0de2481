import { describe, expect, test } from "vitest";
import { findMaterial, listMaterials } from "../../../src/catalogue/materials.ts";
import { AMBIGUOUS_MATERIALS, MATERIAL_ALIASES } from "../../../src/catalogue/materials-data.ts";
import { problemOf } from "./problem.ts";

describe("findMaterial", () => {
  test("names are found whatever their case, spaces and spelling of aluminium", () => {
    expect(findMaterial(" Carbon Steel ").name).toBe("carbon-steel");
    expect(findMaterial("Aluminum_6061").name).toBe("aluminium-6061");
  });

  test("an everyday name says in the source which material was taken", () => {
    expect(findMaterial("steel").name).toBe("carbon-steel");
    expect(findMaterial("steel").source).toContain('"steel" taken as carbon-steel');
    expect(findMaterial("100Cr6").name).toBe("bearing-steel");
  });

  test("a name that fits unlike materials is refused with the choice", () => {
    const problem = problemOf(() => findMaterial("stainless steel", "seats.shaft.material"));
    expect(problem).toMatchObject({ code: "conflict", path: "seats.shaft.material" });
    expect(problem.hint).toContain("austenitic-stainless");
  });

  test("an unknown name gets the nearest known one, or the list", () => {
    expect(problemOf(() => findMaterial("carbn-steel")).hint).toBe('Did you mean "carbon-steel"?');
    expect(problemOf(() => findMaterial("unobtainium")).hint).toContain("bearing-steel");
    expect(problemOf(() => findMaterial("constructor")).code).toBe("unknown-name");
  });

  test("aliases and choices name materials that exist and shadow none", () => {
    const names = new Set(listMaterials().map(({ name }) => name));
    for (const name of [...Object.values(MATERIAL_ALIASES), ...Object.values(AMBIGUOUS_MATERIALS).flat()]) {
      expect(names).toContain(name);
    }
    for (const alias of [...Object.keys(MATERIAL_ALIASES), ...Object.keys(AMBIGUOUS_MATERIALS)]) {
      expect(names).not.toContain(alias);
    }
  });
});

test.each(listMaterials().map((material) => [material.name, material] as const))(
  "%s is physically possible and hard to change by accident",
  (_, material) => {
    expect(material.poissonRatio).toBeGreaterThan(0);
    expect(material.poissonRatio).toBeLessThan(0.5);
    expect(material.expansionPerK).toBeGreaterThan(1e-6);
    expect(material.expansionPerK).toBeLessThan(60e-6);
    expect(material.lowestC).toBeLessThan(20);
    expect(material.highestC).toBeGreaterThan(60);
    expect(material.name).toMatch(/^[a-z][a-z0-9-]*$/);
    expect(Object.isFrozen(material)).toBe(true);
  },
);
