import type { BearingRecord } from "./bearing-types.ts";

/**
 * Angular-contact ball bearings of series 719, 70 and 72, bores 10 to 60 mm.
 *
 * Boundary dimensions: ISO 15, those of deep-groove series 619, 60 and 62. Ball sets: as printed in a bearing catalogue
 * (named beside the check in the tests) for spindle bearings of 15° and 25°. Bearings for the highest speeds have
 * smaller and more balls, and bearings of 40° from other makers differ: a supplier's own set goes before these.
 */

/** Designation, bore, outside diameter, width, ball count, ball diameter, pitch diameter (mm). */
type Row = readonly [string, number, number, number, number, number, number];

// biome-ignore format: a table reads as a table
const ROWS: readonly Row[] = [
  // Series 719
  ["71900", 10, 22, 6, 11, 3.175, 16],
  ["71901", 12, 24, 6, 13, 3.175, 18],
  ["71902", 15, 28, 7, 13, 3.96875, 21.5],
  ["71903", 17, 30, 7, 14, 3.96875, 23.5],
  ["71904", 20, 37, 9, 15, 4.7625, 28.5],
  ["71905", 25, 42, 9, 17, 4.7625, 33.5],
  ["71906", 30, 47, 9, 18, 4.7625, 38.5],
  ["71907", 35, 55, 10, 18, 5.55625, 45],
  ["71908", 40, 62, 12, 19, 6.35, 51],
  ["71909", 45, 68, 12, 20, 6.35, 56.5],
  ["71910", 50, 72, 12, 21, 6.35, 61],
  ["71911", 55, 80, 13, 21, 7.14375, 67.5],
  ["71912", 60, 85, 13, 23, 7.14375, 72.5],
  // Series 70
  ["7000", 10, 26, 8, 10, 4.7625, 18],
  ["7001", 12, 28, 8, 11, 4.7625, 20],
  ["7002", 15, 32, 9, 13, 4.7625, 23.5],
  ["7003", 17, 35, 10, 14, 4.7625, 26],
  ["7004", 20, 42, 12, 13, 6.35, 31],
  ["7005", 25, 47, 12, 15, 6.35, 36],
  ["7006", 30, 55, 13, 16, 7.14375, 42.5],
  ["7007", 35, 62, 14, 16, 7.9375, 48.5],
  ["7008", 40, 68, 15, 18, 7.9375, 54],
  ["7009", 45, 75, 16, 18, 8.73125, 60],
  ["7010", 50, 80, 16, 19, 8.73125, 65],
  ["7011", 55, 90, 18, 20, 9.525, 72.5],
  ["7012", 60, 95, 18, 22, 9.525, 77.5],
  // Series 72
  ["7200", 10, 30, 9, 10, 5.55625, 20],
  ["7201", 12, 32, 10, 10, 5.953125, 22],
  ["7202", 15, 35, 11, 11, 5.953125, 25],
  ["7203", 17, 40, 12, 11, 6.746875, 28.5],
  ["7204", 20, 47, 14, 11, 7.9375, 33.5],
  ["7205", 25, 52, 15, 13, 7.9375, 38.5],
  ["7206", 30, 62, 16, 13, 9.525, 46],
  ["7207", 35, 72, 17, 13, 11.1125, 53.5],
  ["7208", 40, 80, 18, 13, 11.90625, 60],
  ["7209", 45, 85, 19, 14, 12.7, 65],
  ["7210", 50, 90, 20, 15, 12.7, 70],
  ["7211", 55, 100, 21, 15, 14.2875, 77.5],
  ["7212", 60, 110, 22, 15, 15.875, 85],
];

export const ANGULAR_CONTACT_BEARINGS: readonly BearingRecord[] = ROWS.map(
  ([designation, boreMm, outsideDiameterMm, widthMm, ballCount, ballDiameterMm, pitchDiameterMm]) =>
    Object.freeze({
      designation,
      series: designation.slice(0, -2),
      boreMm,
      outsideDiameterMm,
      widthMm,
      ballCount,
      ballDiameterMm,
      pitchDiameterMm,
      ballSet: "published",
      source: "dimensions ISO 15; ball set as printed in a bearing catalogue for 15° and 25°",
    } as const),
);
