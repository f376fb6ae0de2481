import type { MethodsResult } from "../studies/decide/result.ts";
import { differenceRow, sharesRows } from "./decide.ts";
import { figure, type SummaryRow } from "./summary-rows.ts";

/** Every figure of compared methods, one a row; `item` is the method. */
export function methodsRows({ methods, currency }: MethodsResult): SummaryRow[] {
  return methods.flatMap(({ name, shares, difference, costPerGoodUnit, extended }) => [
    ...sharesRows(name, shares, "plain"),
    ...(difference === null ? [] : [differenceRow("every state", "yield", name, difference)]),
    ...(costPerGoodUnit === null
      ? []
      : [
          figure(
            { scope: "every state", measure: "cost of a good unit", item: name },
            "mean",
            costPerGoodUnit,
            currency,
          ),
        ]),
    ...(extended === null
      ? []
      : (["axialStiffnessNPerMm", "basicLifeH"] as const).flatMap((quantity) => {
          const place = {
            scope: extended.state,
            measure: quantity === "basicLifeH" ? "basic life" : "axial stiffness",
            item: name,
          };
          const unit = quantity === "basicLifeH" ? "h" : "N/mm";
          return [
            figure(place, "q0.5", extended[quantity].median, unit, { count: extended.samples }),
            figure(place, "q0.05", extended[quantity].low, unit, { count: extended.samples }),
          ];
        })),
  ]);
}
