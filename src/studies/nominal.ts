import { centre } from "../distributions/moments.ts";
import { createWorkspace } from "../model/columns.ts";
import { evaluateBlock } from "../model/evaluate.ts";
import { OUTCOMES } from "../model/outcome.ts";
import { compilePlan, type ModelPlan } from "../model/plan.ts";
import { createWindowColumns } from "../model/window.ts";
import { axialPlayMm, freeContactAngleRad } from "../physics/axial-contact.ts";
import { checkScenario } from "../scenario/check.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import type { NominalResult } from "./result.ts";

/**
 * The assembly with every quantity at its mean: offset, onset, window and preload in every state. No sampling.
 *
 * @param plan of the scenario
 */
export function evaluateNominal(scenario: ResolvedScenario, plan: ModelPlan = compilePlan(scenario)): NominalResult {
  const inputs = scenario.variables.map((variable) => Float64Array.of(centre(variable.distribution)));
  const workspace = createWorkspace(plan, 1);
  const windows = createWindowColumns(plan, 1);
  evaluateBlock(plan, inputs, 1, workspace, windows);
  const check = checkScenario(scenario);
  return {
    machinedOffsetMm: workspace.machinedOffsetMm[0],
    worstCaseMm: { low: check.worstCase.lowMm, high: check.worstCase.highMm },
    rootSumSquareMm: { low: check.rootSumSquare.lowMm, high: check.rootSumSquare.highMm },
    states: plan.states.map((state, index) => {
      const columns = workspace.states[index];
      const window = windows.states[index];
      const a = workspace.bearings[0].grooveDistanceMm[0];
      const b = workspace.bearings[1].grooveDistanceMm[0];
      const clearanceA = columns.clearanceAMm[0];
      const clearanceB = columns.clearanceBMm[0];
      const playA = axialPlayMm(a, clearanceA);
      const playB = axialPlayMm(b, clearanceB);
      // Windows are in machined offsets; here they are wanted as offsets in the state itself.
      const shift = columns.offsetMm[0] - workspace.machinedOffsetMm[0];
      return {
        state: state.name,
        offsetMm: columns.offsetMm[0],
        clearanceMm: { a: clearanceA, b: clearanceB },
        axialPlayMm: { a: playA, b: playB },
        contactAngleRad: { a: freeContactAngleRad(a, clearanceA), b: freeContactAngleRad(b, clearanceB) },
        onsetMm: window.onsetMm[0] + shift,
        sumOfPlaysMm: playA + playB,
        lowMm: window.lowMm[0] + shift,
        highMm: window.highMm[0] + shift,
        bindMm: window.bindMm[0] + shift,
        preloadN: columns.preloadN[0],
        outcome: OUTCOMES[columns.outcome[0]],
      };
    }),
  };
}
