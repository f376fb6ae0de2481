import type * as z from "zod";
import type { Problem } from "../errors.ts";
import { nearestName } from "../units/nearest.ts";
import { SCHEMA_VERSION, type ScenarioDocument, scenarioSchema } from "./schema.ts";

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];

export interface Validation {
  /** The document when its shape is right; else what is left of it without the wrong parts, if that is usable. */
  readonly document: ScenarioDocument | null;
  readonly problems: readonly Problem[];
}

/**
 * Checks the shape of a scenario: keys, types and choices, with every problem told at once. What the values mean is
 * checked when they are resolved; `document` is then what could be kept, so that both kinds are told together.
 */
export function validateShape(content: unknown): Validation {
  const version = versionProblem(content);
  if (version !== null) return { document: null, problems: [version] };
  const first = scenarioSchema.safeParse(content);
  if (first.success) return { document: first.data, problems: [] };
  const problems = first.error.issues.flatMap((issue) => explain(issue, [], content));
  let rest: unknown = structuredClone(content);
  for (let round = 0; round < 5; round++) {
    const result = scenarioSchema.safeParse(rest);
    if (result.success) return { document: result.data, problems };
    for (const issue of result.error.issues) blankWrong(issue, rest);
    rest = withoutBlanks(rest);
  }
  return { document: null, problems };
}

/** Dotted address of a path; list elements go by their `name` where they have one. */
function addressOf(path: Path, content: unknown): string {
  const parts: string[] = [];
  let value = content;
  for (const part of path) {
    value = value === null || typeof value !== "object" ? undefined : (value as Record<PropertyKey, unknown>)[part];
    const name = typeof part === "number" ? (value as { name?: unknown } | null | undefined)?.name : undefined;
    parts.push(typeof name === "string" && name !== "" ? name : String(part));
  }
  return parts.join(".");
}

function versionProblem(content: unknown): Problem | null {
  const version = (content as { seatspread?: unknown } | null)?.seatspread;
  if (version === SCHEMA_VERSION) return null;
  const hint =
    typeof version !== "number"
      ? `Begin the file with "seatspread: ${SCHEMA_VERSION}".`
      : version > SCHEMA_VERSION
        ? `Format ${version} belongs to a newer program; this one reads format ${SCHEMA_VERSION}.`
        : `Format ${version} does not exist; the first is ${SCHEMA_VERSION}.`;
  return {
    code: version === undefined ? "missing" : "not-supported",
    path: "seatspread",
    expected: `the format version ${SCHEMA_VERSION}`,
    got: show(version),
    hint,
  };
}

function explain(issue: Issue, base: Path, content: unknown): Problem[] {
  const path = [...base, ...issue.path];
  const address = addressOf(path, content);
  const value = valueAt(path, content);
  if (issue.code === "unrecognized_keys") {
    const known = keysAt(path);
    return issue.keys.map((key) => {
      const near = nearestName(key, known);
      return {
        code: "unknown-key",
        path: address === "" ? key : `${address}.${key}`,
        expected: `one of the keys ${known.join(", ")}`,
        got: key,
        hint: near === undefined ? undefined : `Did you mean "${near}"?`,
      };
    });
  }
  if (value === undefined || value === null) {
    return [
      {
        code: "missing",
        path: address,
        expected: expectation(path),
        got: value === null ? "nothing after the key" : "nothing",
      },
    ];
  }
  if (issue.code === "invalid_union") {
    const branch = likeliestBranch(issue.errors);
    if (branch !== null) return branch.flatMap((inner) => explain(inner, path, content));
  }
  if (issue.code === "invalid_value") {
    const choices = issue.values.map(String);
    const near = nearestName(String(value), choices);
    const hint = near === undefined ? undefined : `Did you mean "${near}"?`;
    return [{ code: "unknown-name", path: address, expected: choices.join(" or "), got: show(value), hint }];
  }
  return [
    { code: "wrong-type", path: address, expected: expectation(path), got: show(value), hint: typeHint(issue, value) },
  ];
}

/** Among the branches of a union the one that the value resembles most; null when none takes such a type at all. */
function likeliestBranch(branches: readonly (readonly Issue[])[]): readonly Issue[] | null {
  const fitting = branches.filter(
    (issues) => !issues.some((issue) => issue.code === "invalid_type" && issue.path.length === 0),
  );
  if (fitting.length === 0) return null;
  const strange = (issues: readonly Issue[]) =>
    issues.reduce((sum, issue) => sum + (issue.code === "unrecognized_keys" ? issue.keys.length : 1), 0);
  return fitting.reduce((best, issues) => (strange(issues) < strange(best) ? issues : best));
}

function typeHint(issue: Issue, value: unknown): string | undefined {
  if (issue.code !== "invalid_type") return undefined;
  if (issue.expected === "boolean") return "Write true or false";
  if (issue.expected === "number" && typeof value === "string") return "Write a plain number without a unit";
  return undefined;
}

function show(value: unknown): string {
  if (value === undefined) return "nothing";
  if (typeof value === "string") return `"${value}"`;
  return Array.isArray(value)
    ? "a list"
    : value !== null && typeof value === "object"
      ? "a group of keys"
      : String(value);
}

function valueAt(path: Path, content: unknown): unknown {
  let value = content;
  for (const part of path) {
    if (value === null || typeof value !== "object") return undefined;
    value = Object.hasOwn(value, part) ? (value as Record<PropertyKey, unknown>)[part] : undefined;
  }
  return value;
}

/** Blanks in a document what an issue complains of; of a missing key the whole group, so that the rest can be looked at. */
function blankWrong(issue: Issue, content: unknown): void {
  const paths = issue.code === "unrecognized_keys" ? issue.keys.map((key) => [...issue.path, key]) : [issue.path];
  for (const path of paths) {
    for (let depth = path.length; depth > 0; depth--) {
      const key = path[depth - 1];
      const parent = valueAt(path.slice(0, depth - 1), content);
      const isPart = Array.isArray(parent) ? typeof key === "number" : typeof parent === "object" && parent !== null;
      if (isPart && Object.hasOwn(parent as object, key)) {
        (parent as Record<PropertyKey, unknown>)[key] = undefined;
        break;
      }
    }
  }
}

function withoutBlanks(content: unknown): unknown {
  if (Array.isArray(content)) return content.filter((part) => part !== undefined).map(withoutBlanks);
  if (content === null || typeof content !== "object") return content;
  const kept = Object.entries(content).filter(([, part]) => part !== undefined);
  return Object.fromEntries(kept.map(([key, part]) => [key, withoutBlanks(part)]));
}

type AnySchema = z.core.$ZodType;

/** Every schema that may stand at a path. */
function schemasAt(path: Path): AnySchema[] {
  let level: AnySchema[] = alternatives(scenarioSchema);
  for (const part of path) {
    level = level.flatMap((schema) => {
      const { def } = schema._zod as unknown as {
        def: { type: string; shape?: Record<string, AnySchema>; element?: AnySchema };
      };
      if (def.type === "object" && def.shape?.[String(part)] !== undefined)
        return alternatives(def.shape[String(part)]);
      return def.type === "array" && def.element !== undefined ? alternatives(def.element) : [];
    });
  }
  return level;
}

function alternatives(schema: AnySchema): AnySchema[] {
  const { def } = schema._zod as unknown as {
    def: { type: string; innerType?: AnySchema; options?: readonly AnySchema[] };
  };
  if (def.type === "optional" && def.innerType !== undefined) return alternatives(def.innerType);
  if (def.type === "union") return (def.options ?? []).flatMap(alternatives);
  return [schema];
}

function keysAt(path: Path): string[] {
  return schemasAt(path).flatMap((schema) =>
    Object.keys((schema._zod as unknown as { def: { shape?: object } }).def.shape ?? {}),
  );
}

/** What belongs at a path, in the words of the schema. */
function expectation(path: Path): string {
  let description: string | undefined;
  let level: AnySchema[] = [scenarioSchema];
  for (const part of path) {
    level = level.flatMap(alternatives).flatMap((schema) => {
      const { def } = schema._zod as unknown as { def: { shape?: Record<string, AnySchema>; element?: AnySchema } };
      const next = def.shape?.[String(part)] ?? def.element;
      return next === undefined ? [] : [next];
    });
    description = level
      .map((schema) => (schema as { description?: string }).description)
      .find((text) => text !== undefined);
  }
  const types = [
    ...new Set(
      level.flatMap(alternatives).map((schema) => (schema._zod as unknown as { def: { type: string } }).def.type),
    ),
  ];
  const kinds: Record<string, string> = {
    string: "text",
    number: "a number",
    boolean: "true or false",
    object: "a group of keys",
    array: "a list",
    enum: "a name",
  };
  const kind = types.map((type) => kinds[type] ?? type).join(" or ");
  return description === undefined ? kind : `${kind} (${description})`;
}
