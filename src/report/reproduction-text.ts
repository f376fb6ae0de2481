import type { Difference, Reproduction } from "../studies/reproduce/differences.ts";
import { plainText } from "./plain-table.ts";

/** Differences that are told one by one before the rest is only counted. */
const MOST_TOLD = 20;

/** What it means that a part of the provenance is another one now. */
const MEANING: Readonly<Record<string, string>> = {
  "provenance.scenarioHash": "the scenario in the file, or what the catalogue adds to it, was changed since",
  "provenance.tableHash": "the table was changed since",
  "provenance.streamVersion": "all draws are others",
};

/** What `reproduce` prints. */
export function reproductionText(found: Reproduction, path: string): string {
  const { isSame, numbers, provenance, differences, words } = found;
  const made = provenance.map((difference) => `\n  ${provenanceWords(difference)}`).join("");
  const worded = words.length === 0 ? "" : `\nThis version words the verdict otherwise.`;
  if (isSame) {
    const elsewhere = made === "" ? "" : `, although it was made elsewhere (in the file, now):${made}`;
    return `The same: ${numbers} numbers of ${plainText(path)} to the last bit${elsewhere}${worded}`;
  }
  const told = differences.slice(0, MOST_TOLD).map((difference) => `\n  ${differenceWords(difference)}`);
  const rest = differences.length - told.length;
  const more = rest > 0 ? `\n  and ${rest} more` : "";
  const madeBy = made === "" ? "" : `\nMade otherwise (in the file, now):${made}`;
  const values =
    differences.length === 0
      ? `\nAll ${numbers} numbers are the same.`
      : `\n${differences.length} ${differences.length === 1 ? "value differs" : "values differ"} (in the file, now):${told.join("")}${more}`;
  return `Not the same as ${plainText(path)}.${madeBy}${values}${worded}`;
}

function provenanceWords(difference: Difference): string {
  const meaning = MEANING[difference.path];
  return `${differenceWords(difference)}${meaning === undefined ? "" : ` (${meaning})`}`;
}

function differenceWords({ path, before, now }: Difference): string {
  return `${plainText(path)}: ${valueWords(before)}, ${valueWords(now)}`;
}

function valueWords(value: unknown): string {
  const text = value === undefined ? "missing" : JSON.stringify(value);
  return plainText(text.length > 80 ? `${text.slice(0, 77)}...` : text);
}
