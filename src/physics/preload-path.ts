/** What closes the offset of a pair: a rigid or elastic position, or a spring with its travel. */
import { InputError } from "../errors.ts";
import { requireBetween, requireFinite } from "./guards.ts";

/**
 * The elastic path that the preload runs through.
 *
 * The offset δ is shared by the two bearings and this path: (closing of a) + (closing of b) + g = δ, with g the path's own
 * give under its force T(g). A spring's δ counts from the free spring: closing of the seats plus the spring's deflection.
 */
export interface PreloadPath {
  /** δ, mm, in the direction that loads the intended arrangement. */
  offsetMm: number;
  /** c, give of shaft and housing, mm/N, 0 (rigid) or more; above 0 for a spring. */
  complianceMmPerN: number;
  /** 1/k of a spring, mm/N; 0 for a preload by position. */
  springComplianceMmPerN: number;
  /** Force at which the spring is solid, N; Infinity when it never is. Means nothing without a spring. */
  springSolidForceN: number;
  /**
   * Share of the give that stands at bearing a, 0 to 1. A position shares it, ½; a spring that pushes a sliding ring of
   * bearing b has 0, of bearing a 1, and then that bearing never carries more than the spring's force.
   */
  shareARatio: number;
}

/** A preload by position: shoulders, spacers, shims, an adjuster. */
export function positionPath(offsetMm: number, complianceMmPerN: number): PreloadPath {
  return requirePath({
    offsetMm,
    complianceMmPerN,
    springComplianceMmPerN: 0,
    springSolidForceN: Number.POSITIVE_INFINITY,
    shareARatio: 0.5,
  });
}

/** A preload by a spring behind a sliding ring of bearing a or b; parameters as the fields of `PreloadPath`. */
export function springPath(options: {
  readonly offsetMm: number;
  readonly complianceMmPerN: number;
  readonly springComplianceMmPerN: number;
  readonly springSolidForceN: number;
  readonly slidingBearing: "a" | "b";
}): PreloadPath {
  const { offsetMm, complianceMmPerN, springComplianceMmPerN, springSolidForceN } = options;
  if (!(springComplianceMmPerN > 0 && complianceMmPerN > 0 && springSolidForceN > 0)) {
    throw new InputError({
      code: "out-of-range",
      path: "springComplianceMmPerN",
      expected: "a spring with a compliance above 0, a solid force above 0, and a structure with a compliance above 0",
      got: `${springComplianceMmPerN} mm/N, solid at ${springSolidForceN} N, structure ${complianceMmPerN} mm/N`,
    });
  }
  return requirePath({
    offsetMm,
    complianceMmPerN,
    springComplianceMmPerN,
    springSolidForceN,
    shareARatio: options.slidingBearing === "a" ? 1 : 0,
  });
}

function requirePath(path: PreloadPath): PreloadPath {
  requireFinite(path.offsetMm, "offsetMm", "mm");
  requireBetween(path.complianceMmPerN, 0, 1e3, "complianceMmPerN", "a compliance from 0 to 1000 mm/N");
  return path;
}

/** A path with no give of its own leaves the whole offset to the bearings. */
export function isRigid(path: PreloadPath): boolean {
  return path.complianceMmPerN === 0 && path.springComplianceMmPerN === 0;
}

/**
 * Force of the path, T(g): g/c by position, pulling too; for a spring g/(c + 1/k) up to its solid force, then steeper by c
 * alone, and nothing while it hangs free (g < 0).
 *
 * @param giveMm g, mm
 * @returns T, N
 */
export function pathForceN(path: PreloadPath, giveMm: number): number {
  if (path.springComplianceMmPerN === 0) return giveMm / path.complianceMmPerN;
  if (giveMm <= 0) return 0;
  const soft = path.complianceMmPerN + path.springComplianceMmPerN;
  const solidMm = soft * path.springSolidForceN;
  return giveMm <= solidMm ? giveMm / soft : path.springSolidForceN + (giveMm - solidMm) / path.complianceMmPerN;
}

/** dT/dg, N/mm. */
export function pathStiffnessNPerMm(path: PreloadPath, giveMm: number): number {
  if (path.springComplianceMmPerN === 0) return 1 / path.complianceMmPerN;
  if (giveMm <= 0) return 0;
  const soft = path.complianceMmPerN + path.springComplianceMmPerN;
  return giveMm <= soft * path.springSolidForceN ? 1 / soft : 1 / path.complianceMmPerN;
}

/** Elastic energy ∫ T dg, N·mm. */
export function pathEnergyNmm(path: PreloadPath, giveMm: number): number {
  const force = pathForceN(path, giveMm);
  if (path.springComplianceMmPerN === 0 || force <= path.springSolidForceN) return 0.5 * force * giveMm;
  const soft = path.complianceMmPerN + path.springComplianceMmPerN;
  const solidMm = soft * path.springSolidForceN;
  return 0.5 * path.springSolidForceN * solidMm + 0.5 * (path.springSolidForceN + force) * (giveMm - solidMm);
}

/** Give of the path under a force, g(T), mm: the inverse of `pathForceN` for T > 0. */
export function pathGiveMm(path: PreloadPath, forceN: number): number {
  return path.complianceMmPerN * forceN + path.springComplianceMmPerN * Math.min(forceN, path.springSolidForceN);
}
