import { goodPlace } from "../engine/conditional.ts";
import { alongSlopes, besideOffset } from "../engine/directions.ts";
import { compileDraw, type DrawPlan } from "../engine/draw.ts";
import { createIntegrator, type IntegrationSetup } from "../engine/integrator.ts";
import { windowsDecide } from "../engine/offset-law.ts";
import { takeSlopes } from "../engine/slopes.ts";
import { createWorkspace } from "../model/columns.ts";
import type { ModelPlan } from "../model/plan.ts";
import { createWindowColumns } from "../model/window.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { momentsOf, standardDeviation } from "../stats/moments.ts";
import type { layOutCurves } from "./curves.ts";
import type { IntegrationDirection } from "./result.ts";

/** Replicates of a pilot are apart from those of the estimate. */
const PILOT = { replicates: 8, from: 1024 };

/** Points of each for a first look at the offset, and points and lines of each where it comes to a contest. */
const FIRST_LOOK = 64;
const CONTEST = { points: 256, lines: 32 };

/** Units evaluated at a time. */
const PILOT_BLOCK = 256;

/**
 * Where an evaluation of the model along the offset is worth this many plain samples, the points that are taken anyway give the
 * yield to a few hundredths of a point, and a contest would cost more than it could win.
 */
const GOOD_ENOUGH = 100;

/** Lines have to win by this much: eight replicates know a variance to a factor of about two. */
const LEAST_GAIN = 2;

/** What a pilot found of one direction. */
export interface PilotResult {
  readonly along: IntegrationDirection;
  /** Plain samples that one evaluation of the model is worth for the yield; Infinity where the pilot saw no spread. */
  readonly worthRatio: number;
}

/** What is integrated, along what, and why. */
export interface Directions extends Pick<IntegrationSetup, "offset" | "lines"> {
  /** Empty where there was no choice. */
  readonly pilot: readonly PilotResult[];
}

const NOTHING: Directions = { offset: null, lines: null, pilot: [] };

/**
 * Chooses what to integrate along: the machined offset, whose law is known in closed form, with the other quantities on Sobol'
 * points that run along their most telling directions; or lines along the standardised slope of the limits, which take twenty to
 * eighty evaluations of the model each. A pilot says which has less variance for the same work. Where nothing enters
 * the offset linearly, the lines remain. The same scenario gives the same choice everywhere.
 *
 * @param curves the law of the offset and the nominals that the yield is wanted for, or null
 */
export function chooseDirections(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  curves: ReturnType<typeof layOutCurves>,
): Directions {
  if (!windowsDecide(plan)) return NOTHING;
  const draw = compileDraw(scenario);
  if (draw.drawn.length === 0) return NOTHING;
  const slopes = takeSlopes(scenario, plan, curves?.law ?? null, draw);
  if (curves === null) return { ...NOTHING, lines: alongSlopes(slopes, draw.drawn.length) };
  const offset = { ...curves, frame: besideOffset(plan, slopes) };
  const ofOffset = { offset: { ...offset, shiftsMm: new Float64Array(0) }, lines: null };
  const first = pilotOf(scenario, plan, draw, ofOffset, FIRST_LOOK);
  const lines = first.worthRatio >= GOOD_ENOUGH ? null : alongSlopes(slopes, draw.drawn.length);
  if (lines === null) return { offset, lines, pilot: [first] };
  const overOffset = pilotOf(scenario, plan, draw, ofOffset, CONTEST.points);
  const alongLines = pilotOf(scenario, plan, draw, { offset: null, lines }, CONTEST.lines);
  const isWorthIt = alongLines.worthRatio > LEAST_GAIN * overOffset.worthRatio;
  return { offset, lines: isWorthIt ? lines : null, pilot: [overOffset, alongLines] };
}

/**
 * The worth of one direction from the spread of the yield over a few small replicates.
 *
 * @param count points or lines of a replicate
 */
function pilotOf(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  draw: DrawPlan,
  directions: Pick<IntegrationSetup, "offset" | "lines">,
  count: number,
): PilotResult {
  const workspace = createWorkspace(plan, PILOT_BLOCK);
  const windows = createWindowColumns(plan, PILOT_BLOCK);
  const integrator = createIntegrator({ scenario, ...directions }, plan, draw, workspace, windows);
  const place = goodPlace(plan);
  let evaluations = 0;
  const moments = momentsOf(
    Float64Array.from({ length: PILOT.replicates }, (_, number) => {
      const task = { replicate: PILOT.from + number, first: 0, count };
      if (directions.lines === null) {
        evaluations += count;
        return integrator.overOffset({ kind: "conditional", ...task }).sums[place] / count;
      }
      const found = integrator.alongLines({ kind: "lines", ...task });
      evaluations += found.evaluations;
      return found.sums[place] / count;
    }),
  );
  const sd = standardDeviation(moments);
  return {
    along: directions.lines === null ? "offset" : "slope",
    worthRatio:
      sd > 0
        ? (moments.mean * (1 - moments.mean) * PILOT.replicates) / (sd * sd * evaluations)
        : Number.POSITIVE_INFINITY,
  };
}
