import type { Dimension } from "../units/dimension.ts";
import { didYouMean } from "../units/nearest.ts";
import { parseQuantity } from "../units/quantity.ts";
import type { Ledger } from "./ledger.ts";
import type { ScenarioDocument } from "./schema.ts";
import type { RequirementEntry } from "./schema-requests.ts";
import { EXTENDED_REQUIREMENTS, type InternalUnit, type Requirement, type RequirementQuantity } from "./types.ts";
import { rangeWords, valueWords } from "./words.ts";

const KINDS: Readonly<Record<RequirementQuantity, { readonly unit: InternalUnit; readonly dimension: Dimension }>> = {
  preload: { unit: "N", dimension: "force" },
  "rotor movement": { unit: "mm", dimension: "length" },
  "air gap": { unit: "mm", dimension: "length" },
  "contact angle": { unit: "rad", dimension: "angle" },
  "ball load": { unit: "N", dimension: "force" },
  pressure: { unit: "MPa", dimension: "pressure" },
  "axial stiffness": { unit: "N/mm", dimension: "stiffness" },
  "radial stiffness": { unit: "N/mm", dimension: "stiffness" },
  // A tilt stiffness is written as the moment per radian.
  "tilt stiffness": { unit: "N.mm/rad", dimension: "torque" },
  "movement at radius": { unit: "mm", dimension: "length" },
  "play at radius": { unit: "mm", dimension: "length" },
  "lift-off load": { unit: "N", dimension: "force" },
  "friction torque": { unit: "N.mm", dimension: "torque" },
  "basic life": { unit: "h", dimension: "time" },
  "ball-load life": { unit: "h", dimension: "time" },
};

/** Every state keeps a bit for each. */
const MOST_REQUIREMENTS = 16;

/** Whether it is worked out on the first units only. */
export function isExtendedQuantity(quantity: RequirementQuantity): boolean {
  return (EXTENDED_REQUIREMENTS as readonly string[]).includes(quantity);
}

/** Requirements beside the window, with the states they hold in. */
export function resolveRequirements(
  ledger: Ledger,
  document: ScenarioDocument,
  states: readonly string[],
): Requirement[] {
  const entries = document.requirements ?? [];
  if (entries.length > MOST_REQUIREMENTS) {
    ledger.problem({
      code: "too-large",
      path: "requirements",
      expected: `at most ${MOST_REQUIREMENTS} requirements`,
      got: String(entries.length),
    });
    return [];
  }
  return entries.map((entry, index) => {
    const path = `requirements.${index}`;
    checkPresent(ledger, document, entry, path);
    const { unit } = KINDS[entry.quantity];
    const { low, high } = limitsOf(ledger, entry, path);
    const named = resolveStateNames(ledger, entry.states, states, `${path}.states`);
    ledger.note({
      path,
      label: `requirement on the ${entry.quantity}`,
      value: `${limitWords(low, high, unit)}${named.length === states.length ? "" : ` (${named.join(", ")})`}`,
      origin: "given",
      source: isExtendedQuantity(entry.quantity) ? "looked at on the first units only" : "",
    });
    return { quantity: entry.quantity, unit, states: named, low, high };
  });
}

/** `all` or nothing stands for every state. */
export function resolveStateNames(
  ledger: Ledger,
  written: "all" | readonly string[] | undefined,
  states: readonly string[],
  path: string,
): string[] {
  if (written === undefined || written === "all") return [...states];
  for (const name of written) {
    if (!states.includes(name)) {
      ledger.problem({
        code: "unknown-name",
        path,
        expected: `names of states (${states.join(", ")}) or all`,
        got: name,
        hint: didYouMean(name, states),
      });
    }
  }
  if (written.length === 0)
    ledger.problem({ code: "missing", path, expected: "at least one state", got: "an empty list" });
  return states.filter((name) => written.includes(name));
}

function checkPresent(ledger: Ledger, document: ScenarioDocument, { quantity }: RequirementEntry, path: string): void {
  const missing = (section: string, what: string) =>
    ledger.problem({
      code: "missing",
      path,
      expected: `the section ${section}, ${what}, for a requirement on ${quantity}`,
      got: "nothing",
    });
  if ((quantity === "rotor movement" || quantity === "air gap") && document.gap === undefined) {
    missing("gap", "the chain to the two faces");
  }
  if (isExtendedQuantity(quantity)) {
    if (document.extended === undefined) missing("extended", "which asks for such quantities");
    else if (/ at radius$/.test(quantity) && document.extended.probe === undefined) {
      missing("extended.probe", "where to look");
    }
  }
}

function limitsOf(ledger: Ledger, entry: RequirementEntry, path: string): { low: number; high: number } {
  const { dimension } = KINDS[entry.quantity];
  const read = (key: "low" | "high" | "within", without: number) => {
    const written = entry[key];
    if (written === undefined) return without;
    const options = key === "within" ? { low: 0, openLow: true } : {};
    return ledger.attempt(() => parseQuantity(written, dimension, `${path}.${key}`, options), Number.NaN);
  };
  if (entry.within !== undefined && (entry.low !== undefined || entry.high !== undefined)) {
    ledger.problem({ code: "conflict", path, expected: "either within, or low and high", got: "both" });
  }
  if (entry.within !== undefined) {
    const half = read("within", Number.NaN);
    return { low: -half, high: half };
  }
  if (entry.low === undefined && entry.high === undefined) {
    ledger.problem({ code: "missing", path, expected: "a limit: low, high or within", got: "nothing" });
  }
  const low = read("low", Number.NEGATIVE_INFINITY);
  const high = read("high", Number.POSITIVE_INFINITY);
  if (low > high) {
    ledger.problem({
      code: "reversed-limits",
      path,
      expected: "low below high",
      got: `${entry.low} to ${entry.high}`,
      hint: "Swap low and high",
    });
  }
  return { low, high };
}

/** Limits as a person reads them: `at least 8000 h`, `−8 to 8 µm`. */
export function limitWords(low: number, high: number, unit: InternalUnit): string {
  if (low === Number.NEGATIVE_INFINITY) return `at most ${valueWords(high, unit)}`;
  if (high === Number.POSITIVE_INFINITY) return `at least ${valueWords(low, unit)}`;
  return rangeWords(low, high, unit);
}
