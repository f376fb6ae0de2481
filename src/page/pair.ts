import { mean } from "../distributions/moments.ts";
import type { Bearing, ResolvedScenario, Side } from "../scenario/types.ts";

/** What the sectional drawing needs of the pair, at 20 °C and at mean values, mm. */
export interface Pair {
  readonly isBackToBack: boolean;
  readonly a: DrawnBearing;
  readonly b: DrawnBearing;
  /** Distance of the seats of the outer rings, and of the inner rings. */
  readonly housingSpacingMm: number;
  readonly shaftSpacingMm: number;
  readonly shaftBoreMm: number;
  readonly housingOutsideMm: number;
}

export interface DrawnBearing {
  readonly name: string;
  readonly boreMm: number;
  readonly outsideDiameterMm: number;
  readonly widthMm: number;
  readonly ballDiameterMm: number;
  readonly pitchDiameterMm: number;
  readonly innerSeatInboard: boolean;
  readonly outerSeatInboard: boolean;
}

export function pairOf(scenario: ResolvedScenario): Pair {
  const spacing = (side: Side) =>
    scenario.chain
      .filter((member) => member.side === side)
      .reduce((sum, { factor, length }) => sum + factor * mean(scenario.variables[length].distribution), 0);
  const { a, b } = scenario.bearings;
  return {
    isBackToBack: scenario.arrangement === "back-to-back",
    a: drawn(a),
    b: drawn(b),
    housingSpacingMm: spacing("housing"),
    shaftSpacingMm: spacing("shaft"),
    shaftBoreMm: a.inner.mateFarDiameterMm,
    housingOutsideMm: a.outer.mateFarDiameterMm,
  };
}

function drawn(bearing: Bearing): DrawnBearing {
  const { boreMm, outsideDiameterMm, widthMm, ballDiameterMm, pitchDiameterMm } = bearing;
  return {
    name: bearing.designation ?? `${boreMm} × ${outsideDiameterMm} × ${widthMm} mm`,
    boreMm,
    outsideDiameterMm,
    widthMm,
    ballDiameterMm,
    pitchDiameterMm,
    innerSeatInboard: bearing.inner.seatSide === "inboard",
    outerSeatInboard: bearing.outer.seatSide === "inboard",
  };
}
