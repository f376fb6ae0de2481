import type { AllocateResult } from "../studies/decide/result.ts";
import { estimateRow } from "./decide.ts";
import { figure, type SummaryRow } from "./summary-rows.ts";

/** Every figure of an allocation, one a row. */
export function allocateRows(result: AllocateResult): SummaryRow[] {
  const { members, current, chosen, front, check, bestReachable, remedies, currency } = result;
  const at = (measure: string, item: string) => ({ scope: "drawing", measure, item });
  const price = (item: string, statistic: string, value: number) =>
    figure(at("price", item), statistic, value, currency);
  return [
    estimateRow("every state", "yield", "as drawn", current.good, "integrated"),
    price("", "as drawn", current.cost),
    ...(chosen === null
      ? []
      : [
          estimateRow("every state", "yield", "recommended", chosen.good, "integrated"),
          price("", "recommended", chosen.cost),
          figure(at("nominal", result.member.name), "recommended", result.member.toMm, "mm"),
        ]),
    ...(check === null ? [] : [estimateRow("every state", "yield", "recommended, by plain sampling", check, "plain")]),
    estimateRow("every state", "yield", "best that tolerances can give", bestReachable.good, "integrated"),
    ...members.flatMap(({ name, fromMm, toMm, step, priceFrom, priceTo, gainPerMoney }) => [
      figure(at("tolerance", name), "as drawn", fromMm, "mm"),
      price(name, "as drawn", priceFrom),
      ...(toMm === null ? [] : [figure(at("tolerance", name), "recommended", toMm, "mm", { note: step })]),
      ...(priceTo === null ? [] : [price(name, "recommended", priceTo)]),
      ...(gainPerMoney === null ? [] : [figure(at("gain per money", name), "value", gainPerMoney, "1")]),
    ]),
    ...front.flatMap(({ spreadRatio, cost, good }) => [
      estimateRow("every state", "front", `spread ${spreadRatio}`, good, "integrated"),
      price(`spread ${spreadRatio}`, "cheapest", cost),
    ]),
    ...remedies.flatMap(({ name, good, tightest }) => [
      estimateRow("every state", "remedy", name, good),
      ...(tightest === null ? [] : [estimateRow("every state", "remedy with tight spacings", name, tightest)]),
    ]),
  ];
}
