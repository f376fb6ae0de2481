import { findRoot } from "../numeric/roots.ts";
import { axialDisplacementMm, axialForceN, halfAxialPlayMm } from "./axial-contact.ts";
import type { BallRow } from "./ball-row.ts";
import type { PairShaft } from "./pair-shaft.ts";
import { pathGiveMm } from "./preload-path.ts";

/**
 * Axial load on the shaft that just unloads one bearing of a preloaded pair.
 *
 * At lift-off the unloaded bearing stands at its onset x₀ᵤ and the other carries the whole load W:
 * x(W) + g(w·W) = δ − x₀ᵤ, with x(·) the displacement of the loaded bearing, g(·) the give of the preload path under its
 * share w of W, δ the offset. For two equal bearings at a constant contact angle and a rigid path W = 2^1.5 ≈ 2.83 times the
 * preload; deep-groove pairs, whose angle opens under load, need more.
 *
 * A spring behind a sliding ring: pulled against the spring, the fixed bearing unloads at the spring's force; pushed the
 * other way the sliding ring follows for its whole travel and the figure is out of any practical reach.
 *
 * @param direction sense of the load along x: +1 from a to b, −1 from b to a
 * @returns W, N, 0 or more; 0 where the pair carries no preload
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Preloading" (equation solved numerically). Accuracy: relative 1e-10.
 */
export function liftOffLoadN(pair: PairShaft, direction: 1 | -1): number {
  const loadsA = pair.arrangementSign === direction;
  const loaded = loadsA ? pair.a : pair.b;
  const unloaded = loadsA ? pair.b : pair.a;
  const share = loadsA ? pair.path.shareARatio : 1 - pair.path.shareARatio;
  const closingMm = pair.path.offsetMm - onset(unloaded);
  if (!(closingMm > onset(loaded))) return 0;
  const stiffness = loaded.ballCount * loaded.ballStiffnessNPerMm15;
  const rigidN = axialForceN(closingMm, stiffness, loaded.grooveDistanceMm, loaded.clearanceMm);
  const isStiff = share === 0 || (pair.path.complianceMmPerN === 0 && pair.path.springComplianceMmPerN === 0);
  if (isStiff) return rigidN;
  const missing = (forceN: number) =>
    axialDisplacementMm(forceN, stiffness, loaded.grooveDistanceMm, loaded.clearanceMm) +
    pathGiveMm(pair.path, share * forceN) -
    closingMm;
  return findRoot(missing, 0, rigidN);
}

function onset(row: BallRow): number {
  return halfAxialPlayMm(row.grooveDistanceMm, row.clearanceMm);
}
