import type { Tally } from "../engine/tally.ts";
import type { BatchesResult } from "../engine/tasks.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { betaBinomialProbabilities, countQuantile } from "../stats/batch-counts.ts";
import { quantileOfSorted } from "../stats/quantiles.ts";
import type { BatchResult, CountRange } from "./result.ts";

/** Largest batch whose units are drawn one by one; a larger one is scaled up from this many. */
const LARGEST_NESTED = 8192;

/**
 * Counts in a batch whose units vary independently of one another: beta-binomial, so that the uncertainty of the sampled
 * share itself is in the range (Jeffreys' prior).
 */
export function predictedBatch(size: number, tally: Tally): BatchResult {
  const range = (count: number): CountRange => {
    const probabilities = betaBinomialProbabilities(size, count + 0.5, tally.samples - count + 0.5);
    return {
      expected: (size * count) / tally.samples,
      low: countQuantile(probabilities, 0.05),
      high: countQuantile(probabilities, 0.95),
    };
  };
  return {
    size,
    method: "binomial",
    good: range(tally.goodInEveryState),
    benchFailures: range(tally.failsAtBench),
    serviceFailures: range(tally.failsInService),
  };
}

/** Whether the units of a batch have part of their spread in common, so that whole batches have to be drawn. */
export function sharesSpread(scenario: ResolvedScenario): boolean {
  return scenario.variables.some((variable) => variable.batchShare > 0);
}

/** Units that are drawn of each batch. */
export function nestedSize(scenario: ResolvedScenario): number {
  return Math.min(scenario.batchSize, LARGEST_NESTED);
}

/**
 * Counts in a batch whose units share a part of their spread (one lathe setting, one bearing lot): whole batches are
 * drawn and their counts sorted.
 */
export async function nestedBatches(
  scenario: ResolvedScenario,
  runBatches: (batches: number, size: number) => Promise<BatchesResult>,
  batches: number,
): Promise<BatchResult> {
  const size = scenario.batchSize;
  const drawn = nestedSize(scenario);
  const counts = await runBatches(batches, drawn);
  const scale = size / drawn;
  const range = (column: Float64Array): CountRange => {
    const sorted = column.slice().sort();
    let sum = 0;
    for (const value of sorted) sum += value;
    return {
      expected: (scale * sum) / sorted.length,
      low: Math.floor(scale * quantileOfSorted(sorted, 0.05)),
      high: Math.ceil(scale * quantileOfSorted(sorted, 0.95)),
    };
  };
  return {
    size,
    method: "nested",
    good: range(counts.good),
    benchFailures: range(counts.benchFailures),
    serviceFailures: range(counts.serviceFailures),
  };
}
