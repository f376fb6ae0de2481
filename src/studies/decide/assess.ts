import { compileDraw, createInputs, drawBlock } from "../../engine/draw.ts";
import { countedStateNames } from "../../engine/kept.ts";
import { compileOffsetLaw, type OffsetLaw } from "../../engine/offset-law.ts";
import type { OffsetTable } from "../../engine/offset-table.ts";
import { countedColumns } from "../../engine/tally.ts";
import { collectWindows, type WindowSet, windowChances } from "../../engine/window-set.ts";
import { createWorkspace } from "../../model/columns.ts";
import { evaluateBlock } from "../../model/evaluate.ts";
import { compilePlan, type ModelPlan } from "../../model/plan.ts";
import { BLOCK_SIZE } from "../../random/streams.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { binomialInterval, meanInterval, pairedDifferenceInterval } from "../../stats/intervals.ts";
import { momentsOf, standardDeviation } from "../../stats/moments.ts";
import { estimateOver, REPLICATES } from "../conditional.ts";
import { checkRunnable } from "../limits-of-a-run.ts";

/** What is judged of every unit: good in every state, found bad at the bench, bad in service. */
const FATES = ["good", "bench", "service"] as const;
export type Fate = (typeof FATES)[number];

/** A share with its 95 % interval. */
export interface RatioEstimate {
  readonly ratio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
}

/** How large a set of units a judgement rests on. */
export interface AssessSize {
  /** Points of each of the 16 replicates where windows decide; a power of two. */
  readonly points: number;
  /** Units where they do not. */
  readonly samples: number;
}

/** Where nothing else is asked: a half-width of half a point at most. */
export const USUAL_SIZE: AssessSize = { points: 1024, samples: 32_768 };

/** Ways of setting the preload are judged plainly, each by itself. */
export const METHODS_SIZE: AssessSize = { ...USUAL_SIZE, samples: 16_384 };

/** What one scenario gives; two of them with one seed are on the same drawn units. */
export interface Assessment {
  readonly scenario: ResolvedScenario;
  readonly plan: ModelPlan;
  readonly method: "integrated" | "plain";
  readonly shares: Readonly<Record<Fate, RatioEstimate>>;
  /** Share on target in every counted state by itself. */
  readonly states: readonly { readonly name: string; readonly good: RatioEstimate }[];
  /** Means of the replicates where integrated, else null. */
  readonly replicates: Readonly<Record<Fate, Float64Array>> | null;
  /** The windows and the law that they are judged by where integrated, else null. */
  readonly acceptance: { readonly windows: WindowSet; readonly law: OffsetLaw } | null;
  /** Place in `FATES` of every unit, by plain sampling; worked out when asked for. */
  readonly fates: () => Uint8Array;
}

/** Judges scenarios that are variants of one another; what they share is worked out once. */
export interface Assessor {
  readonly size: AssessSize;
  assess(scenario: ResolvedScenario): Assessment;
}

/** @param size the same for everything that is to be compared */
export function createAssessor(size: AssessSize): Assessor {
  const tables = new Map<string, OffsetTable>();
  return {
    size,
    assess(scenario) {
      const plan = compilePlan(scenario);
      checkRunnable(plan);
      // A thousand variants of a tolerance have a thousand laws: they are not all worth keeping.
      if (tables.size > 64) tables.clear();
      const law = compileOffsetLaw(scenario, plan, [], tables);
      return law === null ? assessPlainly(scenario, plan, size.samples) : assessByWindows(scenario, plan, law, size);
    },
  };
}

/** Mean over replicates with the t interval of their spread. */
export function overReplicates(means: Float64Array): RatioEstimate {
  const { ratio, lowRatio, highRatio } = estimateOver(means);
  return { ratio, lowRatio, highRatio };
}

function assessByWindows(scenario: ResolvedScenario, plan: ModelPlan, law: OffsetLaw, size: AssessSize): Assessment {
  const windows = collectWindows(scenario, plan, law, REPLICATES, size.points);
  const good = windowChances(windows, windows, law.law);
  const perState = windows.states.map((ends) => windowChances(windows, ends, law.law));
  const benchGood = perState[windows.bench];
  const replicates = {
    good,
    bench: benchGood.map((value) => 1 - value),
    service: benchGood.map((value, place) => value - good[place]),
  };
  let fates: Uint8Array | null = null;
  return {
    scenario,
    plan,
    method: "integrated",
    shares: {
      good: overReplicates(replicates.good),
      bench: overReplicates(replicates.bench),
      service: overReplicates(replicates.service),
    },
    states: countedStateNames(plan).map((name, place) => ({ name, good: overReplicates(perState[place]) })),
    replicates,
    acceptance: { windows, law },
    fates: () => {
      fates ??= drawFates(scenario, plan, size.samples).fates;
      return fates;
    },
  };
}

function assessPlainly(scenario: ResolvedScenario, plan: ModelPlan, samples: number): Assessment {
  const { fates, stateCounts } = drawFates(scenario, plan, samples);
  const counts = [0, 0, 0];
  for (const fate of fates) counts[fate] += 1;
  const share = (count: number): RatioEstimate => {
    const { low, high } = binomialInterval(count, samples);
    return { ratio: count / samples, lowRatio: low, highRatio: high };
  };
  return {
    scenario,
    plan,
    method: "plain",
    shares: { good: share(counts[0]), bench: share(counts[1]), service: share(counts[2]) },
    states: countedStateNames(plan).map((name, place) => ({ name, good: share(stateCounts[place]) })),
    replicates: null,
    acceptance: null,
    fates: () => fates,
  };
}

/** Draws units plainly, the first ones of a run with this seed, and says how each ends. */
export function drawFates(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  samples: number,
): { fates: Uint8Array; stateCounts: Float64Array } {
  const draw = compileDraw(scenario);
  const size = Math.min(BLOCK_SIZE, samples);
  const inputs = createInputs(draw, size);
  const workspace = createWorkspace(plan, size);
  const bench = plan.states.findIndex((state) => state.isBench);
  const fates = new Uint8Array(samples);
  const stateCounts = new Float64Array(countedStateNames(plan).length);
  for (let first = 0; first < samples; first += BLOCK_SIZE) {
    const count = Math.min(BLOCK_SIZE, samples - first);
    drawBlock(draw, first / BLOCK_SIZE, inputs, count);
    evaluateBlock(plan, inputs, count, workspace);
    const states = countedColumns(workspace);
    for (let s = 0; s < states.length; s += 1) {
      const { good } = states[s];
      for (let i = 0; i < count; i += 1) {
        if (good[i] === 1) stateCounts[s] += 1;
        else if (s === bench) fates[first + i] = 1;
        else if (fates[first + i] === 0) fates[first + i] = 2;
      }
    }
  }
  return { fates, stateCounts };
}

/** Difference of a share between two scenarios on the same units, with its 95 % interval. */
export interface DifferenceEstimate {
  readonly differenceRatio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
}

/** `other` less `base`, unit by unit or point set by point set. */
export function differenceOf(base: Assessment, other: Assessment, fate: Fate): DifferenceEstimate {
  if (base.replicates !== null && other.replicates !== null) {
    const from = base.replicates[fate];
    const moments = momentsOf(other.replicates[fate].map((value, place) => value - from[place]));
    const { low, high } = meanInterval(moments.mean, standardDeviation(moments), moments.count);
    return { differenceRatio: moments.mean, lowRatio: Math.max(-1, low), highRatio: Math.min(1, high) };
  }
  const place = FATES.indexOf(fate);
  const from = base.fates();
  const to = other.fates();
  let gained = 0;
  let lost = 0;
  for (let i = 0; i < from.length; i += 1) {
    if (to[i] === place && from[i] !== place) gained += 1;
    else if (to[i] !== place && from[i] === place) lost += 1;
  }
  const { low, high } = pairedDifferenceInterval(gained, lost, from.length);
  return { differenceRatio: (gained - lost) / from.length, lowRatio: low, highRatio: high };
}
