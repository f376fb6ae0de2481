import { requireBetween, requirePositive } from "./guards.ts";

/** Elastic constants of an isotropic material. */
export interface ElasticMaterial {
  /** Young's modulus, MPa, above 0. */
  readonly youngsModulusMPa: number;
  /** Poisson's ratio, 0 to below 0.5. */
  readonly poissonRatio: number;
}

/**
 * @param path of the material, for the message
 * @throws InputError for a modulus of zero or less, a Poisson ratio outside 0 to 0.5
 */
export function requireElasticMaterial(material: ElasticMaterial, path: string): void {
  requirePositive(material.youngsModulusMPa, `${path}.youngsModulusMPa`, "MPa");
  requireBetween(material.poissonRatio, 0, 0.5, `${path}.poissonRatio`, "a Poisson ratio from 0 to 0.5");
}

/**
 * Compliance of two bodies in contact.
 *
 * η = (1 − ν₁²)/E₁ + (1 − ν₂²)/E₂ with E → `youngsModulusMPa`, ν → `poissonRatio`.
 *
 * @returns η, 1/MPa
 *
 * Source: H. Hertz 1881; in this form in T. A. Harris, Rolling Bearing Analysis, ch. "Contact stress and deformation".
 */
export function contactCompliancePerMPa(first: ElasticMaterial, second: ElasticMaterial): number {
  return (
    (1 - first.poissonRatio * first.poissonRatio) / first.youngsModulusMPa +
    (1 - second.poissonRatio * second.poissonRatio) / second.youngsModulusMPa
  );
}
