import { InputError } from "../errors.ts";
import { nearestName } from "../units/nearest.ts";
import { AMBIGUOUS_MATERIALS, MATERIAL_ALIASES, MATERIALS, type MaterialRecord } from "./materials-data.ts";

export type { MaterialRecord, MaterialStatus } from "./materials-data.ts";

/** Every material of the catalogue, in its order. */
export function listMaterials(): readonly MaterialRecord[] {
  return MATERIALS;
}

/**
 * A material by its name or an everyday name (`steel`, `aluminium`, `100Cr6`). Under an everyday name the record's source
 * says which material was taken.
 *
 * @throws InputError unknown-name with the nearest known name, conflict for a name that fits unlike materials
 */
export function findMaterial(name: string, path = ""): MaterialRecord {
  const key = name
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, "-")
    .replace(/aluminum/g, "aluminium");
  const exact = MATERIALS.find((material) => material.name === key);
  if (exact !== undefined) return exact;
  if (Object.hasOwn(MATERIAL_ALIASES, key)) {
    const taken = MATERIALS.find((material) => material.name === MATERIAL_ALIASES[key])!;
    return { ...taken, source: `"${name.trim()}" taken as ${taken.name}; ${taken.source}` };
  }
  if (Object.hasOwn(AMBIGUOUS_MATERIALS, key)) {
    throw new InputError({
      code: "conflict",
      path,
      expected: "one material",
      got: name,
      hint: `Say which: ${AMBIGUOUS_MATERIALS[key].join(", ")}.`,
    });
  }
  const names = MATERIALS.map((material) => material.name);
  const nearest = nearestName(key, [...names, ...Object.keys(MATERIAL_ALIASES)]);
  throw new InputError({
    code: "unknown-name",
    path,
    expected: "a material of the catalogue or one given with its expansion, modulus, Poisson ratio and density",
    got: name,
    hint: nearest === undefined ? `Known: ${names.join(", ")}.` : `Did you mean "${nearest}"?`,
  });
}
