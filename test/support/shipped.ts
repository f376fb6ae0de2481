import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { measuredFileReader } from "../../src/cli/measured.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import type { ResolvedScenario } from "../../src/scenario/types.ts";

const FOLDER = new URL("../../scenarios/", import.meta.url);

/** The scenarios that come with the program, by file name. */
export const SHIPPED = readdirSync(FOLDER)
  .filter((file) => file.endsWith(".yaml"))
  .sort();

export function shipped(file: string, changes: Readonly<Record<string, unknown>> = {}): ResolvedScenario {
  const overrides = Object.entries(changes).map(([path, value]) => ({ path, value }));
  const reader = measuredFileReader(fileURLToPath(new URL(file, FOLDER)));
  return parseScenario(readFileSync(new URL(file, FOLDER), "utf8"), file, overrides, reader);
}
