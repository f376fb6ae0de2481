import { InputError } from "../errors.ts";
import { didYouMean } from "../units/nearest.ts";
import { describeRange, rowForSize, type SizeRange, type StandardLimits, tableMicrometresToMm } from "./size-ranges.ts";

/** The clearance groups of ISO 5753-1, from tight to loose. */
export const CLEARANCE_GROUPS = ["C2", "CN", "C3", "C4", "C5"] as const;
export type ClearanceGroup = (typeof CLEARANCE_GROUPS)[number];

/** Over, including (bore, mm); then low and high of C2, CN, C3, C4, C5 in µm. */
type Row = readonly [number, number, number, number, number, number, number, number, number, number, number, number];

/**
 * Radial internal clearance of radial contact ball bearings with cylindrical bore, unmounted, µm.
 *
 * Source: ISO 5753-1:2009, Table 1 (corroborated by GOST 24810-2013). Bores of 2.5 mm and below are not tabulated here.
 */
// biome-ignore format: a table reads as a table
const RADIAL_CLEARANCE: readonly Row[] = [
  [2.5, 10, 0, 7, 2, 13, 8, 23, 14, 29, 20, 37],
  [10, 18, 0, 9, 3, 18, 11, 25, 18, 33, 25, 45],
  [18, 24, 0, 10, 5, 20, 13, 28, 20, 36, 28, 48],
  [24, 30, 1, 11, 5, 20, 13, 28, 23, 41, 30, 53],
  [30, 40, 1, 11, 6, 20, 15, 33, 28, 46, 40, 64],
  [40, 50, 1, 11, 6, 23, 18, 36, 30, 51, 45, 73],
  [50, 65, 1, 15, 8, 28, 23, 43, 38, 61, 55, 90],
  [65, 80, 1, 15, 10, 30, 25, 51, 46, 71, 65, 105],
  [80, 100, 1, 18, 12, 36, 30, 58, 53, 84, 75, 120],
  [100, 120, 2, 20, 15, 41, 36, 66, 61, 97, 90, 140],
  [120, 140, 2, 23, 18, 48, 41, 81, 71, 114, 105, 160],
  [140, 160, 2, 23, 18, 53, 46, 91, 81, 130, 120, 180],
  [160, 180, 2, 25, 20, 61, 53, 102, 91, 147, 135, 200],
  [180, 200, 2, 30, 25, 71, 63, 117, 107, 163, 150, 230],
];

const ROWS: readonly (SizeRange & { readonly limitsUm: readonly number[] })[] = RADIAL_CLEARANCE.map(
  ([overMm, includingMm, ...limitsUm]) => ({ overMm, includingMm, limitsUm }),
);

/** A group as people write it (`cn`, `C0`, `normal`) in the standard's own spelling. */
export function parseClearanceGroup(text: string, path = ""): ClearanceGroup {
  const word = text.trim().toUpperCase();
  if (word === "C0" || word === "NORMAL") return "CN";
  const group = CLEARANCE_GROUPS.find((known) => known === word);
  if (group !== undefined) return group;
  const hint =
    word === "C1" ? "C1 is not in ISO 5753-1: give the clearance itself." : didYouMean(word, CLEARANCE_GROUPS);
  throw new InputError({
    code: "unknown-name",
    path,
    expected: `a clearance group of ISO 5753-1: ${CLEARANCE_GROUPS.join(", ")}`,
    got: text,
    hint,
  });
}

/**
 * Radial internal clearance of a deep-groove ball bearing before mounting.
 *
 * @param boreMm nominal bore, (2.5, 200] mm
 * @param group C2, CN, C3, C4 or C5 (case does not count)
 * @returns closed limits in mm
 * @throws InputError out-of-range for a bore outside the table, unknown-name for an unknown group
 * Source: ISO 5753-1:2009, Table 1.
 */
export function clearanceLimitsMm(boreMm: number, group: string, path = ""): StandardLimits {
  const known = parseClearanceGroup(group, path);
  const row = rowForSize(ROWS, boreMm);
  if (row === undefined) {
    throw new InputError({
      code: "out-of-range",
      path,
      expected: "a bore over 2.5 to 200 mm for a clearance group of ISO 5753-1",
      got: `${boreMm} mm`,
      hint: "Give the radial clearance itself.",
    });
  }
  const column = 2 * CLEARANCE_GROUPS.indexOf(known);
  return {
    lowMm: tableMicrometresToMm(row.limitsUm[column]),
    highMm: tableMicrometresToMm(row.limitsUm[column + 1]),
    source: `ISO 5753-1:2009, group ${known}, bore ${describeRange(row)}`,
  };
}
