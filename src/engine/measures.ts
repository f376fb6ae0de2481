import type { Kernel } from "../kernel/kernel.ts";
import type { StateColumns } from "../model/columns.ts";
import { PLAY } from "../model/outcome.ts";
import { BLOCK_SIZE } from "../random/streams.ts";
import {
  addToLinearHistogram,
  emptyLinearHistogram,
  type LinearHistogram,
  LogHistogram,
  type LogHistogramState,
  logBinKey,
  mergeLinearHistogram,
  quantilesOfLinearHistogram,
} from "../stats/histogram.ts";
import { emptyMoments, type Moments, mergeMoments } from "../stats/moments.ts";

/** The quantities of a state that are summed up, in the order they are kept in. */
export const QUANTITIES = ["preloadN", "playMm", "offsetMm", "clearanceAMm", "clearanceBMm"] as const;
export type Quantity = (typeof QUANTITIES)[number];

/** One entry a state: moments of every quantity. Folded chunk by chunk, in order. */
export type MeasureMoments = readonly Readonly<Record<Quantity, Moments>>[];

/** One entry a state: whole-number counts over bins, added in any order. */
export interface StateHistograms {
  readonly preloadN: LogHistogramState;
  readonly playMm: LogHistogramState;
  readonly offsetMm: LinearHistogram;
  readonly clearanceAMm: LinearHistogram;
  readonly clearanceBMm: LinearHistogram;
}

const BINS = 4096;

/** Octaves of preload, in N, that the kernel counts in place; what lies outside, and zeros, are counted one by one. */
const LOWEST_OCTAVE = -20;
const OCTAVES = 40;

interface LiveHistograms {
  /** Zeros, reversed loads and whatever lies beyond the octaves. */
  readonly preloadN: LogHistogram;
  readonly preloadCounts: Float64Array;
  preloadLeast: number;
  preloadMost: number;
  readonly playMm: LogHistogram;
  readonly offsetMm: LinearHistogram;
  readonly clearanceAMm: LinearHistogram;
  readonly clearanceBMm: LinearHistogram;
}

/** What one thread sums up: histograms over all its chunks, moments chunk by chunk. */
export interface Measures {
  startMoments(): MeasureMoments;
  addBlock(states: readonly StateColumns[], count: number, moments: MeasureMoments): void;
  histograms(): StateHistograms[];
}

/**
 * Sets up the measures.
 *
 * @param pilot the counted states of block 0, whole: the ranges of the equal bins come from it. Every thread evaluates it
 *   for itself, so that they agree without a word between them
 */
export function createMeasures(kernel: Kernel, pilot: readonly StateColumns[]): Measures {
  const linear = ({ low, high }: Range): LinearHistogram => ({
    ...emptyLinearHistogram(low, high, BINS),
    counts: kernel.column(BINS),
  });
  const live: LiveHistograms[] = pilot.map(rangesOf).map((range) => ({
    preloadN: new LogHistogram(),
    preloadCounts: kernel.column(logBinKey(LOWEST_OCTAVE + OCTAVES) - logBinKey(LOWEST_OCTAVE)),
    preloadLeast: Number.POSITIVE_INFINITY,
    preloadMost: Number.NEGATIVE_INFINITY,
    playMm: new LogHistogram(),
    offsetMm: linear(range.offsetMm),
    clearanceAMm: linear(range.clearanceAMm),
    clearanceBMm: linear(range.clearanceBMm),
  }));
  const picked = kernel.column(BLOCK_SIZE);
  return {
    startMoments: () => emptyMeasures(pilot.length),
    addBlock(states, count, moments) {
      for (let s = 0; s < states.length; s += 1) {
        const columns = states[s];
        const histograms = live[s];
        for (const quantity of ["offsetMm", "clearanceAMm", "clearanceBMm"] as const) {
          const ofBlock = kernel.moments(columns[quantity], count);
          mergeMoments(moments[s][quantity], ofBlock);
          addLinear(kernel, histograms[quantity], columns[quantity], count, ofBlock);
        }
        const ofBlock = kernel.moments(columns.preloadN, count);
        mergeMoments(moments[s].preloadN, ofBlock);
        addPreloads(kernel, histograms, columns.preloadN, count, ofBlock, picked);
        const plays = kernel.pick(columns.playMm, columns.outcome, PLAY, picked, count);
        mergeMoments(moments[s].playMm, kernel.moments(picked, plays));
        histograms.playMm.add(picked, plays);
      }
    },
    histograms: () =>
      live.map(({ preloadN, preloadCounts, preloadLeast, preloadMost, playMm, ...linears }) => {
        const preloads = LogHistogram.fromState(preloadN.toState());
        preloads.addCounted(preloadCounts, logBinKey(LOWEST_OCTAVE), preloadLeast, preloadMost);
        const copy = (histogram: LinearHistogram) => ({ ...histogram, counts: new Float64Array(histogram.counts) });
        return {
          preloadN: preloads.toState(),
          playMm: playMm.toState(),
          offsetMm: copy(linears.offsetMm),
          clearanceAMm: copy(linears.clearanceAMm),
          clearanceBMm: copy(linears.clearanceBMm),
        };
      }),
  };
}

/** Counts a block in place where all of it lies in the range, else value by value. */
function addLinear(
  kernel: Kernel,
  histogram: LinearHistogram,
  values: Float64Array,
  count: number,
  { min, max, mean }: Moments,
): void {
  const { low, high, counts } = histogram;
  if (!(min >= low && max <= high && Number.isFinite(mean))) {
    addToLinearHistogram(histogram, values, count);
    return;
  }
  kernel.countEqualBins(values, count, low, counts.length / (high - low), counts);
  histogram.min = Math.min(histogram.min, min);
  histogram.max = Math.max(histogram.max, max);
}

function addPreloads(
  kernel: Kernel,
  histograms: LiveHistograms,
  values: Float64Array,
  count: number,
  { min, max, mean }: Moments,
  strays: Float64Array,
): void {
  if (!Number.isFinite(mean) || !Number.isFinite(min) || !Number.isFinite(max)) {
    histograms.preloadN.add(values, count);
    return;
  }
  const left = kernel.countLogBins(values, count, logBinKey(LOWEST_OCTAVE), histograms.preloadCounts, strays);
  histograms.preloadN.add(strays, left);
  histograms.preloadLeast = Math.min(histograms.preloadLeast, min);
  histograms.preloadMost = Math.max(histograms.preloadMost, max);
}

function emptyMeasures(states: number): MeasureMoments {
  return Array.from({ length: states }, () => ({
    preloadN: emptyMoments(),
    playMm: emptyMoments(),
    offsetMm: emptyMoments(),
    clearanceAMm: emptyMoments(),
    clearanceBMm: emptyMoments(),
  }));
}

/** Adds the moments of a later chunk to `into`. */
export function mergeMeasures(into: MeasureMoments, from: MeasureMoments): void {
  for (let s = 0; s < into.length; s += 1) {
    for (const quantity of QUANTITIES) mergeMoments(into[s][quantity], from[s][quantity]);
  }
}

/** Adds the histograms of one thread to those of another. */
export function mergeHistograms(parts: readonly (readonly StateHistograms[])[]): StateHistograms[] {
  if (parts.length === 1) return [...parts[0]];
  return parts[0].map((_, s) => {
    const log = (pick: (state: StateHistograms) => LogHistogramState) => {
      const sum = LogHistogram.fromState(pick(parts[0][s]));
      for (const part of parts.slice(1)) sum.merge(LogHistogram.fromState(pick(part[s])));
      return sum.toState();
    };
    const linear = (pick: (state: StateHistograms) => LinearHistogram) => {
      const first = pick(parts[0][s]);
      const sum = { ...first, counts: first.counts.slice() };
      for (const part of parts.slice(1)) mergeLinearHistogram(sum, pick(part[s]));
      return sum;
    };
    return {
      preloadN: log((state) => state.preloadN),
      playMm: log((state) => state.playMm),
      offsetMm: linear((state) => state.offsetMm),
      clearanceAMm: linear((state) => state.clearanceAMm),
      clearanceBMm: linear((state) => state.clearanceBMm),
    };
  });
}

/** The quantile function of one quantity of a state. */
export function quantileFunction(histograms: StateHistograms, quantity: Quantity): (p: number) => number {
  if (quantity === "preloadN" || quantity === "playMm") {
    const histogram = LogHistogram.fromState(histograms[quantity]);
    return (p) => histogram.quantile(p);
  }
  return quantilesOfLinearHistogram(histograms[quantity]);
}

interface Range {
  readonly low: number;
  readonly high: number;
}

function rangesOf(columns: StateColumns): Readonly<Record<"offsetMm" | "clearanceAMm" | "clearanceBMm", Range>> {
  return {
    offsetMm: widened(columns.offsetMm),
    clearanceAMm: widened(columns.clearanceAMm),
    clearanceBMm: widened(columns.clearanceBMm),
  };
}

/** The range of a column with as much again on both sides, and never without width. */
function widened(column: Float64Array): Range {
  let low = column[0];
  let high = column[0];
  for (const value of column) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  const margin = Math.max(0.5 * (high - low), 1e-6);
  return { low: low - margin, high: high + margin };
}
