/** Rare probabilities of a model: points to aim at, importance sampling around them, more points where it doubts itself, subset simulation last. */
import type { SeedKey } from "../random/streams.ts";
import { findAimPoint } from "./aim-point.ts";
import type { DesignPoint } from "./design-point.ts";
import { aimAt, aimAtFailures, middleOfFailures } from "./failure-aims.ts";
import { type ImportanceDoubt, type ImportanceResult, importanceSampling, mixtureWeights } from "./importance.ts";
import type { LimitFunction } from "./limit-function.ts";
import { repeatedSubsetSimulation, type SubsetResult, subsetSimulation } from "./subset-simulation.ts";

/** A failure as it is asked for. */
export interface RareFailure {
  readonly dimensions: number;
  /** One function a known way into it, below 0 where it fails that way; values say how near it is. */
  readonly ways: readonly LimitFunction[];
  /** The same of all ways together. */
  readonly union: LimitFunction;
  /** Below 0 exactly where it fails; how far is not asked. */
  readonly sides: LimitFunction;
}

export interface RareOptions {
  /** How far out points are looked for, standard deviations. */
  readonly reachRatio: number;
  /** Nothing is sampled of a failure whose nearest point lies further out and that nothing else speaks for. */
  readonly remoteRatio: number;
  /** Whether anything says that it is not out of all reach. */
  readonly isSeen: boolean;
}

export interface RareProbability {
  /** `remote`: no point within reach, nothing sampled; `unresolved`: nothing that can be trusted. */
  readonly method: "importance" | "subset" | "remote" | "unresolved";
  readonly probability: number;
  readonly low: number;
  readonly high: number;
  /** Samples, those of searches left out. */
  readonly samples: number;
  readonly effectiveCount: number;
  /** Distance of the nearest point, null where none was found. */
  readonly distanceRatio: number | null;
  readonly doubts: readonly ImportanceDoubt[];
}

const SAMPLES = 8_000;
/** With this many effective failures, so many times the samples are worth trying. */
const FEWEST_EFFECTIVE = 50;
const MORE = 5;
/** Beyond this distance the levels of subset simulation would run out. */
const FURTHEST_SUBSET_RATIO = 5.6;
const SUBSET = { samplesPerLevel: 500, mostLevels: 9 };
/** Failures to find more points from: one run, whose own replicate is apart from those of the estimate. */
const SCOUT = { samplesPerLevel: 500, mostLevels: 12, replicate: 1000 };
/** Share of the effective failures that a sample thinks to have which the scout's failures must grant it. */
const LEAST_BORNE_OUT = 1 / 1.6;
/** Of both errors joined, that an estimate may be off the scout's. */
const MOST_APART = 4;

/**
 * P(failure) for independent standard normal scores.
 *
 * The first importance sample is aimed at one point a way. Where it fails its own checks, a subset simulation comes upon failures,
 * and the heaviest of them, then the heaviest of a second importance sample, lead to the points that were missed (kinks give
 * several to one way); the estimate is a sample of its own around all of them. Where that fails as well, failures of many
 * independent subset simulations give the middle to sample around, and those simulations their own mean and interval at last.
 * An importance sample that was aimed by a subset simulation must agree with it.
 */
export function rareProbability(failure: RareFailure, key: SeedKey, options: RareOptions): RareProbability {
  const { dimensions, ways, union, sides } = failure;
  const { reachRatio, remoteRatio, isSeen } = options;
  const points = ways.flatMap((way, limit): DesignPoint[] => {
    const { scores, indexRatio } = findAimPoint(way, dimensions, reachRatio);
    return scores === null ? [] : [{ scores, indexRatio, limit }];
  });
  const nearest = nearestOf(points);
  if (nearest > remoteRatio && !isSeen) return { ...NOTHING, method: "remote" };
  let samples = 0;
  let trusted: ImportanceResult | null = null;
  let doubts: readonly ImportanceDoubt[] = ["no-design-point"];
  const sample = (aims: readonly DesignPoint[], count: number, round: number) => {
    const result = importanceSampling([sides], dimensions, key, { samples: count, points: aims, round });
    samples += result.evaluations;
    return result;
  };
  if (points.length > 0) {
    let first = sample(points, SAMPLES, 0);
    if (isWorthMore(first)) first = sample(points, MORE * SAMPLES, 0);
    trusted = first.isTrustworthy ? first : null;
    doubts = first.doubts;
  }
  const open = { ...NOTHING, distanceRatio: points.length > 0 ? nearest : null, doubts };
  if (trusted === null && nearest > FURTHEST_SUBSET_RATIO && !isSeen) return { ...open, samples };

  const scout = subsetSimulation(union, dimensions, key, SCOUT);
  samples += scout.evaluations;
  if (trusted !== null && isConfirmed(trusted, scout)) return byImportance(trusted, samples);
  const known = aimAtFailures(union, scout.failing, points, reachRatio);
  if (effectiveRatio(scout, known) * MORE * SAMPLES > FEWEST_EFFECTIVE) {
    const pilot = sample(known, SAMPLES, 1);
    const aims = aimAtFailures(union, pilot.heaviest, known, reachRatio);
    let second = sample(aims, SAMPLES, 2);
    if (isWorthMore(second)) second = sample(aims, MORE * SAMPLES, 2);
    if (second.isTrustworthy && isConfirmed(second, scout)) return byImportance(second, samples);
  }

  const { estimate, runs, evaluations, hasReachedLimit } = repeatedSubsetSimulation(union, dimensions, key, SUBSET);
  samples += evaluations;
  const middle = middleOfFailures(runs.map(({ failing }) => failing));
  if (middle !== null) {
    let last = sample([...points, middle], MORE * SAMPLES, 3);
    if (!last.isTrustworthy && last.effectiveFailures >= FEWEST_EFFECTIVE) {
      // Its failures, many more and independent, say better where their middle is: the step of the cross-entropy method.
      last = sample([...points, aimAt(last.middle)], MORE * SAMPLES, 4);
    }
    if (last.isTrustworthy && agrees(last, estimate.mean, estimate.standardError)) {
      return { ...byImportance(last, samples), distanceRatio: open.distanceRatio };
    }
  }
  if (!hasReachedLimit || !(estimate.mean > 0)) return { ...open, samples };
  return {
    ...open,
    method: "subset",
    probability: estimate.mean,
    low: Math.max(0, estimate.interval.low),
    high: estimate.interval.high,
    samples,
    effectiveCount: estimate.replicates,
  };
}

const NOTHING: RareProbability = {
  method: "unresolved",
  probability: Number.NaN,
  low: Number.NaN,
  high: Number.NaN,
  samples: 0,
  effectiveCount: 0,
  distanceRatio: null,
  doubts: [],
};

function nearestOf(points: readonly DesignPoint[]): number {
  return points.reduce((least, { indexRatio }) => Math.min(least, indexRatio), Number.POSITIVE_INFINITY);
}

function isWorthMore({ isTrustworthy, doubts, effectiveFailures }: ImportanceResult): boolean {
  const lacksOnlySamples = doubts.every((doubt) => doubt === "few-effective-failures");
  return !isTrustworthy && lacksOnlySamples && effectiveFailures >= FEWEST_EFFECTIVE;
}

/** Share of the samples around these points that would count, going by the failures of a subset simulation. */
function effectiveRatio({ failing, probability }: SubsetResult, points: readonly DesignPoint[]): number {
  const weights = mixtureWeights(failing, points);
  return weights.length === 0 ? 0 : (probability * weights.length) / weights.reduce((sum, weight) => sum + weight, 0);
}

/**
 * Whether a subset simulation bears an importance sample out: in its share, and in that its failures are no heavier. Where the sample leads to only some of the
 * ways into the failure, it knows nothing of the others, is all the surer of its low share, and only failures found without it tell.
 */
function isConfirmed(importance: ImportanceResult, scout: SubsetResult): boolean {
  if (!agrees(importance, scout.probability, scout.probability * scout.variationRatio)) return false;
  const { effectiveFailures, probability, designPoints, evaluations } = importance;
  const seenRatio = effectiveFailures / (evaluations * probability);
  return effectiveRatio(scout, designPoints) / scout.probability >= LEAST_BORNE_OUT * seenRatio;
}

/** Whether an importance sample and subset simulations are one within their errors. */
function agrees(importance: ImportanceResult, mean: number, standardError: number): boolean {
  // Simulations that came out low think too well of their error as well.
  const likely = standardError * Math.max(1, importance.probability / mean);
  const error = Math.sqrt(importance.standardError * importance.standardError + likely * likely);
  return mean > 0 && Math.abs(importance.probability - mean) <= MOST_APART * error;
}

function byImportance(result: ImportanceResult, samples: number): RareProbability {
  return {
    method: "importance",
    probability: result.probability,
    low: result.interval.low,
    high: result.interval.high,
    samples,
    effectiveCount: result.effectiveFailures,
    distanceRatio: nearestOf(result.designPoints),
    doubts: [],
  };
}
