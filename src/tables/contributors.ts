import type { ContributorsStudyResult, IndexEstimate } from "../studies/decide/result.ts";
import { estimateRow } from "./decide.ts";
import { figure, type SummaryRow } from "./summary-rows.ts";

/** Every index and slope, one a row; `item` is the cause or the quantity. */
export function contributorRows({ causes, slopes, good }: ContributorsStudyResult): SummaryRow[] {
  const index = (scope: string, measure: string, item: string, statistic: string, estimate: IndexEstimate) =>
    figure({ scope, measure, item }, statistic, estimate.indexRatio, "1", {
      low: estimate.lowRatio,
      high: estimate.highRatio,
    });
  return [
    estimateRow("every state", "yield", "", good, "plain"),
    ...causes.flatMap(({ cause, yield: ofYield, preload }) => [
      index("every state", "yield index", cause, "total", ofYield.total),
      index("every state", "yield index", cause, "first-order", ofYield.firstOrder),
      ...preload.flatMap(({ state, total, firstOrder }) => [
        index(state, "preload index", cause, "total", total),
        index(state, "preload index", cause, "first-order", firstOrder),
      ]),
    ]),
    ...slopes.flatMap(({ name, byTenPercentSpread, byTenthOfSd }) =>
      (
        [
          ["10 % more spread", byTenPercentSpread],
          ["mean + 0.1 sd", byTenthOfSd],
        ] as const
      ).map(([statistic, { changeRatio, lowRatio: low, highRatio: high }]) =>
        figure({ scope: "every state", measure: "yield slope", item: name }, statistic, changeRatio, "1", {
          low,
          high,
        }),
      ),
    ),
  ];
}
