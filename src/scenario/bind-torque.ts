import { InputError } from "../errors.ts";
import { findRoot } from "../numeric/roots.ts";
import { staticEquivalentLoadN } from "../physics/equivalent-load.ts";
import { frictionFactors, frictionLoadN, loadTorqueNmm, viscousTorqueNmm } from "../physics/friction-torque.ts";
import { parseQuantity } from "../units/quantity.ts";
import type { Ledger } from "./ledger.ts";
import type { Quantity } from "./schema-drawn.ts";
import type { Bearing, PreloadLimits } from "./types.ts";
import { valueWords } from "./words.ts";

type FrictionBearing = Pick<Bearing, "frictionSeries" | "pitchDiameterMm" | "staticRatingN" | "kind">;

/** No friction torque of a pair comes near it below this preload, N. */
const HIGHEST_PRELOAD_N = 1e9;

/**
 * Lowers the bind limit to the preload at which both bearings, turned slowly with grease, have the given friction torque.
 * Palmgren's torque rises with the preload, so that the first limit passed is the least of the preloads.
 */
export function limitTorque(
  ledger: Ledger,
  limits: PreloadLimits,
  written: Quantity | undefined,
  bearings: readonly FrictionBearing[],
): PreloadLimits {
  // A bearing that could not be read is told already.
  if (written === undefined || bearings.some(({ pitchDiameterMm }) => Number.isNaN(pitchDiameterMm))) return limits;
  const path = "bind.torque";
  const preloadN = ledger.attempt(() => preloadAt(written, bearings, path), Number.NaN);
  ledger.note({
    path,
    label: "friction torque of both bearings that counts as binding",
    value: `${String(written)}, reached at ${valueWords(Number(preloadN.toPrecision(4)), "N")}`,
    origin: "given",
    source: "turned slowly, with grease (Palmgren)",
  });
  // Any preload short of binding is on target where there is no window.
  const isOpen = limits.lowN === 0 && limits.highN === limits.bindN;
  if (!isOpen && preloadN <= limits.highN) {
    ledger.problem({
      code: "conflict",
      path,
      expected: `a torque that is reached above the window, that is above ${valueWords(limits.highN, "N")}`,
      got: `${String(written)}, reached at ${valueWords(Number(preloadN.toPrecision(4)), "N")}`,
    });
  }
  if (!(preloadN < limits.bindN)) return limits;
  return { ...limits, bindN: preloadN, highN: isOpen ? preloadN : limits.highN };
}

function preloadAt(written: Quantity, bearings: readonly FrictionBearing[], path: string): number {
  const torqueNmm = parseQuantity(written, "torque", path, { low: 0, openLow: true, high: 1e6 });
  const sum = (preloadN: number) => bearings.reduce((total, bearing) => total + torqueOf(bearing, preloadN), 0);
  const idleNmm = sum(0);
  if (torqueNmm <= idleNmm) {
    throw new InputError({
      code: "out-of-range",
      path,
      expected: `a torque above that of the bearings without preload, ${valueWords(Number(idleNmm.toPrecision(3)), "N.mm")}`,
      got: String(written),
    });
  }
  return findRoot((preloadN) => sum(preloadN) - torqueNmm, 0, HIGHEST_PRELOAD_N);
}

function torqueOf(bearing: FrictionBearing, preloadN: number): number {
  const factors = frictionFactors(bearing.frictionSeries);
  // A pure axial load: 0.5·F for deep-groove bearings; the angle hardly matters for the others (0.46 to 0.22), 15° is taken.
  const contactAngleRad = bearing.kind === "deep-groove" ? 0 : Math.PI / 12;
  const staticN = staticEquivalentLoadN({ radialN: 0, axialN: preloadN, contactAngleRad });
  return (
    viscousTorqueNmm(factors.greaseFactor, 0, 0, bearing.pitchDiameterMm) +
    loadTorqueNmm(
      factors,
      staticN,
      bearing.staticRatingN,
      frictionLoadN(0, preloadN, bearing.kind),
      bearing.pitchDiameterMm,
    )
  );
}
