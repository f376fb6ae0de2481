import {
  acceptanceByShare,
  acceptanceOfBatch,
  shareAtAcceptance,
  usualSample,
} from "../../stats/acceptance-sampling.ts";
import type { DrawnBatches } from "./draw.ts";
import type { SamplingResult } from "./result.ts";

const CURVE_POINTS = 60;

/** Plans of the scenario, or three by the usual sample size that differ in their acceptance number. */
export function samplingPlans(
  given: readonly { readonly sample: number; readonly accept: number }[],
  batchSize: number,
): { sample: number; accept: number; isUsual: boolean }[] {
  if (given.length > 0) return given.map((plan) => ({ ...plan, isUsual: false }));
  const sample = usualSample(batchSize);
  return [0, 1, 3].filter((accept) => accept < sample).map((accept) => ({ sample, accept, isUsual: true }));
}

/**
 * What a single sampling plan does with batches as they are drawn. The sample is gauged without error; only failures at the bench can be
 * found. Chances within a batch are hypergeometric; the curve over failing shares is the binomial one of the process.
 */
export function judgePlan(
  plan: { readonly sample: number; readonly accept: number; readonly isUsual: boolean },
  drawn: DrawnBatches,
  requiredYieldRatio: number | null,
): SamplingResult {
  const { sample, accept } = plan;
  const { batches, size, benchFailures } = drawn;
  // A large batch was drawn in part; a sample from it is as one from a batch of that part.
  const n = Math.min(sample, size);
  let accepted = 0;
  let failing = 0;
  let acceptedFailing = 0;
  let bad = 0;
  let badAccepted = 0;
  let good = 0;
  let goodRejected = 0;
  for (let batch = 0; batch < batches; batch += 1) {
    const count = benchFailures[batch];
    const chance = acceptanceOfBatch(n, accept, size, count);
    accepted += chance;
    failing += count / size;
    acceptedFailing += (chance * count) / size;
    if (requiredYieldRatio === null) continue;
    if (1 - count / size < requiredYieldRatio) {
      bad += 1;
      badAccepted += chance;
    } else {
      good += 1;
      goodRejected += 1 - chance;
    }
  }
  const consumerPointRatio = shareAtAcceptance(sample, accept, 0.1);
  const reach = Math.min(1, 2 * consumerPointRatio);
  return {
    ...plan,
    acceptedRatio: accepted / batches,
    producerPointRatio: shareAtAcceptance(sample, accept, 0.95),
    consumerPointRatio,
    acceptedFailingRatio: accepted > 0 ? acceptedFailing / accepted : 0,
    allFailingRatio: failing / batches,
    badAcceptedRatio: requiredYieldRatio === null ? null : bad === 0 ? 0 : badAccepted / batches,
    goodRejectedRatio: requiredYieldRatio === null ? null : good === 0 ? 0 : goodRejected / batches,
    curve: Array.from({ length: CURVE_POINTS + 1 }, (_, place) => {
      const failingRatio = (reach * place) / CURVE_POINTS;
      return { failingRatio, acceptanceRatio: acceptanceByShare(sample, accept, failingRatio) };
    }),
  };
}
