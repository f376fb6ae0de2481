import type { Difference, Reproduction } from "../studies/reproduce.ts";
import { plainText } from "./plain-table.ts";

/** Differences that are told one by one before the rest is only counted. */
const MOST_TOLD = 20;

/** What `reproduce` prints. */
export function reproductionText({ isSame, numbers, provenance, differences }: Reproduction, path: string): string {
  const made = provenance.map((difference) => `\n  ${differenceWords(difference)}`).join("");
  if (isSame) {
    const elsewhere = made === "" ? "" : `, although it was made elsewhere:${made}`;
    return `The same: ${numbers} numbers of ${plainText(path)} to the last bit${elsewhere}`;
  }
  const told = differences.slice(0, MOST_TOLD).map((difference) => `\n  ${differenceWords(difference)}`);
  const rest = differences.length - told.length;
  const more = rest > 0 ? `\n  and ${rest} more` : "";
  const madeBy = made === "" ? "" : `\nMade otherwise (in the file, now):${made}`;
  const values =
    differences.length === 0
      ? `\nAll ${numbers} numbers are the same.`
      : `\n${differences.length} values differ (in the file, now):${told.join("")}${more}`;
  return `Not the same as ${plainText(path)}.${madeBy}${values}`;
}

function differenceWords({ path, before, now }: Difference): string {
  return `${plainText(path)}: ${valueWords(before)}, ${valueWords(now)}`;
}

function valueWords(value: unknown): string {
  const text = value === undefined ? "missing" : JSON.stringify(value);
  return plainText(text.length > 80 ? `${text.slice(0, 77)}...` : text);
}
