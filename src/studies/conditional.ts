import { conditionalCount, OVERALL } from "../engine/conditional.ts";
import { LINES_PER_BLOCK } from "../engine/lines.ts";
import { runInOrder } from "../engine/run.ts";
import type { Executor, Task, WorkerSetup } from "../engine/tasks.ts";
import { OUTCOMES, type Outcome } from "../model/outcome.ts";
import type { ModelPlan } from "../model/plan.ts";
import { BLOCK_SIZE } from "../random/streams.ts";
import { CROSSING_BINS } from "../reliability/line-crossings.ts";
import { meanInterval } from "../stats/intervals.ts";
import { momentsOf, standardDeviation } from "../stats/moments.ts";
import type { IntegrationDirection } from "./result.ts";

/** Independent scrambles of the point set: their spread is the error, whatever the points do. */
export const REPLICATES = 16;

/** Points of a replicate are powers of two, from 2^10 on. */
export const FIRST_EXPONENT = 10;

/** Where a precision is asked for, fewer powers of two are tried first. */
const FEWER = 3;
const LAST_EXPONENT = 22;

/** Lines of a replicate: each takes twenty to eighty evaluations of the model. */
export const FIRST_LINE_EXPONENT = 7;
const LAST_LINE_EXPONENT = 18;

/** An estimate with its 95 % interval over the replicates. */
export interface Estimate {
  readonly ratio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
  readonly halfWidthRatio: number;
  readonly standardErrorRatio: number;
}

/** Everything that integrating gives. */
export interface Integration {
  /** What the shares were integrated along; the curves are always integrated along the offset. */
  readonly along: IntegrationDirection;
  readonly replicates: number;
  /** Points, or lines. */
  readonly pointsPerReplicate: number;
  /** Per counted state, per outcome in the order of `OUTCOMES`. */
  readonly states: readonly (readonly Estimate[])[];
  readonly good: Estimate;
  readonly bench: Estimate;
  readonly service: Estimate;
  readonly averaged: Estimate;
  /** How many plain samples one point is worth for the yield: binomial variance over that of the estimate, per point. */
  readonly worthRatio: number;
  /** Evaluations of the model that a point took. */
  readonly evaluationsPerPoint: number;
  /** Share of the edges on lines that are crossed more than once. */
  readonly manyCrossingsRatio: number;
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
  return tasksOf("conditional", BLOCK_SIZE, from, to);
}

/** Lines `from` to `to` of every replicate. */
export function lineTasks(from: number, to: number): Task[] {
  return tasksOf("lines", LINES_PER_BLOCK, from, to);
}

function tasksOf(kind: "conditional" | "lines", blockSize: number, from: number, to: number): Task[] {
  const tasks: Task[] = [];
  for (let replicate = 0; replicate < REPLICATES; replicate += 1) {
    for (let first = from; first < to; first += blockSize) {
      tasks.push({ kind, replicate, first, count: Math.min(blockSize, to - first) });
    }
  }
  return tasks;
}

/**
 * Integrates the units on scrambled Sobol' points along the direction that the setup chose, doubling their number until a target
 * is met: from few on where it is a precision, so that it is not waited for longer than it takes. It is met where the
 * half-width, and that of half the points narrowed by √2, are as small. The curves over the nominal and the tolerances come from
 * the offset whatever the shares come from.
 *
 * @param target null: the first points of each replicate are enough
 */
export async function integrate(
  executor: Executor,
  setup: Pick<WorkerSetup, "offset" | "lines">,
  plan: ModelPlan,
  target: Target | null,
  pace: Pace,
): Promise<Integration> {
  // The half-width is an estimate too, and where it falls short by chance is where one would stop: the look before has a say.
  let before = Number.POSITIVE_INFINITY;
  const goOn = (exponent: number, last: number, found: Integration) => {
    if (exponent === last || target === null || pace.isOver()) return false;
    const { halfWidthRatio } = estimateOf(found, target);
    const confirmed = Math.max(halfWidthRatio, before * Math.SQRT1_2);
    before = halfWidthRatio;
    return confirmed > target.halfWidthRatio;
  };
  const fewer = target !== null && target.halfWidthRatio > 0 ? FEWER : 0;
  const overOffset = async (first: number): Promise<Integration> => {
    const totals = createTotals(setup, plan);
    for (let exponent = first, done = 0; ; exponent += 1) {
      const points = 1 << exponent;
      await runInOrder(executor, conditionalTasks(done, points), (result) => {
        if (result.kind !== "conditional") return;
        const total = totals[result.replicate];
        add(total.sums, result.sums);
        add(total.shiftSums, result.shiftSums);
        add(total.spreadSums, result.spreadSums);
        total.evaluations += result.count;
      });
      done = points;
      pace.onProgress(done * REPLICATES);
      const found = summarise("offset", totals, plan, points);
      if (setup.lines !== null || !goOn(exponent, LAST_EXPONENT, found)) return found;
    }
  };
  const alongLines = async (): Promise<Integration> => {
    const totals = createTotals({ offset: null }, plan);
    for (let exponent = FIRST_LINE_EXPONENT - fewer, done = 0; ; exponent += 1) {
      const points = 1 << exponent;
      await runInOrder(executor, lineTasks(done, points), (result) => {
        if (result.kind !== "lines") return;
        const total = totals[result.replicate];
        add(total.sums, result.sums);
        add(total.byCrossings, result.byCrossings);
        total.evaluations += result.evaluations;
      });
      done = points;
      pace.onProgress(done * REPLICATES);
      const found = summarise("slope", totals, plan, points);
      if (!goOn(exponent, LAST_LINE_EXPONENT, found)) return found;
    }
  };
  if (setup.lines === null) return overOffset(FIRST_EXPONENT - fewer);
  const curves = setup.offset === null ? null : await overOffset(FIRST_EXPONENT);
  const shares = await alongLines();
  return { ...shares, shiftCurve: curves?.shiftCurve ?? [], spreadCurve: curves?.spreadCurve ?? [] };
}

/** Sums of one replicate. */
interface Total {
  readonly sums: Float64Array;
  readonly shiftSums: Float64Array;
  readonly spreadSums: Float64Array;
  readonly byCrossings: Float64Array;
  evaluations: number;
}

function createTotals({ offset }: Pick<WorkerSetup, "offset">, plan: ModelPlan): Total[] {
  return Array.from({ length: REPLICATES }, () => ({
    sums: new Float64Array(conditionalCount(plan)),
    shiftSums: new Float64Array(offset?.shiftsMm.length ?? 0),
    spreadSums: new Float64Array(offset?.law.spreads.length ?? 0),
    byCrossings: new Float64Array(CROSSING_BINS),
    evaluations: 0,
  }));
}

function add(into: Float64Array, from: ArrayLike<number>): void {
  for (let index = 0; index < into.length; index += 1) into[index] += from[index];
}

/** The estimate that a target speaks of. */
function estimateOf(integration: Integration, target: Target): Estimate {
  if (target.of === null) return integration.good;
  if (target.of === "bench" || target.of === "service") return integration[target.of];
  return integration.states[target.of.state][OUTCOMES.indexOf(target.of.outcome)];
}

function summarise(
  along: IntegrationDirection,
  totals: readonly Total[],
  plan: ModelPlan,
  points: number,
): Integration {
  const estimate = (pick: (total: Total) => number) =>
    estimateOver(Float64Array.from(totals, (total) => pick(total) / points));
  const overall = conditionalCount(plan) - Object.keys(OVERALL).length;
  const states: Estimate[][] = [];
  for (let s = 0; s * OUTCOMES.length < overall; s += 1) {
    states.push(OUTCOMES.map((_, place) => estimate((total) => total.sums[s * OUTCOMES.length + place])));
  }
  const good = estimate((total) => total.sums[overall + OVERALL.good]);
  const binomial = (good.ratio * (1 - good.ratio)) / (points * totals.length);
  const evaluations = totals.reduce((sum, total) => sum + total.evaluations, 0);
  const byCrossings = new Float64Array(CROSSING_BINS);
  for (const total of totals) add(byCrossings, total.byCrossings);
  const lines = byCrossings.reduce((sum, count) => sum + count, 0);
  return {
    along,
    replicates: totals.length,
    pointsPerReplicate: points,
    states,
    good,
    bench: estimate((total) => total.sums[overall + OVERALL.bench]),
    service: estimate((total) => total.sums[overall + OVERALL.service]),
    averaged: estimate((total) => total.sums[overall + OVERALL.averaged]),
    worthRatio: binomial / (good.standardErrorRatio * good.standardErrorRatio),
    evaluationsPerPoint: evaluations / (points * totals.length),
    manyCrossingsRatio: lines === 0 ? 0 : (lines - byCrossings[0] - byCrossings[1]) / lines,
    shiftCurve: Array.from(totals[0].shiftSums, (_, place) => estimate((total) => total.shiftSums[place])),
    spreadCurve: Array.from(totals[0].spreadSums, (_, place) => estimate((total) => total.spreadSums[place])),
  };
}

/** Mean over replicates with the t interval of their spread. Never a binomial: the points are not independent. */
export function estimateOver(means: Float64Array): Estimate {
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
