import type { Kernel } from "../kernel/kernel.ts";
import type { StateColumns } from "../model/columns.ts";
import { FLAGS, OUTCOMES } from "../model/outcome.ts";
import type { ModelPlan } from "../model/plan.ts";

/**
 * Whole-number counts of a run. Sums of them are exact, so that any order of adding gives the same result.
 */
export interface Tally {
  /** Units counted. */
  samples: number;
  /** One row a state, one column an outcome. */
  readonly outcomes: readonly Float64Array[];
  /** One row a state, one column a flag. */
  readonly flags: readonly Float64Array[];
  goodInEveryState: number;
  failsAtBench: number;
  failsInService: number;
  /** One row a state, one column a requirement of the scenario: units that meet it. */
  readonly met: readonly Float64Array[];
  /** First failing state of units that were good at the bench (rows) and the outcome there (columns); target: a requirement. */
  readonly serviceCauses: readonly Float64Array[];
  /** How often each set of good states occurred, by bit pattern: bit s is set where state s is good. */
  readonly patterns: Float64Array;
}

/** States of a plan as they are counted: those of the scenario and, where rings can walk, the bench after service. */
export function countedStates(plan: ModelPlan): number {
  return plan.states.length + (plan.canWalk ? 1 : 0);
}

/** Bits that a state has for requirements. */
const MOST_REQUIREMENTS = 16;

/** Counts of nothing yet, for as many states as are counted. */
export function createTally(stateCount: number): Tally {
  const rows = (columns: number) => Array.from({ length: stateCount }, () => new Float64Array(columns));
  return {
    samples: 0,
    outcomes: rows(OUTCOMES.length),
    flags: rows(FLAGS.length),
    met: rows(MOST_REQUIREMENTS),
    goodInEveryState: 0,
    failsAtBench: 0,
    failsInService: 0,
    serviceCauses: rows(OUTCOMES.length),
    patterns: new Float64Array(1 << stateCount),
  };
}

/** The columns of every counted state, in order: results of a workspace, or windows. */
export function countedColumns<T>({ states, afterService }: PerState<T>): readonly T[] {
  return afterService === null ? states : [...states, afterService];
}

interface PerState<T> {
  readonly states: readonly T[];
  readonly afterService: T | null;
}

/** Counts a block. The bench is state `benchIndex`. */
export function tallyBlock(
  kernel: Kernel,
  tally: Tally,
  states: readonly StateColumns[],
  benchIndex: number,
  count: number,
): void {
  tally.samples += count;
  for (let s = 0; s < states.length; s += 1) {
    const { outcome, flags, met } = states[s];
    const outcomes = tally.outcomes[s];
    for (let code = 0; code < outcomes.length; code += 1) outcomes[code] += kernel.countBytes(outcome, code, count);
    countBits(kernel, flags, tally.flags[s], count);
    countBits(kernel, met, tally.met[s], count);
  }
  kernel.scoped(() => countPatterns(tally, states, benchIndex, patternsOf(kernel, states, count), count));
}

/** Of every unit the states in which it is good, bit s for state s. */
function patternsOf(kernel: Kernel, states: readonly StateColumns[], count: number): Uint8Array | Uint32Array {
  if (states.length <= 8) {
    const patterns = kernel.bytes(count);
    states.forEach(({ good }, s) => {
      kernel.raiseWhere(patterns, good, 1 << s, count);
    });
    return patterns;
  }
  const patterns = new Uint32Array(count);
  states.forEach(({ good }, s) => {
    for (let i = 0; i < count; i += 1) if (good[i] === 1) patterns[i] |= 1 << s;
  });
  return patterns;
}

function countPatterns(
  tally: Tally,
  states: readonly StateColumns[],
  benchIndex: number,
  patterns: Uint8Array | Uint32Array,
  count: number,
): void {
  const benchBit = 1 << benchIndex;
  const allBits = (1 << states.length) - 1;
  for (let i = 0; i < count; i += 1) {
    const pattern = patterns[i];
    tally.patterns[pattern] += 1;
    if (pattern === allBits) tally.goodInEveryState += 1;
    else if ((pattern & benchBit) === 0) tally.failsAtBench += 1;
    else {
      tally.failsInService += 1;
      // The lowest bit that is not set: the first state that fails.
      const first = 31 - Math.clz32(~pattern & (pattern + 1));
      tally.serviceCauses[first][states[first].outcome[i]] += 1;
    }
  }
}

/** Adds in how many words each bit is set. */
function countBits(kernel: Kernel, words: Uint16Array, counts: Float64Array, count: number): void {
  const any = kernel.orWords(words, count);
  for (let bit = 0; any >> bit !== 0; bit += 1) {
    if (((any >> bit) & 1) !== 0) counts[bit] += kernel.countBit(words, 1 << bit, count);
  }
}

/** Adds the counts of `from`. */
export function mergeTally(into: Tally, from: Tally): void {
  into.samples += from.samples;
  into.goodInEveryState += from.goodInEveryState;
  into.failsAtBench += from.failsAtBench;
  into.failsInService += from.failsInService;
  addRows(into.outcomes, from.outcomes);
  addRows(into.flags, from.flags);
  addRows(into.met, from.met);
  addRows(into.serviceCauses, from.serviceCauses);
  addRows([into.patterns], [from.patterns]);
}

function addRows(into: readonly Float64Array[], from: readonly Float64Array[]): void {
  for (let row = 0; row < into.length; row += 1) {
    for (let column = 0; column < into[row].length; column += 1) into[row][column] += from[row][column];
  }
}
