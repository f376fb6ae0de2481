import type { DifferenceEstimate, RatioEstimate } from "../studies/decide/assess.ts";
import type { CompareResult, Shares, SweepResult } from "../studies/decide/result.ts";
import { figure, type SummaryRow } from "./summary-rows.ts";

export function estimateRow(
  scope: string,
  measure: string,
  item: string,
  { ratio, lowRatio: low, highRatio: high }: RatioEstimate,
  note = "",
): SummaryRow {
  return figure({ scope, measure, item }, "share", ratio, "1", { low, high, note });
}

export function differenceRow(
  scope: string,
  measure: string,
  item: string,
  difference: DifferenceEstimate,
): SummaryRow {
  const { differenceRatio, lowRatio: low, highRatio: high } = difference;
  return figure({ scope, measure, item }, "difference", differenceRatio, "1", { low, high, note: "same units" });
}

export function sharesRows(item: string, shares: Shares, note: string): SummaryRow[] {
  return [
    estimateRow("every state", "yield", item, shares.good, note),
    estimateRow("bench scrap", "failures", item, shares.bench, note),
    estimateRow("service", "failures", item, shares.service, note),
  ];
}

/** Every figure of a comparison, one a row; `item` is the variant. */
export function compareRows({ variants }: CompareResult): SummaryRow[] {
  return variants.flatMap(({ name, shares, method, states, difference, centred }) => [
    ...sharesRows(name, shares, method),
    ...(centred === null
      ? []
      : [
          estimateRow("every state", "re-centred yield", name, centred.good, method),
          figure(
            { scope: "every state", measure: "shift to the best nominal", item: name },
            "value",
            centred.shiftMm,
            "mm",
          ),
        ]),
    ...states.map(({ state, good }) => estimateRow(state, "on target", name, good, method)),
    ...(difference === null
      ? []
      : [
          differenceRow("every state", "yield", name, difference.good),
          differenceRow("bench scrap", "failures", name, difference.bench),
          differenceRow("service", "failures", name, difference.service),
        ]),
  ]);
}

/** Every cell of a sweep, one figure a row; `item` is the cell, as `column` or `column | row`. */
export function sweepRows({ over, and, series }: SweepResult): SummaryRow[] {
  return series.flatMap(({ name, cells, crossings }) => [
    ...cells.flatMap(({ shares, method }, place) =>
      sharesRows(and === null ? over.values[place].text : `${over.values[place].text} | ${name}`, shares, method),
    ),
    ...crossings.map(({ direction, at, low, high }) =>
      figure({ scope: "every state", measure: "crossing", item: name }, direction, at, over.unit ?? "", { low, high }),
    ),
  ]);
}
