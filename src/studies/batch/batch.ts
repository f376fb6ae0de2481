import { studyHash } from "../../scenario/hash.ts";
import type { ResolvedCosts, ResolvedScenario } from "../../scenario/types.ts";
import { shareOf } from "../share.ts";
import { type Maker, provenanceOf } from "../yield.ts";
import { checkRisks } from "./check.ts";
import { summariseCounts, summariseMoney } from "./counts.ts";
import { batchCount, type DrawnBatches, drawBatches, LARGEST_DRAWN } from "./draw.ts";
import type { BatchCosts, BatchStudyResult } from "./result.ts";
import { judgePlan, samplingPlans } from "./sampling.ts";

/** What was found, before it is put into words. */
export type BatchFinding = Omit<BatchStudyResult, "verdict">;

/**
 * What the next batch may bring: how many of it are good, fail at the bench, fail in service and fail under warranty, what that costs, and what
 * sampling or checking it would catch. Whole batches are drawn, each with its shared spread drawn once.
 */
export function studyBatch(scenario: ResolvedScenario, maker: Maker): BatchFinding {
  const { batchSize, batchPlans, requiredYieldRatio } = scenario;
  const size = Math.min(batchSize, LARGEST_DRAWN);
  const batches = batchCount(scenario.samples, size);
  const drawn = drawBatches(scenario, batches, size);
  const isShared = scenario.variables.some(
    ({ batchShare, distribution }) => batchShare > 0 && distribution.kind !== "constant",
  );
  const counts = (column: Float64Array) => summariseCounts(column, size, batchSize, isShared);
  return {
    study: "batch",
    provenance: {
      ...provenanceOf(scenario, maker),
      scenarioHash: studyHash(scenario, batchPlans),
      samples: batches * size,
    },
    title: scenario.title,
    size: batchSize,
    warrantyYears: batchPlans.warrantyYears,
    batches,
    unitsDrawn: size,
    isShared,
    requiredYieldRatio,
    good: counts(drawn.good),
    benchFailures: counts(drawn.benchFailures),
    serviceFailures: counts(drawn.serviceFailures),
    warrantyFailures: counts(drawn.warrantyFailures),
    reachesYield: requiredYieldRatio === null ? null : shareOf(batchesAbove(drawn, requiredYieldRatio), batches),
    costs: batchPlans.costs === null ? null : costsOf(drawn, batchPlans.costs, batchSize / size, batchSize),
    sampling: samplingPlans(batchPlans.sampling, batchSize).map((plan) => judgePlan(plan, drawn, requiredYieldRatio)),
    check: batchPlans.benchCheck === null ? null : checkRisks(scenario, batchPlans.benchCheck),
    scenario: scenario.content,
  };
}

function batchesAbove({ good, size }: DrawnBatches, requiredYieldRatio: number): number {
  let count = 0;
  // Rounding must not fail a batch that has exactly the number asked for.
  for (const units of good) if (units >= requiredYieldRatio * size - 1e-9) count += 1;
  return count;
}

/**
 * What failures of a batch cost. Of the bench failures a share is reworked and then good; what rework does not save is scrapped after it was
 * paid for. A scrapped unit loses what scrapping is said to cost, which is its making unless the scenario says more.
 */
function costsOf(
  { benchFailures, warrantyFailures, good, batches }: DrawnBatches,
  settings: ResolvedCosts,
  scale: number,
  batchSize: number,
): BatchCosts {
  const { unit, scrap, rework, reworkRatio, warranty } = settings;
  const column = (amount: (batch: number) => number) =>
    Float64Array.from({ length: batches }, (_, batch) => scale * amount(batch));
  const scrapped = (batch: number) => (1 - reworkRatio) * benchFailures[batch];
  const reworkCost = column((batch) => (rework ?? 0) * (rework === null ? 0 : benchFailures[batch]));
  const scrapCost = column((batch) => scrap * scrapped(batch));
  const warrantyCost = column((batch) => warranty * warrantyFailures[batch]);
  const loss = summariseMoney(reworkCost.map((amount, batch) => amount + scrapCost[batch] + warrantyCost[batch]));
  let delivered = 0;
  let spent = 0;
  for (let batch = 0; batch < batches; batch += 1) {
    delivered += scale * (good[batch] + reworkRatio * benchFailures[batch]);
    // The making of scrapped units is in the making of the batch already.
    spent += unit * batchSize + reworkCost[batch] + warrantyCost[batch] + scale * (scrap - unit) * scrapped(batch);
  }
  return {
    settings,
    loss,
    scrap: summariseMoney(scrapCost),
    rework: summariseMoney(reworkCost),
    warranty: summariseMoney(warrantyCost),
    perGoodUnit: delivered > 0 ? spent / delivered : Number.NaN,
    lossPerUnit: loss.expected / batchSize,
  };
}
