import { InputError, type Problem } from "../errors.ts";
import {
  DEVIATION_R_ROWS,
  FUNDAMENTAL_DEVIATIONS_UM,
  GRADE_ROWS,
  HIGHEST_GRADE,
  LARGEST_NOMINAL_MM,
  SMALLEST_NOMINAL_MM,
} from "./iso286-tables.ts";
import { describeRange, rowForSize, type StandardLimits, tableMicrometresToMm } from "./size-ranges.ts";

export type Feature = "shaft" | "hole";

export interface Iso286Limits extends StandardLimits {
  readonly feature: Feature;
  /** `k`, `js`, `J`, `JS`, … */
  readonly letter: string;
  readonly grade: number;
}

/** Letters with the grades that they are tabulated for here, in the standard's order; holes have the same in capitals. */
const SHAFT_GRADES: Readonly<Record<string, readonly [number, number]>> = {
  e: [3, HIGHEST_GRADE],
  f: [3, HIGHEST_GRADE],
  g: [3, HIGHEST_GRADE],
  h: [1, HIGHEST_GRADE],
  js: [1, HIGHEST_GRADE],
  j: [5, 7],
  k: [3, HIGHEST_GRADE],
  m: [3, HIGHEST_GRADE],
  n: [3, HIGHEST_GRADE],
  p: [3, HIGHEST_GRADE],
  r: [3, HIGHEST_GRADE],
};
const HOLE_GRADES: Readonly<Record<string, readonly [number, number]>> = {
  ...Object.fromEntries(Object.entries(SHAFT_GRADES).map(([letter, grades]) => [letter.toUpperCase(), grades])),
  J: [6, 8],
  K: [3, 8],
};

/**
 * Limit deviations of a tolerance class such as `k5` or `J7` at a nominal size. The case of the letter decides: capitals
 * are holes, small letters shafts.
 *
 * Shafts e to g take their upper deviation from the table, h has zero, js is ±IT/2, j to r take the lower one; the other
 * limit is an IT away. Holes E to H mirror the shafts. For holes K, M, N to grade 8 and P, R to grade 7,
 *
 *     ES = −ei(shaft of the letter) + Δ,   Δ = IT(n) − IT(n−1),   Δ = 0 up to 3 mm,
 *
 * beyond those grades Δ = 0, and N has ES = 0 over 3 mm.
 *
 * @param nominalMm nominal size, [1, 250] mm
 * @param code letter and grade; e to r and E to R, grades 1 to 14 as far as the standard states the letter
 * @param feature when given, the other kind is refused: `K5` where a shaft is meant
 * @returns deviations from the nominal in mm (negative is smaller)
 * @throws InputError unknown-name, out-of-range or conflict (hole for shaft)
 * Source: ISO 286-1:2010, Tables 1 to 5 and 4.3.2.5 (the Δ rule); 1 to 3 mm from memory.
 */
export function iso286Limits(nominalMm: number, code: string, path = "", feature?: Feature): Iso286Limits {
  const parsed = parseCode(code, path, nominalMm, feature);
  const row = nominalMm >= SMALLEST_NOMINAL_MM ? rowForSize(GRADE_ROWS, nominalMm) : undefined;
  if (row === undefined) {
    throw new InputError({
      code: "out-of-range",
      path,
      expected: `a nominal size from ${SMALLEST_NOMINAL_MM} to ${LARGEST_NOMINAL_MM} mm for a tolerance class of ISO 286`,
      got: `${nominalMm} mm`,
      hint: "Give the limits themselves, e.g. 300 ±0.02.",
    });
  }
  const index = GRADE_ROWS.indexOf(row);
  const [lowUm, highUm] =
    parsed.feature === "shaft"
      ? shaftDeviationsUm(parsed.letter, parsed.grade, nominalMm, index)
      : holeDeviationsUm(parsed.letter, parsed.grade, nominalMm, index);
  return {
    ...parsed,
    lowMm: tableMicrometresToMm(lowUm),
    highMm: tableMicrometresToMm(highUm),
    source: `ISO 286-1:2010, ${parsed.letter}${parsed.grade}, ${describeRange(row)}${index === 0 ? " (from memory)" : ""}`,
  };
}

function shaftDeviationsUm(letter: string, grade: number, nominalMm: number, index: number): [number, number] {
  const widthUm = GRADE_ROWS[index].gradesUm[grade - 1];
  switch (letter) {
    case "e":
    case "f":
    case "g": {
      const highUm = FUNDAMENTAL_DEVIATIONS_UM[letter][index];
      return [highUm - widthUm, highUm];
    }
    case "h":
      return [-widthUm, 0];
    case "js":
      return [-widthUm / 2, widthUm / 2];
    default: {
      const lowUm = shaftLowerDeviationUm(letter, grade, nominalMm, index);
      return [lowUm, lowUm + widthUm];
    }
  }
}

/** Lower deviation of the shafts j to r, µm. */
function shaftLowerDeviationUm(letter: string, grade: number, nominalMm: number, index: number): number {
  switch (letter) {
    case "j":
      return FUNDAMENTAL_DEVIATIONS_UM[grade === 7 ? "j7" : "j6"][index];
    case "k":
      return grade >= 4 && grade <= 7 ? FUNDAMENTAL_DEVIATIONS_UM.k[index] : 0;
    case "r":
      return rowForSize(DEVIATION_R_ROWS, nominalMm)!.lowUm;
    default:
      return FUNDAMENTAL_DEVIATIONS_UM[letter as "m" | "n" | "p"][index];
  }
}

function holeDeviationsUm(letter: string, grade: number, nominalMm: number, index: number): [number, number] {
  const grades = GRADE_ROWS[index].gradesUm;
  const widthUm = grades[grade - 1];
  switch (letter) {
    case "E":
    case "F":
    case "G":
    case "H":
    case "JS": {
      const [lowUm, highUm] = shaftDeviationsUm(letter.toLowerCase(), grade, nominalMm, index);
      return [negate(highUm), negate(lowUm)];
    }
    case "J": {
      const highUm = FUNDAMENTAL_DEVIATIONS_UM[`J${grade as 6 | 7 | 8}`][index];
      return [highUm - widthUm, highUm];
    }
    default: {
      const upToThreeMm = index === 0;
      const deltaGrades = letter === "P" || letter === "R" ? 7 : 8;
      const deltaUm = !upToThreeMm && grade <= deltaGrades ? widthUm - grades[grade - 2] : 0;
      // The shaft's deviation is that of its grades 4 to 7 whatever the grade of the hole.
      const shaftUm = shaftLowerDeviationUm(letter.toLowerCase(), 6, nominalMm, index);
      const highUm = letter === "N" && grade > 8 && !upToThreeMm ? 0 : negate(shaftUm) + deltaUm;
      return [highUm - widthUm, highUm];
    }
  }
}

/** A minus zero would print and compare as something other than zero. */
function negate(value: number): number {
  return value === 0 ? 0 : -value;
}

function parseCode(code: string, path: string, nominalMm: number, feature: Feature | undefined) {
  const [, letter = "", digits = ""] = /^\s*([A-Za-z]{1,2})\s*(\d{1,2})\s*$/.exec(code) ?? [];
  const isHole = letter !== "" && letter === letter.toUpperCase();
  const found: Feature = isHole ? "hole" : "shaft";
  const grades = isHole ? HOLE_GRADES : SHAFT_GRADES;
  const range = Object.hasOwn(grades, letter) ? grades[letter] : undefined;
  const grade = Number(digits);
  const problem = (part: Pick<Problem, "code" | "expected" | "hint">) =>
    new InputError({ path, got: `${nominalMm} ${code.trim()}`, ...part });
  if (range === undefined) {
    throw problem({
      code: "unknown-name",
      expected: `a tolerance class of ISO 286 such as ${feature === "hole" ? "J7" : feature === "shaft" ? "k5" : "k5 (shaft) or J7 (hole)"}`,
      hint: letterHint(letter, digits, feature),
    });
  }
  if (feature !== undefined && feature !== found) {
    const other = feature === "shaft" ? letter.toLowerCase() : letter.toUpperCase();
    throw problem({
      code: "conflict",
      expected: `a tolerance class for a ${feature}`,
      hint: `${nominalMm} ${letter}${grade} is a ${found}; a ${feature} is ${other}${clampGrade(other, grade, feature)}.`,
    });
  }
  if (grade < range[0] || grade > range[1]) {
    throw problem({
      code: "out-of-range",
      expected: `${letter} with a grade from ${range[0]} to ${range[1]}`,
      hint: `The nearest is ${letter}${clampGrade(letter, grade, found)}.`,
    });
  }
  return { feature: found, letter, grade };
}

function letterHint(letter: string, digits: string, feature: Feature | undefined): string {
  const letters =
    feature === "hole"
      ? `Holes: ${Object.keys(HOLE_GRADES).join(", ")}.`
      : feature === "shaft"
        ? `Shafts: ${Object.keys(SHAFT_GRADES).join(", ")}.`
        : `Letters: ${Object.keys(SHAFT_GRADES).join(", ")} for shafts, the same in capitals for holes.`;
  // `Js7` and `jS7` have a valid letter in mixed case.
  if (/^js$/i.test(letter) && digits !== "") return `Did you mean "js${digits}" (shaft) or "JS${digits}" (hole)?`;
  return /^[a-z]{1,2}$/i.test(letter) ? `Other letters: give the limits themselves. ${letters}` : letters;
}

function clampGrade(letter: string, grade: number, feature: Feature): number {
  const [low, high] = (feature === "hole" ? HOLE_GRADES : SHAFT_GRADES)[letter];
  return Math.min(Math.max(grade, low), high);
}
