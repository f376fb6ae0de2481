import type { DifferenceEstimate, RatioEstimate } from "../studies/decide/assess.ts";
import type {
  CentrePoint,
  CentreResult,
  CompareResult,
  RangesResult,
  Shares,
  SweepResult,
} from "../studies/decide/result.ts";
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

/** Every value of every parameter, one figure a row; `item` is the change, or the parameter. */
export function rangesRows({ base, parameters }: RangesResult): SummaryRow[] {
  return [
    ...sharesRows("as it stands", base.shares, base.method),
    ...parameters.flatMap(({ path, values, cells, span }) => [
      ...cells.flatMap(({ shares, method, difference }, place) => {
        const item = `${path}=${values[place].text}`;
        return [...sharesRows(item, shares, method), differenceRow("every state", "yield", item, difference)];
      }),
      differenceRow("every state", "yield over the range", path, span),
    ]),
  ];
}

/** Every figure of a centred nominal; `item` is which nominal. */
export function centreRows(result: CentreResult): SummaryRow[] {
  const { member, current, best, rounded, steps, gain, curve, check } = result;
  const points: [string, CentrePoint][] = [
    ["as drawn", current],
    ["best", best],
    ["recommended", rounded],
    ["one step less", steps[0].point],
    ["one step more", steps[1].point],
  ];
  const cost = (item: string, { costPerGoodUnit }: CentrePoint): SummaryRow[] =>
    costPerGoodUnit === null
      ? []
      : [
          figure(
            { scope: "every state", measure: "cost of failures", item },
            "mean",
            costPerGoodUnit.mean,
            result.currency,
            {
              low: costPerGoodUnit.low,
              high: costPerGoodUnit.high,
            },
          ),
        ];
  return [
    figure({ scope: "drawing", measure: "nominal", item: member.name }, "as drawn", member.fromMm, "mm"),
    figure({ scope: "drawing", measure: "nominal", item: member.name }, "recommended", member.toMm, "mm"),
    ...points.flatMap(([item, point]) => [
      figure({ scope: "drawing", measure: "nominal offset", item }, "value", point.offsetMm, "mm"),
      ...sharesRows(item, point, "integrated"),
      ...cost(item, point),
    ]),
    differenceRow("every state", "yield", "recommended", gain),
    estimateRow("every state", "yield", "recommended, by plain sampling", check, "plain"),
    ...curve.map((point) =>
      estimateRow("every state", "yield over nominal offset", `${(1000 * point.offsetMm).toFixed(3)} um`, point.good),
    ),
  ];
}
