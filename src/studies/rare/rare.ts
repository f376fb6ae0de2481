import { countedStateNames } from "../../engine/kept.ts";
import type { Tally } from "../../engine/tally.ts";
import { OUTCOMES } from "../../model/outcome.ts";
import type { ModelPlan } from "../../model/plan.ts";
import { normalCdf } from "../../numeric/special.ts";
import { seedKey } from "../../random/streams.ts";
import { rareProbability } from "../../reliability/rare-probability.ts";
import type { Estimate, Integration } from "../conditional.ts";
import type { RareResult } from "../result.ts";
import type { Steps } from "../steps.ts";
import type { YieldSetup } from "../yield.ts";
import { type Edge, type RareEvent, type Way, waysOf } from "./ends.ts";
import { createModel, type Model } from "./sight.ts";
import { isBounded, worstCase } from "./worst-case.ts";

/** Events seen this often by plain sampling are left to it. */
const FEWEST_SEEN = 10;

/** Half-widths up to this share of the integrated estimate are good enough. */
const GOOD_ENOUGH = 0.3;

/** Evaluations of the model after which no further event is begun: one hard event takes 150 000 at most, an ordinary one 10 000. */
const MOST_EVALUATIONS = 300_000;

/** Edges nearer than this to the worst case count as reached, mm: ends of ranges are met to a few digits only. */
const NEAR_MM = 1e-6;

/** Events further away than this, in standard deviations, are not sampled: by the first order, rarer than one in 10^9. */
const REMOTE_RATIO = 6;
const REMOTE_SHARE = normalCdf(-REMOTE_RATIO);

/** How far out events are looked for. */
const REACH_RATIO = 7;

/**
 * Looks for what plain sampling saw fewer than ten times and integration over the offset does not know either: by importance
 * sampling around the design points, by subset simulation where that fails its own checks. Where every quantity is bounded and
 * the worst case of the limits does not reach an event, that is said instead; so is where it lies too far out to matter.
 *
 * @param failures whether the windows and requirements known of every unit decide who fails at the bench and in service
 * @returns one entry an event looked at, failures first
 */
export function* findRare(
  setup: YieldSetup,
  tally: Tally,
  integration: Integration | null,
  failures: boolean,
): Steps<RareResult[]> {
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
    yield { done: results.length, total: events.length };
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
  const failure = {
    dimensions: model.dimensions,
    ways: ways.map((way) => model.limit([way])),
    union: model.limit(ways),
    sides: model.sides(ways),
  };
  const found = rareProbability(failure, seedKey(seed), {
    reachRatio: REACH_RATIO,
    remoteRatio: REMOTE_RATIO,
    isSeen,
  });
  // What does not move a unit one way each may have been missed by a search along slopes.
  if (found.method === "remote") return steady ? REMOTE : UNRESOLVED;
  return {
    method: found.method,
    shareRatio: found.probability,
    lowRatio: found.low,
    highRatio: found.high,
    samples: found.samples,
    effectiveCount: found.effectiveCount,
    distanceRatio: found.distanceRatio,
    doubts: found.doubts,
  };
}
