import { mean } from "../distributions/moments.ts";
import { InternalError } from "../errors.ts";
import type { Workspace } from "../model/columns.ts";
import type { ModelPlan } from "../model/plan.ts";
import type { WindowColumns } from "../model/window.ts";
import { integrateBlock } from "./conditional.ts";
import { compileSobol, createInputs, type DrawPlan, drawSobolBlock } from "./draw.ts";
import { createLineIntegrator } from "./lines.ts";
import type { ConditionalResult, LinesResult, Task, WorkerSetup } from "./tasks.ts";

/** Runs tasks that integrate over the law of the offset or along lines. */
export interface Integrator {
  overOffset(task: Task & { kind: "conditional" }): ConditionalResult;
  alongLines(task: Task & { kind: "lines" }): LinesResult;
}

/** What of a setup an integrator needs. */
export type IntegrationSetup = Pick<WorkerSetup, "scenario" | "offset" | "lines">;

/**
 * Each of the two ways is set up where the setup has what it takes.
 *
 * @throws InternalError from a task of the other way
 */
export function createIntegrator(
  setup: IntegrationSetup,
  plan: ModelPlan,
  draw: DrawPlan,
  workspace: Workspace,
  windows: WindowColumns,
): Integrator {
  const weights = setup.scenario.states.map((state) => state.weightRatio);
  const overOffset = createOffsetIntegrator(setup, plan, draw, weights, workspace, windows);
  const alongLines =
    setup.lines === null ? null : createLineIntegrator(plan, draw, setup.lines, weights, workspace, windows);
  return {
    overOffset(task) {
      if (overOffset === null) throw new InternalError("nothing enters the offset linearly: no law to integrate over");
      return overOffset(task);
    },
    alongLines({ replicate, first, count }) {
      if (alongLines === null) throw new InternalError("no lines to integrate along");
      return { kind: "lines", replicate, ...alongLines.run(replicate, first, count) };
    },
  };
}

function createOffsetIntegrator(
  { scenario, offset }: IntegrationSetup,
  plan: ModelPlan,
  draw: DrawPlan,
  weights: readonly number[],
  workspace: Workspace,
  windows: WindowColumns,
): Integrator["overOffset"] | null {
  if (offset === null) return null;
  const { law, shiftsMm, frame } = offset;
  const sobol = compileSobol(draw, law.variables, false, frame, workspace.size);
  const inputs = createInputs(draw, workspace.size);
  for (const index of law.variables) inputs[index].fill(mean(scenario.variables[index].distribution));
  return ({ replicate, first, count }) => {
    drawSobolBlock(draw, sobol, replicate, first, inputs, count);
    const sums = integrateBlock(plan, law, weights, shiftsMm, inputs, count, workspace, windows);
    return { kind: "conditional", replicate, ...sums };
  };
}
