import type { BallSetOrigin, BearingRecord } from "./bearing-types.ts";

/**
 * Deep-groove ball bearings of series 60, 62, 63, 618 and 619, bores 3 to 60 mm.
 *
 * Boundary dimensions: ISO 15 (rows with an estimated ball set from memory). Ball sets, each marked by its origin:
 *
 * - published: printed in a bearing catalogue (named beside the check in the tests), pitch diameter included;
 * - inferred: found from published ratings through ISO 281 and ISO 76: firm in the number of balls, the diameter within
 *   0.8 %; pitch circle midway between bore and outside diameter. For 625 and 6200 another set is in print too
 *   (6 × 3.175 and 7 × 5.556 mm): ask the supplier;
 * - estimate: the set of standard balls that gives, by ISO 281 and ISO 76, the C and C0 usual for the size (from memory,
 *   met within 3 and 7 %), among those with a ball of 0.22 to 0.34 times the section D − d (firm sets: 0.238 to 0.331)
 *   and a filling angle 2(Z − 1)·arcsin(Dw/Dpw) of 155° to 201° (firm sets: 170° to 198°); pitch circle midway.
 */

/** Designation, bore, outside diameter, width, ball count, ball diameter, pitch diameter (mm), origin of the ball set. */
type Row = readonly [string, number, number, number, number, number, number, BallSetOrigin];

// biome-ignore format: a table reads as a table
const ROWS: readonly Row[] = [
  // Series 60
  ["603", 3, 9, 3, 7, 1.5, 6, "estimate"],
  ["604", 4, 12, 4, 7, 2, 8, "estimate"],
  ["605", 5, 14, 5, 7, 2.38125, 9.5, "estimate"],
  ["606", 6, 17, 6, 6, 3.5, 11.5, "estimate"],
  ["607", 7, 19, 6, 6, 3.5, 13, "estimate"],
  ["608", 8, 22, 7, 7, 3.96875, 14.7, "published"],
  ["609", 9, 24, 7, 7, 3.96875, 16.5, "estimate"],
  ["6000", 10, 26, 8, 7, 4.7625, 18, "published"],
  ["6001", 12, 28, 8, 8, 4.7625, 20, "published"],
  ["6002", 15, 32, 9, 9, 4.7625, 23.5, "published"],
  ["6003", 17, 35, 10, 10, 4.7625, 26, "published"],
  ["6004", 20, 42, 12, 9, 6.35, 31, "published"],
  ["60/22", 22, 44, 12, 9, 6.35, 33, "estimate"],
  ["6005", 25, 47, 12, 10, 6.35, 36, "published"],
  ["60/28", 28, 52, 12, 10, 7.14375, 40, "estimate"],
  ["6006", 30, 55, 13, 11, 7.14375, 42.5, "published"],
  ["60/32", 32, 58, 13, 10, 7.9375, 45, "estimate"],
  ["6007", 35, 62, 14, 11, 7.9375, 48.5, "inferred"],
  ["6008", 40, 68, 15, 12, 7.9375, 54, "inferred"],
  ["6009", 45, 75, 16, 13, 8.73125, 60, "estimate"],
  ["6010", 50, 80, 16, 14, 8.73125, 65, "estimate"],
  ["6011", 55, 90, 18, 13, 10.31875, 72.5, "estimate"],
  ["6012", 60, 95, 18, 14, 10.31875, 77.5, "estimate"],
  // Series 62
  ["623", 3, 10, 4, 7, 1.5875, 6.5, "estimate"],
  ["624", 4, 13, 5, 7, 2.38125, 8.5, "estimate"],
  ["625", 5, 16, 5, 7, 2.778125, 10.5, "inferred"],
  ["626", 6, 19, 6, 6, 3.5, 12.5, "estimate"],
  ["627", 7, 22, 7, 7, 3.96875, 14.5, "estimate"],
  ["628", 8, 24, 8, 7, 3.96875, 16, "estimate"],
  ["629", 9, 26, 8, 7, 4.7625, 17.5, "estimate"],
  ["6200", 10, 30, 9, 8, 4.7625, 20, "inferred"],
  ["6201", 12, 32, 10, 7, 5.953125, 22, "published"],
  ["6202", 15, 35, 11, 8, 5.953125, 25.3, "published"],
  ["6203", 17, 40, 12, 8, 6.746875, 28.5, "published"],
  ["6204", 20, 47, 14, 8, 7.9375, 33.5, "published"],
  ["62/22", 22, 50, 14, 8, 7.9375, 36, "estimate"],
  ["6205", 25, 52, 15, 9, 7.9375, 39.1, "published"],
  ["62/28", 28, 58, 16, 9, 8.73125, 43, "estimate"],
  ["6206", 30, 62, 16, 9, 9.525, 46, "published"],
  ["62/32", 32, 65, 17, 8, 10.31875, 48.5, "estimate"],
  ["6207", 35, 72, 17, 9, 11.1125, 53.5, "published"],
  ["6208", 40, 80, 18, 9, 11.90625, 60, "published"],
  ["6209", 45, 85, 19, 10, 11.90625, 65, "inferred"],
  ["6210", 50, 90, 20, 10, 12.7, 70, "estimate"],
  ["6211", 55, 100, 21, 10, 14.2875, 77.5, "estimate"],
  ["6212", 60, 110, 22, 10, 15.875, 85, "estimate"],
  // Series 63
  ["6300", 10, 35, 11, 6, 7.14375, 22.5, "inferred"],
  ["6301", 12, 37, 12, 6, 7.9375, 24.5, "inferred"],
  ["6302", 15, 42, 13, 7, 7.9375, 28.5, "inferred"],
  ["6303", 17, 47, 14, 7, 8.73125, 32, "inferred"],
  ["6304", 20, 52, 15, 7, 9.525, 36, "inferred"],
  ["63/22", 22, 56, 16, 7, 10.31875, 39, "estimate"],
  ["6305", 25, 62, 17, 8, 10.31875, 43.5, "inferred"],
  ["63/28", 28, 68, 18, 7, 12.7, 48, "estimate"],
  ["6306", 30, 72, 19, 8, 11.90625, 51, "inferred"],
  ["63/32", 32, 75, 20, 8, 12.7, 53.5, "estimate"],
  ["6307", 35, 80, 21, 8, 13.49375, 57.5, "inferred"],
  ["6308", 40, 90, 23, 8, 15.08125, 65, "inferred"],
  ["6309", 45, 100, 25, 8, 17.4625, 72.5, "estimate"],
  ["6310", 50, 110, 27, 8, 19.05, 80, "estimate"],
  ["6311", 55, 120, 29, 8, 20.6375, 87.5, "estimate"],
  ["6312", 60, 130, 31, 8, 22.225, 95, "estimate"],
  // Series 618
  ["618/3", 3, 7, 2, 8, 1, 5, "estimate"],
  ["618/4", 4, 9, 2.5, 7, 1.5875, 6.5, "estimate"],
  ["618/5", 5, 11, 3, 8, 1.5875, 8, "estimate"],
  ["618/6", 6, 13, 3.5, 8, 2, 9.5, "estimate"],
  ["618/7", 7, 14, 3.5, 9, 2, 10.5, "estimate"],
  ["618/8", 8, 16, 4, 10, 2, 12, "estimate"],
  ["618/9", 9, 17, 4, 11, 2, 13, "estimate"],
  ["61800", 10, 19, 5, 10, 2.38125, 14.5, "inferred"],
  ["61801", 12, 21, 5, 12, 2.38125, 16.5, "inferred"],
  ["61802", 15, 24, 5, 14, 2.38125, 19.5, "inferred"],
  ["61803", 17, 26, 5, 13, 2.778125, 21.5, "inferred"],
  ["61804", 20, 32, 7, 13, 3.5, 26, "inferred"],
  ["61805", 25, 37, 7, 16, 3.5, 31, "inferred"],
  ["61806", 30, 42, 7, 18, 3.5, 36, "inferred"],
  ["61807", 35, 47, 7, 20, 3.5, 41, "inferred"],
  ["61808", 40, 52, 7, 21, 3.96875, 46, "inferred"],
  ["61809", 45, 58, 7, 22, 3.96875, 51.5, "estimate"],
  ["61810", 50, 65, 7, 24, 3.96875, 57.5, "estimate"],
  ["61811", 55, 72, 9, 22, 4.7625, 63.5, "estimate"],
  ["61812", 60, 78, 10, 21, 5.55625, 69, "estimate"],
  // Series 619
  ["619/3", 3, 8, 3, 6, 1.5875, 5.5, "estimate"],
  ["619/4", 4, 11, 4, 7, 2, 7.5, "estimate"],
  ["619/5", 5, 13, 4, 8, 2, 9, "estimate"],
  ["619/6", 6, 15, 5, 7, 2.778125, 10.5, "estimate"],
  ["619/7", 7, 17, 5, 9, 2.38125, 12, "estimate"],
  ["619/8", 8, 19, 6, 7, 3.175, 13.5, "estimate"],
  ["619/9", 9, 20, 6, 8, 3.175, 14.5, "estimate"],
  ["61900", 10, 22, 6, 9, 3.175, 16, "inferred"],
  ["61901", 12, 24, 6, 10, 3.175, 18, "inferred"],
  ["61902", 15, 28, 7, 10, 3.96875, 21.5, "inferred"],
  ["61903", 17, 30, 7, 11, 3.96875, 23.5, "inferred"],
  ["61904", 20, 37, 9, 11, 4.7625, 28.5, "inferred"],
  ["61905", 25, 42, 9, 13, 4.7625, 33.5, "inferred"],
  ["61906", 30, 47, 9, 14, 4.7625, 38.5, "inferred"],
  ["61907", 35, 55, 10, 13, 6, 45, "inferred"],
  ["61908", 40, 62, 12, 14, 6.746875, 51, "inferred"],
  ["61909", 45, 68, 12, 15, 6.746875, 56.5, "estimate"],
  ["61910", 50, 72, 12, 16, 6.746875, 61, "estimate"],
  ["61911", 55, 80, 13, 16, 7.14375, 67.5, "estimate"],
  ["61912", 60, 85, 13, 17, 7.14375, 72.5, "estimate"],
];

const SOURCES: Readonly<Record<BallSetOrigin, string>> = {
  published: "dimensions ISO 15; ball set as printed in a bearing catalogue",
  inferred: "dimensions ISO 15; ball set inferred from published ratings through ISO 281 and ISO 76",
  estimate:
    "dimensions ISO 15 (from memory); ball set estimated: standard balls that give the ratings usual for the size (from memory) by ISO 281 and ISO 76",
};

export const DEEP_GROOVE_BEARINGS: readonly BearingRecord[] = ROWS.map(
  ([designation, boreMm, outsideDiameterMm, widthMm, ballCount, ballDiameterMm, pitchDiameterMm, ballSet]) =>
    Object.freeze({
      designation,
      series: /^6(?:18|19|\d)/.exec(designation)![0],
      boreMm,
      outsideDiameterMm,
      widthMm,
      ballCount,
      ballDiameterMm,
      pitchDiameterMm,
      ballSet,
      source: SOURCES[ballSet],
    }),
);
