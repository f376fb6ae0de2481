import { mean } from "../../src/distributions/moments.ts";
import { createWorkspace, type StateColumns, type Workspace } from "../../src/model/columns.ts";
import { evaluateBlock } from "../../src/model/evaluate.ts";
import { FLAGS, type Flag, OUTCOMES, type Outcome } from "../../src/model/outcome.ts";
import { compilePlan, type ModelPlan } from "../../src/model/plan.ts";
import { createWindowColumns, type WindowColumns } from "../../src/model/window.ts";
import type { ResolvedScenario } from "../../src/scenario/types.ts";

/** Units evaluated through the whole model, without any drawing. */
export interface Evaluated {
  readonly plan: ModelPlan;
  readonly workspace: Workspace;
  readonly windows: WindowColumns;
  readonly state: (name: string) => StateColumns;
}

/** Evaluates one unit a row; what a row does not name stands at its mean. Names are those of the variables. */
export function evaluateRows(scenario: ResolvedScenario, rows: readonly Readonly<Record<string, number>>[]): Evaluated {
  const names = new Set(scenario.variables.map(({ name }) => name));
  for (const row of rows) {
    for (const name of Object.keys(row)) if (!names.has(name)) throw new Error(`no variable ${name}`);
  }
  return evaluateColumns(
    scenario,
    scenario.variables.map(({ name, distribution }) =>
      Float64Array.from(rows, (row) => row[name] ?? mean(distribution)),
    ),
    rows.length,
  );
}

/** The same from columns in the order of the variables. */
export function evaluateColumns(scenario: ResolvedScenario, inputs: readonly Float64Array[], count: number): Evaluated {
  const plan = compilePlan(scenario);
  const workspace = createWorkspace(plan, count);
  const windows = createWindowColumns(plan, count);
  evaluateBlock(plan, inputs, count, workspace, windows);
  return {
    plan,
    workspace,
    windows,
    state(name) {
      const place = plan.states.findIndex((candidate) => candidate.name === name);
      if (place < 0) throw new Error(`no state ${name}`);
      return workspace.states[place];
    },
  };
}

export function evaluateOne(scenario: ResolvedScenario, values: Readonly<Record<string, number>> = {}): Evaluated {
  return evaluateRows(scenario, [values]);
}

export function flagsOf(state: StateColumns, row = 0): Flag[] {
  return FLAGS.filter((_, bit) => (state.flags[row] & (1 << bit)) !== 0);
}

export function outcomeOf(state: StateColumns, row = 0): Outcome {
  return OUTCOMES[state.outcome[row]];
}
