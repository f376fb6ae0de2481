import { describe, expect, test } from "vitest";
import { findMaterial, listMaterials } from "../../../src/catalogue/materials.ts";
import { readCsv } from "../../support/csv.ts";

const printed = readCsv(new URL("materials.csv", import.meta.url));

describe("materials (sources in SOURCE.md)", () => {
  test.each(printed)("$name", (row) => {
    const material = findMaterial(row.name);
    expect(material.expansionPerK).toBe(Number(row["alpha_1e-6_per_K"]) / 1e6);
    expect(material.youngsModulusMPa).toBe(Math.round(Number(row.E_GPa) * 1000));
    expect(material.poissonRatio).toBe(Number(row.nu));
    expect(material.densityKgPerM3).toBe(Number(row.density_kg_m3));
    expect(material.status === "printed").toBe(row.status === "stored");
  });

  test("no material of the catalogue is without a row here", () => {
    expect(
      listMaterials()
        .map(({ name }) => name)
        .sort(),
    ).toEqual(printed.map(({ name }) => name).sort());
  });

  test("aluminium grows about twice as much as steel (common practice, no source)", () => {
    const ratio = findMaterial("aluminium-6061").expansionPerK / findMaterial("carbon-steel").expansionPerK;
    expect(ratio).toBeGreaterThan(1.8);
    expect(ratio).toBeLessThan(2.2);
  });
});
