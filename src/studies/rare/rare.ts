import { countedStateNames } from "../../engine/kept.ts";
import type { Tally } from "../../engine/tally.ts";
import { OUTCOMES } from "../../model/outcome.ts";
import type { ModelPlan } from "../../model/plan.ts";
import { normalCdf } from "../../numeric/special.ts";
import { seedKey } from "../../random/streams.ts";
import { findAimPoint } from "../../reliability/aim-point.ts";
import type { DesignPoint } from "../../reliability/design-point.ts";
import { importanceSampling } from "../../reliability/importance.ts";
import { repeatedSubsetSimulation } from "../../reliability/subset-simulation.ts";
import type { Estimate, Integration } from "../conditional.ts";
import type { RareResult } from "../result.ts";
import type { YieldSetup } from "../yield.ts";
import { type Edge, type RareEvent, type Way, waysOf } from "./ends.ts";
import { createModel, type Model } from "./sight.ts";
import { isBounded, worstCase } from "./worst-case.ts";

/** Events seen this often by plain sampling are left to it. */
const FEWEST_SEEN = 10;

/** Half-widths up to this share of the integrated estimate are good enough. */
const GOOD_ENOUGH = 0.3;

/** Evaluations of the model after which no further event is begun: a few tenths of a second. */
const MOST_EVALUATIONS = 60_000;

/** Edges nearer than this to the worst case count as reached, mm: ends of ranges are met to a few digits only. */
const NEAR_MM = 1e-6;

/** Events further away than this, in standard deviations, are not sampled: by the first order, rarer than one in 10^9. */
const REMOTE_RATIO = 6;
const REMOTE_SHARE = normalCdf(-REMOTE_RATIO);

/** How far out events are looked for. */
const REACH_RATIO = 7;

const IMPORTANCE_SAMPLES = 8_000;
/** With this many effective failures, so many times the samples are worth trying. */
const FEWEST_EFFECTIVE = 50;
const MORE = 5;
/** Beyond this distance the levels of subset simulation would run out. */
const FURTHEST_SUBSET_RATIO = 5.6;
const SUBSET = { samplesPerLevel: 200, mostLevels: 9 };

/**
 * Looks for what plain sampling saw fewer than ten times and integration over the offset does not know either: by importance
 * sampling around the design points, by subset simulation where that fails its own checks. Where every quantity is bounded and
 * the worst case of the limits does not reach an event, that is said instead; so is where it lies too far out to matter.
 *
 * @param failures whether the windows and requirements known of every unit decide who fails at the bench and in service
 * @returns one entry an event looked at, failures first
 */
export function findRare(
  setup: YieldSetup,
  tally: Tally,
  integration: Integration | null,
  failures: boolean,
): RareResult[] {
  const { scenario, plan } = setup;
  const events = rareEvents(plan, tally, integration, failures);
  if (events.length === 0) return [];
  const model = createModel(setup);
  if (model.dimensions === 0) return [];
  const names = countedStateNames(plan);
  const steady = isSteady(plan);
  const excludes = steady && isBounded(scenario) ? createExcluder(model) : () => false;
  const results: RareResult[] = [];
  let spent = 0;
  for (const { event, count, isSeen } of events) {
    if (spent > MOST_EVALUATIONS) break;
    const ways = waysOf(event, plan, model.states);
    const place = {
      what: event.kind,
      state: event.kind === "outcome" ? names[event.state] : null,
      outcome: event.kind === "outcome" ? event.outcome : null,
    };
    const open = count > 0 ? ways : ways.filter((way) => !excludes(way));
    const found = open.length === 0 ? EXCLUDED : estimate(model, open, scenario.seed, steady, isSeen);
    spent += found.samples;
    results.push({ ...place, ...found });
  }
  return results;
}

/**
 * Whether each quantity moves a unit one way: then the ends of the ranges are the worst cases, and slopes show the way there. Shims
 * in steps, springs that stick, settings that follow a unit's own play and heat that follows the preload do not.
 */
function isSteady(plan: ModelPlan): boolean {
  const isPosition = plan.spring === null && plan.adjuster === null && plan.shim === null;
  return isPosition && plan.states.every((state) => state.network === null);
}

interface Candidate {
  readonly event: RareEvent;
  /** Units that plain sampling saw. */
  readonly count: number;
  /** Whether anything says that it is not out of all reach. */
  readonly isSeen: boolean;
}

function rareEvents(plan: ModelPlan, tally: Tally, integration: Integration | null, failures: boolean): Candidate[] {
  const isRare = (count: number, estimate: Estimate | undefined) =>
    count < FEWEST_SEEN &&
    !(estimate !== undefined && estimate.ratio > 0 && estimate.halfWidthRatio <= GOOD_ENOUGH * estimate.ratio);
  const candidates: Candidate[] = [];
  const add = (event: RareEvent, count: number, estimate: Estimate | undefined) => {
    if (!isRare(count, estimate)) return;
    candidates.push({ event, count, isSeen: count > 0 || (estimate?.ratio ?? 0) > REMOTE_SHARE });
  };
  if (failures) add({ kind: "bench" }, tally.failsAtBench, integration?.bench);
  const states = countedStateNames(plan).length;
  if (failures && states > 1) add({ kind: "service" }, tally.failsInService, integration?.service);
  // What harms most comes first, in case that time runs out.
  for (const outcome of ["bind", "reversed", "play", "heavy", "light", "target"] as const) {
    const place = OUTCOMES.indexOf(outcome);
    for (let state = 0; state < states; state += 1) {
      add({ kind: "outcome", state, outcome }, tally.outcomes[state][place], integration?.states[state][place]);
    }
  }
  return candidates;
}

type Found = Omit<RareResult, "what" | "state" | "outcome">;

const EXCLUDED: Found = {
  method: "excluded",
  shareRatio: 0,
  lowRatio: 0,
  highRatio: 0,
  samples: 0,
  effectiveCount: 0,
  distanceRatio: null,
  doubts: [],
};

const REMOTE: Found = { ...EXCLUDED, method: "remote", highRatio: REMOTE_SHARE };

const UNRESOLVED: Found = {
  ...EXCLUDED,
  method: "unresolved",
  shareRatio: Number.NaN,
  lowRatio: Number.NaN,
  highRatio: Number.NaN,
};

/** Tells whether the worst case of the limits stays away from an edge of a way. Edges are looked at once. */
function createExcluder(model: Model): (way: Way) => boolean {
  const excluded = new Map<string, boolean>();
  const excludes = (edge: Edge): boolean => {
    const known = excluded.get(edge.name);
    if (known !== undefined) return known;
    const found = worstCase(model.edge(edge), model.dimensions).value > NEAR_MM;
    excluded.set(edge.name, found);
    return found;
  };
  return ({ edges }) => edges.some(excludes);
}

function estimate(model: Model, ways: readonly Way[], seed: string, steady: boolean, isSeen: boolean): Found {
  const { dimensions } = model;
  const key = seedKey(seed);
  const points: DesignPoint[] = [];
  ways.forEach((way, limit) => {
    const { scores, indexRatio } = findAimPoint(model.limit([way]), dimensions, REACH_RATIO);
    if (scores !== null) points.push({ scores, indexRatio, limit });
  });
  const nearest = points.reduce((least, { indexRatio }) => Math.min(least, indexRatio), Number.POSITIVE_INFINITY);
  if (nearest > REMOTE_RATIO && !isSeen) return steady ? REMOTE : UNRESOLVED;
  const union = model.limit(ways);
  const sides = model.sides(ways);
  const sample = (samples: number) => importanceSampling([sides], dimensions, key, { samples, points });
  let importance = sample(IMPORTANCE_SAMPLES);
  const lacksOnlySamples = importance.doubts.every((doubt) => doubt === "few-effective-failures");
  if (!importance.isTrustworthy && lacksOnlySamples && importance.effectiveFailures >= FEWEST_EFFECTIVE) {
    importance = sample(MORE * IMPORTANCE_SAMPLES);
  }
  const distanceRatio = points.length > 0 ? nearest : null;
  if (importance.isTrustworthy) {
    return {
      method: "importance",
      shareRatio: importance.probability,
      lowRatio: importance.interval.low,
      highRatio: importance.interval.high,
      samples: importance.evaluations,
      effectiveCount: importance.effectiveFailures,
      distanceRatio,
      doubts: [],
    };
  }
  if (nearest > FURTHEST_SUBSET_RATIO && !isSeen) {
    return { ...UNRESOLVED, samples: importance.evaluations, distanceRatio, doubts: importance.doubts };
  }
  const subset = repeatedSubsetSimulation(union, dimensions, key, SUBSET);
  const { mean, interval, replicates } = subset.estimate;
  const samples = importance.evaluations + subset.evaluations;
  if (!subset.hasReachedLimit || !(mean > 0)) {
    return { ...UNRESOLVED, samples, distanceRatio, doubts: importance.doubts };
  }
  return {
    method: "subset",
    shareRatio: mean,
    lowRatio: Math.max(0, interval.low),
    highRatio: interval.high,
    samples,
    effectiveCount: replicates,
    distanceRatio,
    doubts: importance.doubts,
  };
}
