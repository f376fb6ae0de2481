import { readFileSync } from "node:fs";
import { openScenario, type VariableScenario } from "../../src/scenario/source.ts";
import { changed } from "./scenario.ts";

/** A scenario of a test that can be changed over and over. */
export function variableOf(changes: Record<string, unknown>): VariableScenario {
  return openScenario(JSON.stringify(changed(changes)), "test.yaml");
}

/** One that comes with the program. */
export function shippedVariable(file: string, changes: Readonly<Record<string, unknown>> = {}): VariableScenario {
  const overrides = Object.entries(changes).map(([path, value]) => ({ path, value }));
  return openScenario(readFileSync(new URL(`../../scenarios/${file}`, import.meta.url), "utf8"), file, overrides);
}

/** Who makes a result in a test. */
export const TEST_MAKER = { version: "0.0.0", platform: "test" };
