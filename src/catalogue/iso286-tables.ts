/**
 * Tolerance grades and fundamental deviations of ISO 286-1:2010 for nominal sizes from 1 to 250 mm, in µm.
 *
 * The tables are used and not the standard's formulas, whose rounding rules miss some printed values. Sizes over 3 mm
 * were checked against printed tables; the first range (1 to 3 mm) is from memory.
 */

import type { SizeRange } from "./size-ranges.ts";

export const HIGHEST_GRADE = 14;

export interface GradeRow extends SizeRange {
  /** IT1 to IT14, µm. */
  readonly gradesUm: readonly number[];
}

/** Source: ISO 286-1:2010, Table 1. */
// biome-ignore format: a table reads as a table
const GRADES: readonly (readonly number[])[] = [
  [0, 3, 0.8, 1.2, 2, 3, 4, 6, 10, 14, 25, 40, 60, 100, 140, 250],
  [3, 6, 1, 1.5, 2.5, 4, 5, 8, 12, 18, 30, 48, 75, 120, 180, 300],
  [6, 10, 1, 1.5, 2.5, 4, 6, 9, 15, 22, 36, 58, 90, 150, 220, 360],
  [10, 18, 1.2, 2, 3, 5, 8, 11, 18, 27, 43, 70, 110, 180, 270, 430],
  [18, 30, 1.5, 2.5, 4, 6, 9, 13, 21, 33, 52, 84, 130, 210, 330, 520],
  [30, 50, 1.5, 2.5, 4, 7, 11, 16, 25, 39, 62, 100, 160, 250, 390, 620],
  [50, 80, 2, 3, 5, 8, 13, 19, 30, 46, 74, 120, 190, 300, 460, 740],
  [80, 120, 2.5, 4, 6, 10, 15, 22, 35, 54, 87, 140, 220, 350, 540, 870],
  [120, 180, 3.5, 5, 8, 12, 18, 25, 40, 63, 100, 160, 250, 400, 630, 1000],
  [180, 250, 4.5, 7, 10, 14, 20, 29, 46, 72, 115, 185, 290, 460, 720, 1150],
];

export const GRADE_ROWS: readonly GradeRow[] = GRADES.map(([overMm, includingMm, ...gradesUm]) => ({
  overMm,
  includingMm,
  gradesUm,
}));

/**
 * The deviation nearest zero of each letter in the ten ranges of `GRADES`, µm; that of r has finer ranges of its own.
 *
 * Shafts e, f, g: upper deviation (negative). Shafts j, k, m, n, p: lower deviation. Holes J: upper deviation. The other
 * holes follow from the shafts by the standard's rules. Source: ISO 286-1:2010, Tables 2 to 5.
 */
// biome-ignore format: a table reads as a table
export const FUNDAMENTAL_DEVIATIONS_UM = {
  e: [-14, -20, -25, -32, -40, -50, -60, -72, -85, -100],
  f: [-6, -10, -13, -16, -20, -25, -30, -36, -43, -50],
  g: [-2, -4, -5, -6, -7, -9, -10, -12, -14, -15],
  /** Grades 5 and 6. */
  j6: [-2, -2, -2, -3, -4, -5, -7, -9, -11, -13],
  j7: [-4, -4, -5, -6, -8, -10, -12, -15, -18, -21],
  /** Grades 4 to 7; zero for all others. */
  k: [0, 1, 1, 1, 2, 2, 2, 3, 3, 4],
  m: [2, 4, 6, 7, 8, 9, 11, 13, 15, 17],
  n: [4, 8, 10, 12, 15, 17, 20, 23, 27, 31],
  p: [6, 12, 15, 18, 22, 26, 32, 37, 43, 50],
  J6: [2, 5, 5, 6, 8, 10, 13, 16, 18, 22],
  J7: [4, 6, 8, 10, 12, 14, 18, 22, 26, 30],
  J8: [6, 10, 12, 15, 20, 24, 28, 34, 41, 47],
} as const;

/** Lower deviation of shaft r, µm. Source: ISO 286-1:2010, Table 5. */
export const DEVIATION_R_ROWS: readonly (SizeRange & { readonly lowUm: number })[] = [
  { overMm: 0, includingMm: 3, lowUm: 10 },
  { overMm: 3, includingMm: 6, lowUm: 15 },
  { overMm: 6, includingMm: 10, lowUm: 19 },
  { overMm: 10, includingMm: 18, lowUm: 23 },
  { overMm: 18, includingMm: 30, lowUm: 28 },
  { overMm: 30, includingMm: 50, lowUm: 34 },
  { overMm: 50, includingMm: 65, lowUm: 41 },
  { overMm: 65, includingMm: 80, lowUm: 43 },
  { overMm: 80, includingMm: 100, lowUm: 51 },
  { overMm: 100, includingMm: 120, lowUm: 54 },
  { overMm: 120, includingMm: 140, lowUm: 63 },
  { overMm: 140, includingMm: 160, lowUm: 65 },
  { overMm: 160, includingMm: 180, lowUm: 68 },
  { overMm: 180, includingMm: 200, lowUm: 77 },
  { overMm: 200, includingMm: 225, lowUm: 80 },
  { overMm: 225, includingMm: 250, lowUm: 84 },
];

/** Smallest and largest nominal size, mm, both included. */
export const SMALLEST_NOMINAL_MM = 1;
export const LARGEST_NOMINAL_MM = 250;
