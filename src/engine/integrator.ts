import { mean } from "../distributions/moments.ts";
import { InternalError } from "../errors.ts";
import type { Workspace } from "../model/columns.ts";
import type { ModelPlan } from "../model/plan.ts";
import type { WindowColumns } from "../model/window.ts";
import { BLOCK_SIZE } from "../random/streams.ts";
import { integrateBlock } from "./conditional.ts";
import { compileSobol, createInputs, type DrawPlan, drawSobolBlock } from "./draw.ts";
import type { ConditionalResult, Task, WorkerSetup } from "./tasks.ts";

/** Runs tasks that integrate over the law of the offset. */
export interface Integrator {
  run(task: Task & { kind: "conditional" }): ConditionalResult;
}

export function createIntegrator(
  setup: WorkerSetup,
  plan: ModelPlan,
  draw: DrawPlan,
  workspace: Workspace,
  windows: WindowColumns,
): Integrator {
  const { scenario, offset } = setup;
  if (offset === null)
    throw new InternalError("no quantity enters the offset linearly: there is nothing to integrate over");
  const { law, shiftsMm } = offset;
  const weights = scenario.states.map((state) => state.weightRatio);
  const sobol = compileSobol(draw, law.variables);
  const inputs = createInputs(draw, BLOCK_SIZE);
  for (const index of law.variables) inputs[index].fill(mean(scenario.variables[index].distribution));
  return {
    run({ replicate, first, count }) {
      drawSobolBlock(draw, sobol, replicate, first, inputs, count);
      const sums = integrateBlock(plan, law, weights, shiftsMm, inputs, count, workspace, windows);
      return { kind: "conditional", replicate, ...sums };
    },
  };
}
