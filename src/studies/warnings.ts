import type { ResolvedScenario } from "../scenario/types.ts";
import type { Warning } from "../warnings.ts";
import type { OverallResult, StateResult, WindowResult } from "./result.ts";

/** What a reader must know about a finding before using it. */
export function runWarnings(
  scenario: ResolvedScenario,
  states: readonly StateResult[],
  overall: OverallResult,
  window: WindowResult,
  unsolved = 0,
): Warning[] {
  const warnings: Warning[] = [];
  if (unsolved > 0) {
    warnings.push({
      code: "unsolved",
      path: "extended",
      message: `the equilibrium under load was not found to the last digit in ${unsolved} cases: stiffness and life of these are approximate`,
    });
  }
  // Shares that came in another way are as certain as they say.
  const few = [overall.failsAtBench, overall.failsInService].filter(
    ({ count, method }) => count > 0 && count < 10 && (method === "wilson" || method === "clopper-pearson"),
  );
  if (few.length > 0) {
    warnings.push({
      code: "few-failures",
      path: "samples",
      message: `fewer than ten failing units were seen in ${scenario.samples} samples: their shares are uncertain by half or more`,
    });
  }
  if (window.empty.shareRatio > 0.001) {
    warnings.push({
      code: "window-empty",
      path: "",
      message: `${(100 * window.empty.shareRatio).toFixed(1)} % of the units cannot be on target in every state whatever the machining`,
    });
  }
  for (const state of states) {
    const worst = Math.min(state.clearanceMm.a.min, state.clearanceMm.b.min);
    if (worst < 0) {
      warnings.push({
        code: "clearance-negative",
        path: `states.${state.name}`,
        message: `some bearings are left without radial clearance (down to ${(1000 * worst).toFixed(1)} µm): they are loaded radially whatever the offset`,
      });
    }
  }
  return warnings;
}
