import { InputError, type Problem } from "../../src/errors.ts";
import { applyOverrides } from "../../src/scenario/overrides.ts";
import { resolveContent } from "../../src/scenario/parse.ts";
import type { ResolvedScenario, Variable } from "../../src/scenario/types.ts";

/** The least that a scenario must say, as content to be changed by a test. */
export const LEAST_SCENARIO = {
  seatspread: 1,
  arrangement: "back-to-back",
  bearings: { both: { designation: "6004" } },
  chain: [
    { name: "housing spacing", side: "housing", length: "40.13 ±0.01" },
    { name: "spacer", side: "shaft", length: "40 ±0.005" },
  ],
  seats: {
    shaft: { both: { fit: "20 k5" } },
    housing: { both: { fit: "42 J7" } },
  },
};

/** The least scenario with some values set, resolved. `undefined` takes a key out. */
export function resolved(changes: Record<string, unknown> = {}): ResolvedScenario {
  return resolveContent(changed(changes), "test.yaml");
}

export function changed(changes: Record<string, unknown>): unknown {
  const overrides = Object.entries(changes).map(([path, value]) => ({ path, value }));
  return applyOverrides(LEAST_SCENARIO, overrides);
}

export function variable(scenario: ResolvedScenario, name: string): Variable {
  const found = scenario.variables.find((candidate) => candidate.name === name);
  if (found === undefined) throw new Error(`no variable ${name}`);
  return found;
}

/** The problems that an action is refused with. */
export function problemsOf(action: () => unknown): readonly Problem[] {
  try {
    action();
  } catch (error) {
    if (error instanceof InputError) return error.problems;
    throw error;
  }
  throw new Error("nothing was refused");
}
