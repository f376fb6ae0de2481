import { conditionalCount, OVERALL } from "../engine/conditional.ts";
import { runInOrder } from "../engine/run.ts";
import type { ConditionalResult, Executor, Task, WorkerSetup } from "../engine/tasks.ts";
import { OUTCOMES, type Outcome } from "../model/outcome.ts";
import type { ModelPlan } from "../model/plan.ts";
import { BLOCK_SIZE } from "../random/streams.ts";
import { meanInterval } from "../stats/intervals.ts";
import { momentsOf, standardDeviation } from "../stats/moments.ts";

/** Independent scrambles of the point set: their spread is the error, whatever the points do. */
export const REPLICATES = 16;

/** Points of a replicate are powers of two, from 2^10 on. */
export const FIRST_EXPONENT = 10;
const LAST_EXPONENT = 22;

/** An estimate with its 95 % interval over the replicates. */
export interface Estimate {
  readonly ratio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
  readonly halfWidthRatio: number;
  readonly standardErrorRatio: number;
}

/** Everything that integrating over the offset gives. */
export interface Integration {
  readonly replicates: number;
  readonly pointsPerReplicate: number;
  /** Per counted state, per outcome in the order of `OUTCOMES`. */
  readonly states: readonly (readonly Estimate[])[];
  readonly good: Estimate;
  readonly bench: Estimate;
  readonly service: Estimate;
  readonly averaged: Estimate;
  /** How many plain samples one point is worth for the yield: binomial variance over that of the estimate, per point. */
  readonly worthRatio: number;
  readonly shiftCurve: readonly Estimate[];
  readonly spreadCurve: readonly Estimate[];
}

/** Which estimate has to become how good. */
export interface Target {
  readonly halfWidthRatio: number;
  /** `null`: good in every state; else an outcome in a state. */
  readonly of: { readonly state: number; readonly outcome: Outcome } | "bench" | "service" | null;
}

/** Called between doublings: points evaluated so far, and whether to stop for another reason than the target (time). */
export interface Pace {
  readonly onProgress: (points: number) => void;
  readonly isOver: () => boolean;
}

/** Points `from` to `to` of every replicate. */
export function conditionalTasks(from: number, to: number): Task[] {
  const tasks: Task[] = [];
  for (let replicate = 0; replicate < REPLICATES; replicate += 1) {
    for (let first = from; first < to; first += BLOCK_SIZE) {
      tasks.push({ kind: "conditional", replicate, first, count: Math.min(BLOCK_SIZE, to - first) });
    }
  }
  return tasks;
}

/**
 * Integrates over the law of the offset on scrambled Sobol' points, doubling their number until a target is met.
 *
 * @param target null: the first 2^10 points of each replicate are enough
 */
export async function integrate(
  executor: Executor,
  setup: WorkerSetup,
  plan: ModelPlan,
  target: Target | null,
  pace: Pace,
): Promise<Integration> {
  const quantities = conditionalCount(plan);
  const shifts = setup.offset?.shiftsMm.length ?? 0;
  const spreads = setup.offset?.law.spreads.length ?? 0;
  const totals = Array.from({ length: REPLICATES }, () => ({
    sums: new Float64Array(quantities),
    shiftSums: new Float64Array(shifts),
    spreadSums: new Float64Array(spreads),
  }));
  const add = (into: Float64Array, from: Float64Array) => {
    for (let index = 0; index < into.length; index += 1) into[index] += from[index];
  };
  let done = 0;
  for (let exponent = FIRST_EXPONENT; ; exponent += 1) {
    const points = 1 << exponent;
    await runInOrder(executor, conditionalTasks(done, points), (result) => {
      if (result.kind !== "conditional") return;
      const part: ConditionalResult = result;
      add(totals[part.replicate].sums, part.sums);
      add(totals[part.replicate].shiftSums, part.shiftSums);
      add(totals[part.replicate].spreadSums, part.spreadSums);
    });
    done = points;
    pace.onProgress(done * REPLICATES);
    const result = summarise(totals, plan, points);
    if (target === null || exponent === LAST_EXPONENT || pace.isOver()) return result;
    if (estimateOf(result, target).halfWidthRatio <= target.halfWidthRatio) return result;
  }
}

/** The estimate that a target speaks of. */
function estimateOf(integration: Integration, target: Target): Estimate {
  if (target.of === null) return integration.good;
  if (target.of === "bench" || target.of === "service") return integration[target.of];
  return integration.states[target.of.state][OUTCOMES.indexOf(target.of.outcome)];
}

function summarise(
  totals: readonly { sums: Float64Array; shiftSums: Float64Array; spreadSums: Float64Array }[],
  plan: ModelPlan,
  points: number,
): Integration {
  const estimate = (pick: (total: (typeof totals)[number]) => number) =>
    overReplicates(Float64Array.from(totals, (total) => pick(total) / points));
  const overall = conditionalCount(plan) - Object.keys(OVERALL).length;
  const states: Estimate[][] = [];
  for (let s = 0; s * OUTCOMES.length < overall; s += 1) {
    states.push(OUTCOMES.map((_, place) => estimate((total) => total.sums[s * OUTCOMES.length + place])));
  }
  const good = estimate((total) => total.sums[overall + OVERALL.good]);
  const binomial = (good.ratio * (1 - good.ratio)) / (points * totals.length);
  return {
    replicates: totals.length,
    pointsPerReplicate: points,
    states,
    good,
    bench: estimate((total) => total.sums[overall + OVERALL.bench]),
    service: estimate((total) => total.sums[overall + OVERALL.service]),
    averaged: estimate((total) => total.sums[overall + OVERALL.averaged]),
    worthRatio: binomial / (good.standardErrorRatio * good.standardErrorRatio),
    shiftCurve: Array.from(totals[0].shiftSums, (_, place) => estimate((total) => total.shiftSums[place])),
    spreadCurve: Array.from(totals[0].spreadSums, (_, place) => estimate((total) => total.spreadSums[place])),
  };
}

/** Mean over replicates with the t interval of their spread. Never a binomial: the points are not independent. */
function overReplicates(means: Float64Array): Estimate {
  const moments = momentsOf(means);
  const sd = standardDeviation(moments);
  const { low, high } = meanInterval(moments.mean, sd, moments.count);
  return {
    ratio: moments.mean,
    lowRatio: Math.max(0, low),
    highRatio: Math.min(1, high),
    halfWidthRatio: 0.5 * (high - low),
    standardErrorRatio: sd / Math.sqrt(moments.count),
  };
}
