/** Growth of lengths and diameters with temperature, against the reference temperature of drawings. */

/** Temperature at which drawn dimensions hold, °C. Source: ISO 1:2022. */
const REFERENCE_TEMPERATURE_C = 20;

/**
 * Growth of a length or diameter, ΔL = L·α·(T − 20 °C).
 *
 * @param lengthMm L at 20 °C, mm
 * @param expansionPerK α, mean coefficient of linear expansion, 1/K
 * @param temperatureC T, °C
 * @returns ΔL, mm
 *
 * Source: definition of the mean coefficient of expansion. Valid where α holds as a mean from 20 °C to T.
 */
export function growthMm(lengthMm: number, expansionPerK: number, temperatureC: number): number {
  return lengthMm * expansionPerK * (temperatureC - REFERENCE_TEMPERATURE_C);
}

/** Length or diameter at a temperature, L·(1 + α·(T − 20 °C)), mm; parameters as for `growthMm`. */
export function lengthAtMm(lengthMm: number, expansionPerK: number, temperatureC: number): number {
  return lengthMm + growthMm(lengthMm, expansionPerK, temperatureC);
}

/**
 * Interference of a seat at temperature before smoothing, I = male diameter − female diameter.
 *
 * @param male shaft of an inner ring, outside of an outer ring: diameter at 20 °C in mm, α in 1/K, temperature in °C
 * @param female bore of an inner ring, bore of a housing
 * @returns I on the diameter, mm; negative is a gap
 *
 * Source: derivation from the growth above.
 */
export function interferenceMm(male: HeatedDiameter, female: HeatedDiameter): number {
  return (
    male.diameterMm -
    female.diameterMm +
    growthMm(male.diameterMm, male.expansionPerK, male.temperatureC) -
    growthMm(female.diameterMm, female.expansionPerK, female.temperatureC)
  );
}

export interface HeatedDiameter {
  /** At 20 °C, mm. */
  readonly diameterMm: number;
  readonly expansionPerK: number;
  readonly temperatureC: number;
}

/** What heat does to the clearance of one bearing. */
export interface BearingHeat {
  /** d₁, groove bottom of the inner ring, mm. */
  readonly innerRacewayMm: number;
  /** D₁, groove bottom of the outer ring, mm. */
  readonly outerRacewayMm: number;
  /** Dw, mm. */
  readonly ballDiameterMm: number;
  /** α of both rings, 1/K. */
  readonly ringExpansionPerK: number;
  /** α of the balls, 1/K. */
  readonly ballExpansionPerK: number;
  readonly innerRingC: number;
  readonly outerRingC: number;
  readonly ballsC: number;
}

/**
 * Change of the radial clearance with temperature,
 * ΔG = α_r·[D₁·(T_or − 20) − d₁·(T_ir − 20)] − 2·α_b·Dw·(T_b − 20).
 *
 * α_r → `ringExpansionPerK`, α_b → `ballExpansionPerK`, D₁, d₁, Dw as in `BearingHeat`, T of outer ring, inner ring, balls.
 *
 * @returns ΔG, mm, negative where clearance is lost
 *
 * Source: derivation (growth of the two raceways and of two balls across the bearing). With all at one temperature and one
 * α it is α·ΔT·(D₁ − d₁ − 2Dw), which vanishes as D₁ − d₁ = 2Dw.
 */
export function clearanceChangeMm(heat: BearingHeat): number {
  return (
    growthMm(heat.outerRacewayMm, heat.ringExpansionPerK, heat.outerRingC) -
    growthMm(heat.innerRacewayMm, heat.ringExpansionPerK, heat.innerRingC) -
    2 * growthMm(heat.ballDiameterMm, heat.ballExpansionPerK, heat.ballsC)
  );
}
