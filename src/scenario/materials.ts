import { findMaterial } from "../catalogue/materials.ts";
import { InputError } from "../errors.ts";
import { ABSOLUTE_ZERO_C } from "../units/dimension.ts";
import { parseQuantity } from "../units/quantity.ts";
import type { Ledger } from "./ledger.ts";
import type { MaterialEntry } from "./schema.ts";
import type { Material, Origin } from "./types.ts";

/** Stands for a material that could not be read; its problem is told already. */
const UNKNOWN_MATERIAL: Material = {
  name: "unknown",
  expansionPerK: Number.NaN,
  youngsModulusMPa: Number.NaN,
  poissonRatio: Number.NaN,
  densityKgPerM3: Number.NaN,
  lowestC: Number.NaN,
  highestC: Number.NaN,
  source: "",
};

/** Density matters to no preload; a material given without one gets steel's, and says so. */
const DENSITY_WHEN_LEFT_OUT_KG_PER_M3 = 7850;

/** A material by name or written out, with a line in the table of inputs. */
export function resolveMaterial(
  ledger: Ledger,
  written: MaterialEntry | undefined,
  place: { readonly path: string; readonly label: string; readonly fallback: string; readonly why: string },
): Material {
  const { path, label, fallback, why } = place;
  const material = ledger.attempt(() => readMaterial(written ?? fallback, path), UNKNOWN_MATERIAL);
  const origin: Origin = written === undefined ? "assumption" : typeof written === "string" ? "catalogue" : "given";
  const figures = `α ${Number((material.expansionPerK * 1e6).toPrecision(6))} µm/m/K, E ${Number((material.youngsModulusMPa / 1000).toPrecision(6))} GPa, ν ${material.poissonRatio}`;
  const source = written === undefined ? `${why}; ${material.source}` : material.source;
  ledger.note({ path, label, value: `${material.name} (${figures})`, origin, source });
  return material;
}

function readMaterial(written: MaterialEntry, path: string): Material {
  if (typeof written === "string") {
    const { name, expansionPerK, youngsModulusMPa, poissonRatio, densityKgPerM3, lowestC, highestC, source } =
      findMaterial(written, path);
    return { name, expansionPerK, youngsModulusMPa, poissonRatio, densityKgPerM3, lowestC, highestC, source };
  }
  const { poissonRatio } = written;
  if (!(poissonRatio >= 0 && poissonRatio < 0.5)) {
    const got = String(poissonRatio);
    throw new InputError({
      code: "out-of-range",
      path: `${path}.poissonRatio`,
      expected: "a number from 0 to below 0.5",
      got,
    });
  }
  const lowestC =
    written.lowest === undefined ? ABSOLUTE_ZERO_C : parseQuantity(written.lowest, "temperature", `${path}.lowest`);
  const highestC =
    written.highest === undefined ? Number.MAX_VALUE : parseQuantity(written.highest, "temperature", `${path}.highest`);
  if (lowestC >= highestC) {
    throw new InputError({ code: "reversed-limits", path: `${path}.lowest`, expected: "a temperature below highest" });
  }
  return {
    name: written.name ?? "given material",
    expansionPerK: parseQuantity(written.expansion, "expansion", `${path}.expansion`, { low: -2e-5, high: 5e-4 }),
    youngsModulusMPa: parseQuantity(written.youngsModulus, "pressure", `${path}.youngsModulus`, {
      low: 100,
      high: 2e6,
    }),
    poissonRatio,
    densityKgPerM3:
      written.density === undefined
        ? DENSITY_WHEN_LEFT_OUT_KG_PER_M3
        : parseQuantity(written.density, "density", `${path}.density`, { low: 0, openLow: true }),
    lowestC,
    highestC,
    source: written.density === undefined ? "given; density not given, taken as that of steel" : "given",
  };
}
