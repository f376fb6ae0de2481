/** Where a bearing's ball count and ball diameter come from. */
export type BallSetOrigin = "published" | "inferred" | "estimate";

/** The geometry of one bearing of the catalogue, mm. Ratings are computed from it at look-up. */
export interface BearingRecord {
  /** Canonical spelling, e.g. `6204`, `61804`, `618/5`, `62/22`. */
  readonly designation: string;
  readonly series: string;
  readonly boreMm: number;
  readonly outsideDiameterMm: number;
  readonly widthMm: number;
  readonly ballCount: number;
  readonly ballDiameterMm: number;
  readonly pitchDiameterMm: number;
  readonly ballSet: BallSetOrigin;
  readonly source: string;
}

/** A bearing with the ratings that follow from its ball set. */
export interface CatalogueBearing extends BearingRecord {
  readonly kind: "deep-groove" | "angular-contact";
  /** Nominal contact angle; zero for deep-groove bearings. */
  readonly contactAngleRad: number;
  /** Basic dynamic radial load rating C (ISO 281), N. */
  readonly dynamicRatingN: number;
  /** Basic static radial load rating C0 (ISO 76), N. */
  readonly staticRatingN: number;
}
