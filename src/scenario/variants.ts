import { InputError } from "../errors.ts";
import type { Ledger } from "./ledger.ts";
import { type Override, parseOverride } from "./overrides.ts";
import type { VariantEntry } from "./schema-decide.ts";

/** A set of changes under one name. */
export interface Variant {
  readonly name: string;
  readonly changes: readonly Override[];
}

/** The variants that a scenario lists. What they change is checked when they are resolved. */
export function resolveVariants(ledger: Ledger, entries: readonly VariantEntry[] | undefined): Variant[] {
  const seen = new Set<string>();
  return (entries ?? []).map(({ name, set }, place) => {
    if (name.trim() === "" || seen.has(name)) {
      ledger.problem({ code: "conflict", path: `variants.${place}.name`, expected: "a name of its own", got: name });
    }
    seen.add(name);
    return { name, changes: Object.entries(set).map(([path, value]) => ({ path, value })) };
  });
}

/**
 * Reads `name: path=value; path=value` as the command line gives it; without a name the changes are the name.
 *
 * @throws InputError usage
 */
export function parseVariant(text: string): Variant {
  const match = /^([^=:]*[^=:\s])\s*:\s+(.+)$/.exec(text);
  const name = match === null ? text.trim() : match[1].trim();
  const parts = (match === null ? text : match[2]).split(/;\s*/).filter((part) => part.trim() !== "");
  if (parts.length === 0) {
    throw new InputError({
      code: "usage",
      path: "--with",
      expected: 'changes such as "clearance C4: bearings.both.clearanceGroup=C4"',
      got: text,
    });
  }
  return { name, changes: parts.map(parseOverride) };
}
