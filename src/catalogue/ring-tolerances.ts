import { InputError } from "../errors.ts";
import { describeRange, rowForSize, type SizeRange, type StandardLimits, tableMicrometresToMm } from "./size-ranges.ts";

export const RING_TOLERANCE_CLASSES = ["Normal", "6", "5"] as const;
export type RingToleranceClass = (typeof RING_TOLERANCE_CLASSES)[number];

interface Row extends SizeRange {
  /** Lower deviation in µm for Normal, 6, 5; the upper deviation is zero. */
  readonly lowUm: readonly [number, number, number];
}

const rows = (table: readonly (readonly [number, number, number, number, number])[]): readonly Row[] =>
  table.map(([overMm, includingMm, ...lowUm]) => ({ overMm, includingMm, lowUm }));

/** Deviation of the mean bore in a plane, by bore. Source: ISO 492 (values as in GOST 520-2011). */
const BORE = rows([
  [0.6, 2.5, -8, -7, -5],
  [2.5, 10, -8, -7, -5],
  [10, 18, -8, -7, -5],
  [18, 30, -10, -8, -6],
  [30, 50, -12, -10, -8],
  [50, 80, -15, -12, -9],
  [80, 120, -20, -15, -10],
  [120, 150, -25, -18, -13],
  [150, 180, -25, -18, -13],
]);

/** Deviation of the mean outside diameter in a plane, by outside diameter. Source: ISO 492 (values as in GOST 520-2011). */
const OUTSIDE_DIAMETER = rows([
  [2.5, 6, -8, -7, -5],
  [6, 18, -8, -7, -5],
  [18, 30, -9, -8, -6],
  [30, 50, -11, -9, -7],
  [50, 80, -13, -11, -9],
  [80, 120, -15, -13, -10],
  [120, 150, -18, -15, -11],
  [150, 180, -25, -18, -13],
]);

/** Deviation of a single ring width, by bore. Source: ISO 492 (values as in GOST 520-2011). */
const WIDTH = rows([
  [0.6, 2.5, -40, -40, -40],
  [2.5, 10, -120, -120, -40],
  [10, 18, -120, -120, -80],
  [18, 30, -120, -120, -120],
  [30, 50, -120, -120, -120],
  [50, 80, -150, -150, -150],
  [80, 120, -200, -200, -200],
  [120, 150, -250, -250, -250],
  [150, 180, -250, -250, -250],
]);

/** The same for rings made for paired mounting; the first range is not tabulated for Normal and 6. Source as above. */
const WIDTH_PAIRED = rows([
  [2.5, 10, -250, -250, -250],
  [10, 18, -250, -250, -250],
  [18, 30, -250, -250, -250],
  [30, 50, -250, -250, -250],
  [50, 80, -380, -380, -250],
  [80, 120, -380, -380, -380],
  [120, 150, -500, -500, -380],
  [150, 180, -500, -500, -380],
]);

const CLASS_WORDS: Readonly<Record<string, RingToleranceClass>> = {
  normal: "Normal",
  "0": "Normal",
  p0: "Normal",
  pn: "Normal",
  "6": "6",
  p6: "6",
  "5": "5",
  p5: "5",
};

/** A tolerance class as people write it (`P5`, `5`, `normal`) in the standard's own spelling. */
export function parseRingToleranceClass(text: string | number, path = ""): RingToleranceClass {
  const word = String(text)
    .trim()
    .toLowerCase()
    .replace(/^class\s*/, "");
  const known = Object.hasOwn(CLASS_WORDS, word) ? CLASS_WORDS[word] : undefined;
  if (known !== undefined) return known;
  const finer = /^p?[42]a?$/.test(word);
  throw new InputError({
    code: finer ? "not-supported" : "unknown-name",
    path,
    expected: "a tolerance class of ISO 492: Normal, 6 or 5",
    got: String(text),
    hint: finer ? "For classes 4 and 2 give the bore, outside diameter and width with their limits." : undefined,
  });
}

/**
 * Limits of deviation of the mean bore of an inner ring from its nominal, mm.
 *
 * @param boreMm nominal bore, (0.6, 180] mm
 * @throws InputError out-of-range or unknown-name
 * Source: ISO 492 (values as in GOST 520-2011).
 */
export function boreDeviationMm(boreMm: number, toleranceClass: string | number, path = ""): StandardLimits {
  return deviation(BORE, boreMm, toleranceClass, "bore", "mean bore", path);
}

/**
 * Limits of deviation of the mean outside diameter of an outer ring from its nominal, mm.
 *
 * @param outsideDiameterMm nominal outside diameter, (2.5, 180] mm
 * @throws InputError out-of-range or unknown-name
 * Source: ISO 492 (values as in GOST 520-2011).
 */
export function outsideDiameterDeviationMm(
  outsideDiameterMm: number,
  toleranceClass: string | number,
  path = "",
): StandardLimits {
  const name = "outside diameter";
  return deviation(OUTSIDE_DIAMETER, outsideDiameterMm, toleranceClass, name, `mean ${name}`, path);
}

/**
 * Limits of deviation of one ring's width from its nominal, mm. They are found by the bore for both rings: the standard
 * gives the outer ring the limits of the inner ring of the same bearing.
 *
 * @param boreMm nominal bore, (0.6, 180] mm; over 2.5 mm for rings made for paired mounting
 * @param paired rings made for paired or stacked mounting, which have wider limits
 * @throws InputError out-of-range or unknown-name
 * Source: ISO 492 (values as in GOST 520-2011).
 */
export function ringWidthDeviationMm(
  boreMm: number,
  toleranceClass: string | number,
  path = "",
  paired = false,
): StandardLimits {
  const table = paired ? WIDTH_PAIRED : WIDTH;
  return deviation(
    table,
    boreMm,
    toleranceClass,
    "bore",
    paired ? "ring width for paired mounting" : "ring width",
    path,
  );
}

function deviation(
  table: readonly Row[],
  sizeMm: number,
  toleranceClass: string | number,
  sizeName: string,
  what: string,
  path: string,
): StandardLimits {
  const known = parseRingToleranceClass(toleranceClass, path);
  const row = rowForSize(table, sizeMm);
  if (row === undefined) {
    throw new InputError({
      code: "out-of-range",
      path,
      expected: `a bearing ${sizeName} over ${table[0].overMm} to ${table[table.length - 1].includingMm} mm for a tolerance class of ISO 492`,
      got: `${sizeMm} mm`,
      hint: "Give the dimension with its limits.",
    });
  }
  return {
    lowMm: tableMicrometresToMm(row.lowUm[RING_TOLERANCE_CLASSES.indexOf(known)]),
    highMm: 0,
    source: `ISO 492, class ${known}, ${what}, ${sizeName} ${describeRange(row)}`,
  };
}
