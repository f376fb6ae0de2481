import * as z from "zod";
import { SCHEMA_VERSION, scenarioSchema } from "./schema.ts";

/** The scenario format as JSON Schema (draft 7) for editors, with a description on every key. */
export function scenarioJsonSchema(): object {
  const { $schema, ...schema } = z.toJSONSchema(scenarioSchema, { io: "input", target: "draft-7", reused: "ref" });
  return { $schema, title: `seatspread scenario, format ${SCHEMA_VERSION}`, ...schema };
}
