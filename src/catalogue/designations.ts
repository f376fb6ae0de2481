import { InputError, type Problem } from "../errors.ts";

/** A designation cut into the part that names the size and whatever follows it. */
export interface DesignationParts {
  /** Canonical size: `6204`, `61804` (for 6804), `618/5` (for 685), `62/22`. */
  readonly size: string;
  /** Suffix as written, without the separator: `2RS`, `C3`; empty when there is none. */
  readonly suffix: string;
}

/**
 * Reads a designation: spaces and case do not count, the short forms 68xx, 69xx, 68x and 69x stand for 618xx, 619xx,
 * 618/x and 619/x. Returns null when it does not begin as a size of rolling bearings does.
 */
export function splitDesignation(text: string): DesignationParts | null {
  // A bore in the designation itself follows a slash; digits after `-` or a space belong to a suffix.
  const match = /^(\d{2,3}\/\d{1,2}|\d{3,5})(?!\d|\/\d)\s*[-–/]?\s*(.*)$/.exec(text.trim().toUpperCase());
  if (match === null) return null;
  const [, size, suffix] = match;
  return { size: canonicalSize(size), suffix: suffix.trim() };
}

function canonicalSize(size: string): string {
  const shortWithBore = /^6([89])(\d\d)$/.exec(size);
  if (shortWithBore !== null) return `61${shortWithBore[1]}${shortWithBore[2]}`;
  const miniature = /^6([89])(\d)$/.exec(size);
  if (miniature !== null) return `61${miniature[1]}/${miniature[2]}`;
  const slashed = /^6([89])\/(\d\d?)$/.exec(size);
  return slashed === null ? size : `61${slashed[1]}/${slashed[2]}`;
}

/** Families of rolling bearings outside this program, by how their designations begin. */
const OTHER_FAMILIES: readonly (readonly [RegExp, string])[] = [
  [/^3(?:02|03|13|20|22|23|29|30|31|32)\d{2}(?!\d)/, "tapered roller bearings"],
  [/^(?:LM|HM|JL|JM|L|M|H)\s?\d{4,6}(?!\d)/, "tapered roller bearings"],
  [/^(?:NU|NJ|NUP|NF|NN|NNU|NCF|NJG|N)\s?\d/, "cylindrical roller bearings"],
  [/^(?:NK|NKI|NKIS|NA|NAO|HK|BK|RNA|K)\s?\d/, "needle roller bearings"],
  [/^(?:QJ|QJS)\s?\d/, "four-point contact bearings"],
  [/^2(?:13|22|23|30|31|32|38|39|40|41)\d{2}(?!\d)/, "spherical roller bearings"],
  [/^5[1-6]\d{3}(?!\d)/, "thrust ball bearings"],
  [/^(?:8[1-9]|29)\d{3}(?!\d)/, "thrust roller bearings"],
  [/^3[23]\d{2}(?!\d)/, "double-row angular-contact ball bearings"],
  [/^(?:1[0-4]|2[23])\d{2}(?!\d)/, "self-aligning ball bearings"],
  [/^4[23]\d{2}(?!\d)/, "double-row deep-groove ball bearings"],
];

/**
 * Why a designation that is not in the catalogue is refused, when it belongs to a known family outside this program;
 * null when it does not.
 */
export function otherFamily(text: string): string | null {
  const word = text.trim().toUpperCase();
  return OTHER_FAMILIES.find(([pattern]) => pattern.test(word))?.[1] ?? null;
}

/** Refuses a suffix with what to give in its place; seals, cages and grease are no part of the model. */
export function refuseSuffix(text: string, parts: DesignationParts, path: string): void {
  if (parts.suffix === "") return;
  const hints: string[] = [`Give "${parts.size}" alone`];
  const group = /(?:^|[^A-Z0-9])(C[2345N])(?![0-9])/.exec(` ${parts.suffix}`)?.[1];
  if (group !== undefined) hints.push(`put ${group} into clearanceGroup`);
  const toleranceClass = /(?:^|[^A-Z0-9])P([65])(?![0-9])/.exec(` ${parts.suffix}`)?.[1];
  if (toleranceClass !== undefined) hints.push(`put ${toleranceClass} into toleranceClass`);
  const angleLetter = parts.size.startsWith("7") && /^(?:A|A5|AC|B|C|D|E)(?![A-Z0-9])/.test(parts.suffix);
  if (angleLetter) hints.push("put the angle that the letter stands for into contactAngle");
  if (!angleLetter && group === undefined && toleranceClass === undefined) {
    hints.push("seals, cages and grease are no part of the model, a clearance goes into clearanceGroup");
  }
  const problem: Problem = {
    code: "not-supported",
    path,
    expected: "a designation without suffix",
    got: text,
    hint: `${hints.join("; ")}.`,
  };
  throw new InputError(problem);
}
