import { describe, expect, it } from "vitest";
import { scenarioJsonSchema } from "../../../src/scenario/json-schema.ts";

type Schema = { [key: string]: unknown; properties?: Record<string, Schema>; description?: string };

/** What a reference stands for; what stands beside it counts first. */
function followed(part: Schema, root: Schema): Schema {
  const name = typeof part.$ref === "string" ? part.$ref.replace("#/definitions/", "") : undefined;
  if (name === undefined) return part;
  return { ...followed((root.definitions as Record<string, Schema>)[name], root), ...part };
}

/** Every schema inside, with its address. */
function walk(schema: unknown, path: string, visit: (schema: Schema, path: string) => void): void {
  if (schema === null || typeof schema !== "object") return;
  if (!Array.isArray(schema)) visit(schema as Schema, path);
  for (const [key, part] of Object.entries(schema)) walk(part, `${path}/${key}`, visit);
}

describe("the JSON Schema for editors", () => {
  const schema = scenarioJsonSchema() as Schema;

  it("is draft 7 and closed: no key beyond the known", () => {
    expect(schema.$schema).toBe("http://json-schema.org/draft-07/schema#");
    const open: string[] = [];
    walk(schema, "", (part, path) => {
      if (part.type === "object" && part.properties !== undefined && part.additionalProperties !== false)
        open.push(path);
    });
    expect(open).toEqual([]);
  });

  it("describes every key", () => {
    const bare: string[] = [];
    let keys = 0;
    walk(schema, "", ({ properties }, path) => {
      for (const [key, part] of Object.entries(properties ?? {})) {
        if (typeof part !== "object" || typeof properties?.[key] !== "object") continue;
        keys++;
        if (followed(part, schema).description === undefined) bare.push(`${path}/${key}`);
      }
    });
    expect(bare).toEqual([]);
    expect(keys).toBeGreaterThan(100);
  });

  it("asks for what a scenario cannot do without", () => {
    expect(schema.required).toEqual(["seatspread", "arrangement", "bearings", "chain", "seats"]);
  });

  it("is small enough for an editor to read at once", () => {
    expect(JSON.stringify(schema).length).toBeLessThan(60_000);
  });
});
