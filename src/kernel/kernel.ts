import type { NormalLaw, UniformLaw } from "../distributions/prepared.ts";
import type { Moments } from "../stats/moments.ts";
import type { BearingCurves, FitConstants, PairColumns, SettledColumns, SettleLimits } from "./columns.ts";

/**
 * The inner loops over columns of samples. There are two kernels: the plain one in TypeScript is the reference that can be
 * read; the fast one does the same IEEE operations in the same order, two samples at a time, in WebAssembly. Both give the
 * same bits.
 *
 * Columns must come from the same kernel's `column`, `bytes` and `words`. Where `count` is odd, one element beyond it may
 * be overwritten.
 */
export interface Kernel {
  readonly name: "plain" | "fast";
  /** New columns, filled with zeros. */
  column(size: number): Float64Array;
  bytes(size: number): Uint8Array;
  words(size: number): Uint16Array;
  /** Gives back what was allocated during `work` when it has ended. */
  scoped<T>(work: () => T): T;
  /** The same where the work goes on over several turns: gives what takes back everything allocated from here on. */
  mark(): () => void;

  /** Uniforms of several streams: four words of state a stream, one column each. */
  fillUniforms(states: Uint32Array, columns: readonly Float64Array[], count: number): void;
  /** Uniforms to values, in place. */
  transform(law: NormalLaw | UniformLaw, column: Float64Array, count: number): void;

  /** out = a + b */
  addColumns(out: Float64Array, a: Float64Array, b: Float64Array, count: number): void;
  /** out += factor·column */
  addScaled(out: Float64Array, column: Float64Array, factor: number, count: number): void;
  /** out += factor·length·(1 + expansion·rise) */
  addMember(
    out: Float64Array,
    length: Float64Array,
    factor: number,
    expansionPerK: number,
    rise: Float64Array,
    count: number,
  ): void;
  /** out += factor·length·(1 + expansion·rise − clampPerN·clamp) */
  addClampedMember(
    out: Float64Array,
    length: Float64Array,
    factor: number,
    expansionPerK: number,
    rise: Float64Array,
    clampPerN: number,
    clamp: Float64Array,
    count: number,
  ): void;
  /**
   * Of one bearing: groove-centre distance (f_i + f_o − 1)·D_w, stiffness Z/(c·√c) with c the sum of both races' compliances
   * K^(−2/3), and, where `limit` is given, the contact deflection at which the first race reaches the pressure limit.
   */
  bearingConstants(
    curves: BearingCurves,
    innerRatio: Float64Array,
    outerRatio: Float64Array,
    distanceMm: Float64Array,
    stiffness: Float64Array,
    limitMm: Float64Array | null,
    count: number,
  ): void;
  /** out = free + outerGrowth·outerRise − innerGrowth·innerRise − ballGrowth·ballRise */
  startClearance(
    out: Float64Array,
    free: Float64Array,
    outerGrowth: number,
    outerRise: Float64Array,
    innerGrowth: number,
    innerRise: Float64Array,
    ballGrowth: number,
    ballRise: Float64Array,
    count: number,
  ): void;
  /** Takes what one seat costs off the clearance; raises its flag where it is loose. */
  takeFit(
    fit: FitConstants,
    ring: Float64Array,
    ringRise: Float64Array,
    mate: Float64Array,
    mateRise: Float64Array,
    smoothing: Float64Array,
    clearance: Float64Array,
    flags: Uint16Array,
    count: number,
  ): void;

  /**
   * What the pair solver is given: takes `slip` off the offset, in place; a copy of that and |offset|; w = (G/2)(2A − G/2) of
   * both bearings.
   */
  preparePairs(
    offset: Float64Array,
    slip: Float64Array,
    clearanceA: Float64Array,
    clearanceB: Float64Array,
    signed: Float64Array,
    pairs: PairColumns,
    count: number,
  ): void;
  /** @param commonMmPerN c, elastic give of the members that carry the preload */
  solvePairs(pairs: PairColumns, count: number, commonMmPerN: number): void;
  /**
   * The way back: out = x_a(F) + x_b(F) + c·F, the offset at which each pair carries a force, mm; the onset for F = 0.
   *
   * @param pairs of which A, w and Z·K are read
   */
  fillPairOffsets(
    forceN: Float64Array,
    pairs: PairColumns,
    commonMmPerN: number,
    out: Float64Array,
    count: number,
  ): void;
  /** Whether any of the forces is above its limit. */
  anyAbove(force: Float64Array, limit: Float64Array, count: number): boolean;
  /** From the solution to signed preload, play left, class and the flag of bind by pressure. */
  settlePairs(
    offset: Float64Array,
    pairs: PairColumns,
    limits: SettleLimits,
    limitA: Float64Array,
    limitB: Float64Array,
    out: SettledColumns,
    count: number,
  ): void;

  moments(values: Float64Array, count: number): Moments;
  /** Counts values over equal bins; all of them must lie in the range of the bins. */
  countEqualBins(values: Float64Array, count: number, low: number, perUnit: number, counts: Float64Array): void;
  /**
   * Counts values over bins of 1/1024 of an octave from the bin with key `lowKey` on; copies those outside to `strays`.
   *
   * @returns how many were copied
   */
  countLogBins(values: Float64Array, count: number, lowKey: number, counts: Float64Array, strays: Float64Array): number;
  /** Copies the values whose byte is `code`, in order; says how many. */
  pick(values: Float64Array, bytes: Uint8Array, code: number, out: Float64Array, count: number): number;
  /** How many of the bytes are `code`. */
  countBytes(bytes: Uint8Array, code: number, count: number): number;
  /** All words or-ed together. */
  orWords(words: Uint16Array, count: number): number;
  /** In how many words a bit is set. */
  countBit(words: Uint16Array, bit: number, count: number): number;
  /** out = 1 where the byte is `code`, else 0. */
  equalBytes(out: Uint8Array, bytes: Uint8Array, code: number, count: number): void;
  /** pattern |= flag where the byte is 1; bytes are 0 or 1. */
  raiseWhere(pattern: Uint8Array, bytes: Uint8Array, flag: number, count: number): void;
}
