import { mean } from "../distributions/moments.ts";
import { compileDraw, createInputs, drawBlock } from "../engine/draw.ts";
import { compileOffsetLaw } from "../engine/offset-law.ts";
import { roughQuantile } from "../engine/offset-table.ts";
import type { WorkerSetup } from "../engine/tasks.ts";
import { createWorkspace } from "../model/columns.ts";
import { evaluateWindows } from "../model/evaluate.ts";
import type { ModelPlan } from "../model/plan.ts";
import { createWindowColumns } from "../model/window.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { quantileOfSorted } from "../stats/quantiles.ts";

/** Units that show where the windows lie; the curves' own numbers do not come from them. */
const PILOT = 1024;

const SHIFTS = 121;

/** Tolerances of the chain, as multiples of those given. */
const SPREADS = [0.1, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.5, 3];

/**
 * Sets up what is integrated over, and lays out the nominal offsets: from where hardly any unit is good any more to where
 * hardly any is again. Null where nothing enters the offset linearly, so that no curve comes for free.
 */
export function layOutCurves(
  scenario: ResolvedScenario,
  plan: ModelPlan,
): Omit<NonNullable<WorkerSetup["offset"]>, "frame"> | null {
  const law = compileOffsetLaw(scenario, plan, SPREADS);
  if (law === null) return null;
  const draw = compileDraw(scenario);
  const inputs = createInputs(draw, PILOT);
  drawBlock(draw, 0, inputs, PILOT);
  for (const index of law.variables) inputs[index].fill(mean(scenario.variables[index].distribution));
  const workspace = createWorkspace(plan, PILOT);
  const windows = createWindowColumns(plan, PILOT);
  evaluateWindows(plan, inputs, PILOT, workspace, windows);
  const machined = workspace.machinedOffsetMm[0];
  const ends = (column: Float64Array) => Float64Array.from(column).filter(Number.isFinite).sort();
  const lows = ends(windows.lowMm);
  const highs = ends(windows.highMm);
  const reach = 0.5 * (roughQuantile(law.law, 0.999) - roughQuantile(law.law, 0.001));
  const from = (lows.length === 0 ? machined : quantileOfSorted(lows, 0.01)) - machined - reach;
  const to = (highs.length === 0 ? machined : quantileOfSorted(highs, 0.99)) - machined + reach;
  const low = Math.min(from, -reach);
  const step = (Math.max(to, reach) - low) / (SHIFTS - 1);
  // The nominal as drawn is one of the points.
  const before = Math.ceil(-low / step);
  return { law, shiftsMm: Float64Array.from({ length: SHIFTS }, (_, place) => (place - before) * step) };
}
