import { didYouMean } from "../units/nearest.ts";
import type { Ledger } from "./ledger.ts";
import type { Arrangement } from "./types.ts";

const SAFE_NAME = /^[A-Za-z0-9_-]{1,100}$/;

/** The name of the output folder: as given, or from the name of the file. It can never lead out of the output folder. */
export function resolveName(ledger: Ledger, written: string | undefined, fileName: string): string {
  if (written === undefined) return nameFromFile(fileName);
  if (SAFE_NAME.test(written)) return written;
  const tidy = nameFromFile(written);
  ledger.problem({
    code: "wrong-type",
    path: "name",
    expected: "a name of at most 100 letters, digits, - and _",
    got: written,
    hint: `Write ${tidy}; a title may be any text`,
  });
  return tidy;
}

function nameFromFile(fileName: string): string {
  const base = fileName.split(/[\\/]/).pop() ?? "";
  const tidy = base
    .replace(/\.(ya?ml|json)$/i, "")
    .replace(/[^A-Za-z0-9_-]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 100);
  return tidy === "" ? "scenario" : tidy;
}

/** The arrangement by its name or its letter; any other word is noted as a problem. */
export function resolveArrangement(ledger: Ledger, written: string): Arrangement {
  const words: Record<string, Arrangement> = {
    "back-to-back": "back-to-back",
    o: "back-to-back",
    "face-to-face": "face-to-face",
    x: "face-to-face",
  };
  const key = written
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, "-");
  const found: Arrangement = Object.hasOwn(words, key) ? words[key] : "back-to-back";
  if (!Object.hasOwn(words, key)) {
    const tandem = key === "tandem";
    ledger.problem({
      code: tandem ? "not-supported" : "unknown-name",
      path: "arrangement",
      expected: "back-to-back (O) or face-to-face (X)",
      got: written,
      hint: tandem
        ? "A tandem pair is not preloaded against itself"
        : didYouMean(key, ["back-to-back", "face-to-face"]),
    });
  }
  const why =
    found === "back-to-back"
      ? "contact lines diverge towards the shaft: offset = housing − shaft"
      : "contact lines converge towards the shaft: offset = shaft − housing";
  ledger.note({ path: "arrangement", label: "arrangement", value: found, origin: "given", source: why });
  return found;
}
