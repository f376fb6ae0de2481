/** Nominal sizes in standards stand in ranges "over … up to and including …". */

export interface SizeRange {
  readonly overMm: number;
  readonly includingMm: number;
}

/** The row whose range holds the size (over, including), or undefined outside the table. */
export function rowForSize<Row extends SizeRange>(rows: readonly Row[], sizeMm: number): Row | undefined {
  return rows.find((row) => sizeMm > row.overMm && sizeMm <= row.includingMm);
}

/** `over 18 to 30 mm`, as the standards head their columns. */
export function describeRange(row: SizeRange): string {
  return `over ${row.overMm} to ${row.includingMm} mm`;
}

/**
 * Micrometres of a table as millimetres, without the last-digit noise of a multiplication: a quotient of two exact
 * numbers is rounded once, so 21 becomes the very double that `0.021` is.
 */
export function tableMicrometresToMm(micrometres: number): number {
  return micrometres / 1000;
}

/** Limits of a size or a clearance as a table of a standard states them. */
export interface StandardLimits {
  readonly lowMm: number;
  readonly highMm: number;
  /** Standard, table and range in words. */
  readonly source: string;
}
