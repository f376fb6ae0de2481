import { parse } from "yaml";
import { InputError } from "../errors.ts";
import { nearestName } from "../units/nearest.ts";

/** One change to a scenario before it is resolved: an address and the value to stand there. */
export interface Override {
  /** `bearings.both.clearanceGroup`, `chain.shaft spacer.length`; list elements go by name or number. */
  readonly path: string;
  readonly value: unknown;
}

/** Reads `path=value`; the value is read as it would be in the file. */
export function parseOverride(text: string): Override {
  const cut = text.indexOf("=");
  const path = text.slice(0, Math.max(cut, 0)).trim();
  if (path === "") {
    throw new InputError({
      code: "usage",
      path: "",
      expected: "a change such as bearings.both.clearanceGroup=C3",
      got: text,
    });
  }
  const raw = text.slice(cut + 1).trim();
  let value: unknown = raw;
  try {
    value = parse(raw, { maxAliasCount: 0 });
  } catch {
    // Text that is no YAML of its own, such as `60 ±0.01 # mm`, is taken as it stands.
  }
  return { path, value: value ?? raw };
}

/**
 * A copy of a scenario's content with some values set. Groups that do not exist yet are made; a list element must exist.
 *
 * The result is checked afterwards like any file, so a wrong key or unit is told in the same words.
 *
 * @throws InputError when an address leads into a list without such an element or through a plain value
 */
export function applyOverrides(content: unknown, overrides: readonly Override[]): unknown {
  const copy: unknown = structuredClone(content);
  for (const { path, value } of overrides) setAt(copy, path, structuredClone(value));
  return copy;
}

function setAt(root: unknown, path: string, value: unknown): void {
  const parts = path.split(".");
  let node: unknown = root;
  for (let i = 0; i < parts.length; i++) {
    const last = i === parts.length - 1;
    if (Array.isArray(node)) {
      const index = elementIndex(node, parts[i], path);
      if (last) node[index] = value;
      else node = node[index];
    } else if (node !== null && typeof node === "object") {
      const group = node as Record<string, unknown>;
      const key = parts[i];
      if (last || !Object.hasOwn(group, key) || group[key] === null) define(group, key, last ? value : {});
      node = group[key];
    } else {
      const place = parts.slice(0, i).join(".");
      throw new InputError({
        code: "unknown-key",
        path,
        expected: `a group of keys at ${place}`,
        got: String(node),
        hint: `Set ${place} as a whole.`,
      });
    }
  }
}

function elementIndex(list: readonly unknown[], part: string, path: string): number {
  const names = list.map((item) => String((item as { name?: unknown } | null)?.name ?? ""));
  const index = /^\d+$/.test(part) && Number(part) < list.length ? Number(part) : names.indexOf(part);
  if (index >= 0) return index;
  const near = nearestName(part, names);
  throw new InputError({
    code: "unknown-name",
    path,
    expected: `one of ${names.filter((name) => name !== "").join(", ")}`,
    got: part,
    hint: near === undefined ? undefined : `Did you mean "${near}"?`,
  });
}

/** Plain assignment would let a key named `__proto__` change the object's kind. */
function define(group: Record<string, unknown>, key: string, value: unknown): void {
  Object.defineProperty(group, key, { value, writable: true, enumerable: true, configurable: true });
}
