/** Rare probabilities of a model: points to aim at, importance sampling around them, more points where it doubts itself, subset simulation last. */
import type { SeedKey } from "../random/streams.ts";
import { findAimPoint } from "./aim-point.ts";
import type { DesignPoint } from "./design-point.ts";
import { aimAtFailures } from "./failure-aims.ts";
import { type ImportanceDoubt, type ImportanceResult, importanceSampling } from "./importance.ts";
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
const SUBSET = { samplesPerLevel: 200, mostLevels: 9 };
/** Failures to find more points from: one run, whose own replicate is apart from those of the estimate. */
const SCOUT = { samplesPerLevel: 1000, mostLevels: 9, replicate: 1000 };
/** Of both errors joined, that an estimate may be off the scout's. */
const MOST_APART = 4;

/**
 * P(failure) for independent standard normal scores.
 *
 * The first importance sample is aimed at one point a way. Where it fails its own checks, a subset simulation comes upon failures,
 * and the heaviest of them, then the heaviest of a second importance sample, lead to the points that were missed (kinks give
 * several to one way); the estimate is a sample of its own around all of them, and must agree with the subset simulation. Where
 * that cannot be trusted either, independent subset simulations give mean and interval.
 */
export function rareProbability(failure: RareFailure, key: SeedKey, options: RareOptions): RareProbability {
  const { dimensions, ways, union, sides } = failure;
  const { reachRatio, remoteRatio, isSeen } = options;
  const points: DesignPoint[] = [];
  ways.forEach((way, limit) => {
    const { scores, indexRatio } = findAimPoint(way, dimensions, reachRatio);
    if (scores !== null) points.push({ scores, indexRatio, limit });
  });
  const nearest = nearestOf(points);
  const open = { ...NOTHING, distanceRatio: points.length > 0 ? nearest : null };
  if (nearest > remoteRatio && !isSeen) return { ...open, method: "remote", distanceRatio: null };
  const sample = (aims: readonly DesignPoint[], round: number) => {
    const first = importanceSampling([sides], dimensions, key, { samples: SAMPLES, points: aims, round });
    return isWorthMore(first)
      ? importanceSampling([sides], dimensions, key, { samples: MORE * SAMPLES, points: aims, round })
      : first;
  };
  const importance = sample(points, 0);
  if (importance.isTrustworthy) return byImportance(importance, importance.evaluations);
  let samples = importance.evaluations;
  const { doubts } = importance;
  if (nearest > FURTHEST_SUBSET_RATIO && !isSeen) return { ...open, samples, doubts };
  const scout = subsetSimulation(union, dimensions, key, SCOUT);
  samples += scout.evaluations;
  const known = aimAtFailures(union, scout.failing, points, reachRatio);
  if (known.length > 0) {
    const pilot = importanceSampling([sides], dimensions, key, { samples: SAMPLES, points: known, round: 1 });
    const second = sample(aimAtFailures(union, pilot.heaviest, known, reachRatio), 2);
    samples += pilot.evaluations + second.evaluations;
    if (second.isTrustworthy && agrees(second, scout)) return byImportance(second, samples);
  }
  const subset = repeatedSubsetSimulation(union, dimensions, key, SUBSET);
  samples += subset.evaluations;
  const { mean, interval, replicates } = subset.estimate;
  if (!subset.hasReachedLimit || !(mean > 0)) return { ...open, samples, doubts };
  return {
    ...open,
    method: "subset",
    probability: mean,
    low: Math.max(0, interval.low),
    high: interval.high,
    samples,
    effectiveCount: replicates,
    doubts,
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

/** Whether two estimates of unlike kinds are one within their errors. */
function agrees(importance: ImportanceResult, { probability, variationRatio, hasReachedLimit }: SubsetResult): boolean {
  // A run that came out low thinks too well of its error as well.
  const scoutError = Math.max(probability, importance.probability) * variationRatio;
  const error = Math.sqrt(importance.standardError ** 2 + scoutError * scoutError);
  return hasReachedLimit && Math.abs(importance.probability - probability) <= MOST_APART * error;
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
