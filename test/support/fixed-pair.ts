import { applyOverrides } from "../../src/scenario/overrides.ts";
import { resolveContent } from "../../src/scenario/parse.ts";
import type { ResolvedScenario } from "../../src/scenario/types.ts";

/** Steel of the check values: 208 GPa, 0.3, 12 µm/(m·K). */
export const STEEL = { name: "steel", expansion: "12 um/m/K", youngsModulus: "208 GPa", poissonRatio: 0.3 };

/**
 * A pair in which nothing but ring sizes varies, smooth surfaces, every ring held, one material: every number of a result can be worked out by hand.
 * Ball set and seat are those of the Lamé check values (20 mm seat, grooves 26.67 and 39.52 mm).
 */
export const FIXED_PAIR = {
  seatspread: 1,
  arrangement: "back-to-back",
  bearings: {
    both: {
      bore: "20 mm",
      outsideDiameter: "47 mm",
      width: "14 mm",
      ballCount: 8,
      ballDiameter: "6.425 mm",
      pitchDiameter: "33.095 mm",
      dynamicRating: "10000 N",
      staticRating: "5000 N",
      clearance: "20 um",
      conformityInner: 0.52,
      conformityOuter: 0.52,
      standOut: "0 um",
      balls: STEEL,
      rings: STEEL,
      ringRoughness: "0 um",
    },
  },
  chain: [
    { name: "housing spacing", side: "housing", length: "40.15 mm" },
    { name: "spacer", side: "shaft", length: "40 mm" },
  ],
  seats: {
    shaft: { both: { fit: "19.99 mm", retained: true }, material: STEEL, roughness: "0 um" },
    housing: {
      both: { fit: "47.01 mm", retained: true },
      material: STEEL,
      roughness: "0 um",
      outsideDiameter: "70 mm",
    },
  },
  seatFriction: 0.12,
  window: "50..500 N",
  bind: { preload: "2000 N", pressure: "none" },
};

/** The fixed pair with some values set, resolved. Rings stand at their nominal sizes unless a row says otherwise. */
export function fixedPair(changes: Record<string, unknown> = {}): ResolvedScenario {
  const overrides = Object.entries(changes).map(([path, value]) => ({ path, value }));
  return resolveContent(applyOverrides(FIXED_PAIR, overrides), "fixed.yaml");
}

/** Rings at their nominal diameters: their tolerances are the only thing that would vary. */
export const NOMINAL_RINGS = {
  "bearings.a.bore": 20,
  "bearings.b.bore": 20,
  "bearings.a.outsideDiameter": 47,
  "bearings.b.outsideDiameter": 47,
};
