import { mean, standardDeviation } from "../distributions/moments.ts";
import { createWorkspace } from "../model/columns.ts";
import { evaluateWindows } from "../model/evaluate.ts";
import type { ModelPlan } from "../model/plan.ts";
import { createWindowColumns } from "../model/window.ts";
import { createColumns } from "../reliability/limit-function.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { type ChanceReader, createChances } from "./conditional.ts";
import { createInputs, type DrawPlan } from "./draw.ts";
import type { OffsetLaw } from "./offset-law.ts";
import { drawScores, fillSobolScores } from "./scores.ts";

/** Points at which slopes are taken. */
const POINTS = 32;

/** Half the width of the differences that give a slope, standard deviations: wide, so that narrow windows are seen from beside. */
const STEP_RATIO = 0.25;

/** Its own set of points, apart from those of any estimate. */
const PILOT_REPLICATE = 4096;

/** What changes how much with the normal scores, at some points of a pilot. */
export interface Slopes {
  /** Places in `DrawPlan.drawn` of what is drawn beside the offset. */
  readonly places: readonly number[];
  /** Per point and chance, in the order of `conditionalCount`: slopes over the scores of `places`. Empty without a law. */
  readonly chances: readonly (readonly Float64Array[])[];
  /** Per point: how far the machined offset is past each end of the window over all states, mm, and its slopes over all scores. */
  readonly ends: readonly (readonly EndSlope[])[];
}

export interface EndSlope {
  readonly pastMm: number;
  readonly slopes: Float64Array;
}

/**
 * Takes slopes of acceptance windows and of the chances that follow from them by differences, one drawn quantity after the other.
 * Those of the offset's own quantities, in which the ends are linear, are their spreads.
 *
 * @param law of the offset, or null where nothing enters it linearly
 */
export function takeSlopes(scenario: ResolvedScenario, plan: ModelPlan, law: OffsetLaw | null, draw: DrawPlan): Slopes {
  const ownVariables = law?.variables ?? [];
  const weights = scenario.states.map((state) => state.weightRatio);
  const all = Array.from(draw.drawn.keys());
  const places = all.filter((place) => !ownVariables.includes(draw.drawn[place].index));
  const size = 2 * places.length;
  const inputs = createInputs(draw, size);
  const workspace = createWorkspace(plan, size);
  const windows = createWindowColumns(plan, size);
  const reader = law === null ? null : createChances(plan, law, weights, workspace, windows);
  const scores = createColumns(draw.drawn.length, size);
  const points = createColumns(draw.drawn.length, POINTS);
  fillSobolScores(draw, PILOT_REPLICATE, 0, POINTS, points);
  const own = ownSlopes(law, draw);
  const chances: Float64Array[][] = [];
  const ends: EndSlope[][] = [];
  for (let point = 0; point < POINTS; point += 1) {
    all.forEach((place) => {
      scores[place].fill(points[place][point]);
    });
    places.forEach((place, k) => {
      scores[place][2 * k] += STEP_RATIO;
      scores[place][2 * k + 1] -= STEP_RATIO;
    });
    drawScores(draw, scores, inputs, size);
    for (const index of ownVariables) inputs[index].fill(mean(scenario.variables[index].distribution));
    evaluateWindows(plan, inputs, size, workspace, windows);
    if (reader !== null) chances.push(chanceSlopes(reader, places.length));
    const ownMm = own.reduce((sum, slope, place) => sum + slope * points[place][point], 0);
    ends.push(
      [windows.lowMm, windows.highMm].map((end) => {
        const pastMm = Float64Array.from(end, (endMm, i) => workspace.machinedOffsetMm[i] - endMm);
        return endSlope(pastMm, places, own, ownMm);
      }),
    );
  }
  return { places, chances, ends };
}

/** Slopes of the offset over the scores of its own quantities, mm; 0 for all others. */
function ownSlopes(law: OffsetLaw | null, draw: DrawPlan): Float64Array {
  const own = new Float64Array(draw.drawn.length);
  for (const { variable, factor, distribution } of law === null ? [] : [...law.chain, ...law.standOuts]) {
    own[draw.drawn.findIndex(({ index }) => index === variable)] = factor * standardDeviation(distribution);
  }
  return own;
}

/** Slopes of every chance at one point, from the pairs of samples to either side of it. */
function chanceSlopes(reader: ChanceReader, count: number): Float64Array[] {
  const slopes = Array.from(reader.values, () => new Float64Array(count));
  const up = new Float64Array(reader.values.length);
  for (let k = 0; k < count; k += 1) {
    reader.read(2 * k);
    up.set(reader.values);
    reader.read(2 * k + 1);
    slopes.forEach((slope, q) => {
      slope[k] = differenceSlope(up[q], reader.values[q]);
    });
  }
  return slopes;
}

/**
 * Slopes of one end of the window at one point.
 *
 * @param pastMm how far the offset is past the end in the pairs of samples to either side, without the offset's own part
 * @param own slopes over the offset's own quantities, and what these add here: `ownMm`
 */
function endSlope(pastMm: Float64Array, places: readonly number[], own: Float64Array, ownMm: number): EndSlope {
  const slopes = own.slice();
  places.forEach((place, k) => {
    slopes[place] = differenceSlope(pastMm[2 * k], pastMm[2 * k + 1]);
  });
  let meanMm = 0;
  for (const past of pastMm) meanMm += past / pastMm.length;
  return { pastMm: meanMm + ownMm, slopes };
}

function differenceSlope(up: number, down: number): number {
  return (up - down) / (2 * STEP_RATIO);
}
