import { goodPlace } from "../engine/conditional.ts";
import { alongSlopes, besideOffset } from "../engine/directions.ts";
import { compileDraw } from "../engine/draw.ts";
import type { ScoreFrame } from "../engine/frame.ts";
import { createIntegrator, type IntegrationSetup } from "../engine/integrator.ts";
import { windowsDecide } from "../engine/offset-law.ts";
import { takeSlopes } from "../engine/slopes.ts";
import { createWorkspace } from "../model/columns.ts";
import type { ModelPlan } from "../model/plan.ts";
import { createWindowColumns } from "../model/window.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import type { layOutCurves } from "./curves.ts";
import type { IntegrationDirection } from "./result.ts";

/** Replicates of a pilot, apart from those of the estimate, and points or lines of each: much the same work either way. */
const PILOT = { replicates: 8, from: 1024, points: 64, lines: 4 };

/** Units evaluated at a time. */
const PILOT_BLOCK = 256;

/** Lines have to promise this much less variance for the same work: eight replicates know it to a factor of about two. */
const LEAST_GAIN = 2;

/** What a pilot found of one direction. */
export interface PilotResult {
  readonly along: IntegrationDirection;
  /** Variance of the yield of a replicate times the evaluations of the model that it took. */
  readonly variance: number;
}

/** What is integrated, along what, and why. */
export interface Directions extends Pick<IntegrationSetup, "offset" | "lines"> {
  /** Empty where there was no choice. */
  readonly pilot: readonly PilotResult[];
}

const NOTHING: Directions = { offset: null, lines: null, pilot: [] };

/**
 * Chooses what to integrate along: the machined offset, whose law is known in closed form, with the other quantities on Sobol'
 * points that run along their most telling directions; or lines along the standardised slope of the limits, which take some
 * twenty evaluations of the model each. A pilot of either says which has less variance for the same work. Where nothing enters
 * the offset linearly, the lines remain. The same scenario gives the same choice everywhere.
 *
 * @param curves the law of the offset and the nominals that the yield is wanted for, or null
 */
export function chooseDirections(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  curves: ReturnType<typeof layOutCurves>,
): Directions {
  const draw = compileDraw(scenario);
  if (!windowsDecide(plan) || draw.drawn.length === 0)
    return { ...NOTHING, offset: curves && { ...curves, frame: null } };
  const slopes = takeSlopes(scenario, plan, curves?.law ?? null, draw);
  const lines = alongSlopes(slopes, draw.drawn.length);
  if (curves === null) return { ...NOTHING, lines };
  const offset = { ...curves, frame: besideOffset(plan, slopes) };
  if (lines === null) return { ...NOTHING, offset };
  const overOffset = pilotOf(scenario, plan, { offset: { ...offset, shiftsMm: new Float64Array(0) }, lines: null });
  const alongLines = pilotOf(scenario, plan, { offset: null, lines });
  const isWorthIt = LEAST_GAIN * alongLines.variance < overOffset.variance;
  return { offset, lines: isWorthIt ? lines : null, pilot: [overOffset, alongLines] };
}

/** Spread of the yield over a few small replicates. */
function pilotOf(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  directions: { readonly offset: IntegrationSetup["offset"]; readonly lines: ScoreFrame | null },
): PilotResult {
  const { replicates, from, points, lines } = PILOT;
  const draw = compileDraw(scenario);
  const workspace = createWorkspace(plan, PILOT_BLOCK);
  const windows = createWindowColumns(plan, PILOT_BLOCK);
  const integrator = createIntegrator({ scenario, ...directions }, plan, draw, workspace, windows);
  const place = goodPlace(plan);
  let evaluations = 0;
  const ofReplicate = (replicate: number) => {
    if (directions.lines === null) {
      evaluations += points;
      const task = { kind: "conditional", replicate, first: 0, count: points } as const;
      return integrator.overOffset(task).sums[place] / points;
    }
    const result = integrator.alongLines({ kind: "lines", replicate, first: 0, count: lines });
    evaluations += result.evaluations;
    return result.sums[place] / lines;
  };
  const shares = Float64Array.from({ length: replicates }, (_, replicate) => ofReplicate(from + replicate));
  const mean = shares.reduce((sum, share) => sum + share, 0) / replicates;
  const variance = shares.reduce((sum, share) => sum + (share - mean) * (share - mean), 0) / (replicates - 1);
  return { along: directions.lines === null ? "offset" : "slope", variance: (variance * evaluations) / replicates };
}
