/**
 * Interference fits of a bearing ring on its shaft or in its housing: thick-walled cylinders in plane stress.
 *
 * Everything is proportional to the interference, so each seat is described by two constants that are computed once.
 */
import { InputError } from "../errors.ts";
import { type ElasticMaterial, requireElasticMaterial } from "./elastic.ts";
import { requireBetween, requirePositive } from "./guards.ts";

/** What one mm of interference on the diameter does to a seat. */
export interface RingFit {
  /** Seat pressure per interference, MPa/mm. */
  readonly pressurePerInterferenceMPaPerMm: number;
  /** Change of the raceway diameter per interference, without unit: growth of an inner ring, shrinkage of an outer ring. */
  readonly racewayRatio: number;
}

export interface InnerFitGeometry {
  /** d, bore of the ring, mm. */
  readonly seatDiameterMm: number;
  /** d₁, outside diameter of the cylinder that stands for the ring, above d, mm. */
  readonly racewayDiameterMm: number;
  /** d_h, bore of the shaft, mm, 0 (solid) to below d. */
  readonly shaftBoreMm: number;
  readonly ring: ElasticMaterial;
  readonly shaft: ElasticMaterial;
}

export interface OuterFitGeometry {
  /** D, outside diameter of the ring, mm. */
  readonly seatDiameterMm: number;
  /** D₁, bore of the cylinder that stands for the ring, above 0 and below D, mm. */
  readonly racewayDiameterMm: number;
  /** D_h, outside diameter of the housing, mm, above D; Infinity for a large block. */
  readonly housingOutsideDiameterMm: number;
  readonly ring: ElasticMaterial;
  readonly housing: ElasticMaterial;
}

/**
 * Inner ring on a shaft.
 *
 * p = I/{d·[(1/E_r)((d₁² + d²)/(d₁² − d²) + ν_r) + (1/E_s)((d² + d_h²)/(d² − d_h²) − ν_s)]},
 * Δ = 2·p·d²·d₁/[E_r(d₁² − d²)]: I interference on the diameter, p seat pressure, Δ growth of the raceway diameter,
 * d → `seatDiameterMm`, d₁ → `racewayDiameterMm`, d_h → `shaftBoreMm`, E, ν of ring (r) and shaft (s).
 *
 * @returns p/I and Δ/I. Both hold while the seat has interference; a loose seat transmits nothing.
 * @throws InputError for diameters that are not nested, impossible material constants
 *
 * Source: G. Lamé; in this form DIN 7190-1 and every text on press fits; for one material it becomes
 * Δ/I = (d/d₁)·[1 − (d_h/d)²]/[1 − (d_h/d₁)²]. Valid for elastic rings long against their wall. Accuracy: relative 1e-15.
 */
export function innerFit(geometry: InnerFitGeometry): RingFit {
  const { seatDiameterMm, racewayDiameterMm, shaftBoreMm, ring, shaft } = geometry;
  requirePositive(seatDiameterMm, "seatDiameterMm", "mm");
  requireBetween(shaftBoreMm, 0, Number.MAX_VALUE, "shaftBoreMm", "a shaft bore of 0 mm or more");
  requireNested(shaftBoreMm, seatDiameterMm, "shaftBoreMm", "a shaft bore below the seat diameter");
  requireNested(seatDiameterMm, racewayDiameterMm, "racewayDiameterMm", "a raceway above the bore of the ring");
  requireElasticMaterial(ring, "ring");
  requireElasticMaterial(shaft, "shaft");
  const ringSquare = square(seatDiameterMm / racewayDiameterMm);
  const shaftSquare = square(shaftBoreMm / seatDiameterMm);
  return combine(
    seatDiameterMm,
    (wallFactor(ringSquare) + ring.poissonRatio) / ring.youngsModulusMPa,
    (wallFactor(shaftSquare) - shaft.poissonRatio) / shaft.youngsModulusMPa,
    (2 * ringSquare * racewayDiameterMm) / (ring.youngsModulusMPa * (1 - ringSquare)),
  );
}

/**
 * Outer ring in a housing.
 *
 * p = I/{D·[(1/E_h)((D_h² + D²)/(D_h² − D²) + ν_h) + (1/E_r)((D² + D₁²)/(D² − D₁²) − ν_r)]},
 * Δ = 2·p·D²·D₁/[E_r(D² − D₁²)]: I interference on the diameter, p seat pressure, Δ shrinkage of the raceway diameter,
 * D → `seatDiameterMm`, D₁ → `racewayDiameterMm`, D_h → `housingOutsideDiameterMm`, E, ν of housing (h) and ring (r).
 *
 * @returns p/I and Δ/I (positive: the raceway gets smaller)
 * @throws InputError for diameters that are not nested, impossible material constants
 *
 * Source and validity: as for `innerFit`. Accuracy: relative 1e-15.
 */
export function outerFit(geometry: OuterFitGeometry): RingFit {
  const { seatDiameterMm, racewayDiameterMm, housingOutsideDiameterMm, ring, housing } = geometry;
  requirePositive(racewayDiameterMm, "racewayDiameterMm", "mm");
  requireNested(racewayDiameterMm, seatDiameterMm, "racewayDiameterMm", "a raceway below the outside of the ring");
  requireNested(
    seatDiameterMm,
    housingOutsideDiameterMm,
    "housingOutsideDiameterMm",
    "a housing outside diameter above the seat",
  );
  requirePositive(seatDiameterMm, "seatDiameterMm", "mm");
  requireElasticMaterial(ring, "ring");
  requireElasticMaterial(housing, "housing");
  const housingSquare = square(seatDiameterMm / housingOutsideDiameterMm);
  const ringSquare = square(racewayDiameterMm / seatDiameterMm);
  return combine(
    seatDiameterMm,
    (wallFactor(housingSquare) + housing.poissonRatio) / housing.youngsModulusMPa,
    (wallFactor(ringSquare) - ring.poissonRatio) / ring.youngsModulusMPa,
    (2 * racewayDiameterMm) / (ring.youngsModulusMPa * (1 - ringSquare)),
  );
}

/**
 * Interference lost to the flattening of both surfaces, on the diameter: S = 0.8·(Rz₁ + Rz₂).
 *
 * @param ringRzMm Rz₁, mm, 0 or more
 * @param mateRzMm Rz₂, mm, 0 or more
 * @returns S, mm
 *
 * Source: DIN 7190-1:2017, loss of interference by smoothing.
 */
export function smoothingMm(ringRzMm: number, mateRzMm: number): number {
  requireBetween(ringRzMm, 0, 1, "ringRzMm", "a roughness Rz from 0 to 1 mm");
  requireBetween(mateRzMm, 0, 1, "mateRzMm", "a roughness Rz from 0 to 1 mm");
  return 0.8 * (ringRzMm + mateRzMm);
}

/**
 * Axial force that seat friction holds, K = μ·p·π·d·B.
 *
 * @param frictionRatio μ, 0 or more
 * @param pressureMPa p, MPa; 0 or less holds nothing
 * @param seatDiameterMm d, mm
 * @param widthMm B, width of the ring, mm
 * @returns K, N
 *
 * Source: bearing catalogues' press-on force, e.g. NTN CAT. No. 2202/E, 17.5; DIN 7190-1. Accuracy: relative 1e-15.
 */
export function retentionForceN(
  frictionRatio: number,
  pressureMPa: number,
  seatDiameterMm: number,
  widthMm: number,
): number {
  return pressureMPa > 0 ? frictionRatio * pressureMPa * Math.PI * seatDiameterMm * widthMm : 0;
}

/**
 * Mean groove diameter of an inner ring, 1.05·(4d + D)/5: an equivalent plain cylinder for the ring with its shoulders.
 *
 * @param boreMm d, mm
 * @param outsideDiameterMm D of the bearing, mm
 * @returns mm
 *
 * Source: NTN CAT. No. 2202/E, Table 17.4.2.
 */
export function equivalentInnerDiameterMm(boreMm: number, outsideDiameterMm: number): number {
  return (1.05 * (4 * boreMm + outsideDiameterMm)) / 5;
}

/**
 * Mean groove diameter of an outer ring, 0.95·(d + 4D)/5. Source and parameters as for the inner ring.
 *
 * @returns mm
 */
export function equivalentOuterDiameterMm(boreMm: number, outsideDiameterMm: number): number {
  return (0.95 * (boreMm + 4 * outsideDiameterMm)) / 5;
}

/** (1 + q)/(1 − q), q the square of inside over outside diameter: 1 for a solid shaft and for an endless housing. */
function wallFactor(ratioSquare: number): number {
  return (1 + ratioSquare) / (1 - ratioSquare);
}

function combine(seatDiameterMm: number, hubPerMPa: number, corePerMPa: number, racewayMmPerMPa: number): RingFit {
  const pressurePerInterferenceMPaPerMm = 1 / (seatDiameterMm * (hubPerMPa + corePerMPa));
  return {
    pressurePerInterferenceMPaPerMm,
    racewayRatio: pressurePerInterferenceMPaPerMm * racewayMmPerMPa,
  };
}

function requireNested(smallMm: number, largeMm: number, path: string, expected: string): void {
  if (!(smallMm < largeMm)) {
    throw new InputError({
      code: "impossible-geometry",
      path,
      expected,
      got: `${smallMm} mm inside ${largeMm} mm`,
    });
  }
}

function square(value: number): number {
  return value * value;
}
