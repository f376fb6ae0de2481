import type { BatchStudyResult, CountDistribution, MoneyDistribution } from "../studies/batch/result.ts";
import { figure, type SummaryRow, shareRow } from "./summary-rows.ts";

/** Every figure of a study of a batch, one a row. */
export function batchRows(result: BatchStudyResult): SummaryRow[] {
  const { batches, costs, sampling, check, reachesYield } = result;
  const counts = (item: string, distribution: CountDistribution): SummaryRow[] => {
    const place = { scope: "batch", measure: "units", item };
    return [
      figure(place, "expected", distribution.expected, "1", { count: batches }),
      figure(place, "sd", distribution.sd, "1", { count: batches }),
      figure(place, "sd between batches", distribution.betweenSd, "1", { count: batches }),
      figure(place, "correlation", distribution.fit.correlationRatio, "1", { count: batches, note: "beta-binomial" }),
      ...distribution.quantiles.map(({ probabilityRatio, count }) =>
        figure(place, `q${probabilityRatio}`, count, "1", { count: batches }),
      ),
      ...distribution.more.map(({ count, chanceRatio, lowRatio, highRatio }) =>
        figure(place, `more than ${count}`, chanceRatio, "1", { low: lowRatio, high: highRatio, count: batches }),
      ),
    ];
  };
  const money = (item: string, { expected, quantiles }: MoneyDistribution): SummaryRow[] => {
    const place = { scope: "batch", measure: "cost", item };
    const unit = costs?.settings.currency ?? "";
    return [
      figure(place, "expected", expected, unit, { count: batches }),
      ...quantiles.map(({ probabilityRatio, amount }) =>
        figure(place, `q${probabilityRatio}`, amount, unit, { count: batches }),
      ),
    ];
  };
  return [
    ...counts("good", result.good),
    ...counts("bench failures", result.benchFailures),
    ...counts("service failures", result.serviceFailures),
    ...counts("warranty failures", result.warrantyFailures),
    ...(reachesYield === null ? [] : [shareRow("batch", "reaches required yield", "", reachesYield)]),
    ...(costs === null
      ? []
      : [
          ...money("loss", costs.loss),
          ...money("scrap", costs.scrap),
          ...money("rework", costs.rework),
          ...money("warranty", costs.warranty),
        ]),
    ...sampling.flatMap((plan) => {
      const place = { scope: "sampling", measure: "plan", item: `${plan.sample}, ${plan.accept}` };
      return [
        figure(place, "batches accepted", plan.acceptedRatio, "1", { count: batches }),
        figure(place, "share accepted with 95 %", plan.producerPointRatio, "1"),
        figure(place, "share accepted with 10 %", plan.consumerPointRatio, "1"),
        figure(place, "failing in accepted", plan.acceptedFailingRatio, "1", { count: batches }),
        ...plan.curve.map(({ failingRatio, acceptanceRatio }) =>
          figure({ ...place, measure: "operating characteristic" }, `at ${failingRatio}`, acceptanceRatio, "1"),
        ),
      ];
    }),
    ...(check === null
      ? []
      : check.guards.flatMap((risk) => {
          const place = { scope: "check", measure: check.settings.gauge, item: `guard ${risk.guard}` };
          return [
            figure(place, "accepted", risk.acceptedRatio, "1", { count: check.units }),
            figure(place, "escapes", risk.escapesRatio, "1", { count: check.units }),
            figure(place, "fail later", risk.laterRatio, "1", { count: check.units }),
            figure(place, "false rejects", risk.falseRejectsRatio, "1", { count: check.units }),
          ];
        })),
  ];
}
