import { OUTCOMES } from "../model/outcome.ts";
import type { AuditResult } from "../studies/audit/result.ts";
import { figure, type SummaryRow } from "./summary-rows.ts";

/** Every figure of an audit, one a row. */
export function auditRows(result: AuditResult): SummaryRow[] {
  const { good, states, offset, window, uncertainty, toMeasure, change, decision } = result;
  const share = (scope: string, measure: string, item: string, value: typeof good) =>
    figure({ scope, measure, item }, "chance", value.shareRatio, "1", {
      low: value.lowRatio,
      high: value.highRatio,
      count: uncertainty.effectiveSamples,
      note: "interval of the simulation",
    });
  const ends = (item: string, [low, value, high]: readonly [number, number, number]) =>
    figure({ scope: "window", measure: "machined offset", item }, "median", value, "mm", { low, high });
  return [
    { ...share("every state", "good", "", good), note: decision },
    ...states.flatMap(({ name, outcomes }) =>
      OUTCOMES.map((outcome) => share(name, "outcome", outcome, outcomes[outcome])),
    ),
    figure({ scope: "bench", measure: "offset", item: "" }, "estimate", offset.estimateMm, "mm", {
      low: offset.estimateMm - offset.combined.expanded,
      high: offset.estimateMm + offset.combined.expanded,
      note: `k ${offset.combined.coverageFactor}`,
    }),
    ...offset.budget.map(({ label, kind, contributionMm, degreesOfFreedom }) =>
      figure({ scope: "bench", measure: "offset budget", item: label }, "contribution", contributionMm, "mm", {
        count: degreesOfFreedom ?? Number.POSITIVE_INFINITY,
        note: kind,
      }),
    ),
    ends("as it is", window.machinedMm),
    ends("low end", window.lowMm),
    ends("high end", window.highMm),
    ...toMeasure.map(({ label, rightCallRatio, isMeasured }) =>
      figure({ scope: "every state", measure: "right call", item: label }, "chance", rightCallRatio, "1", {
        note: isMeasured ? "measured" : "not measured",
      }),
    ),
    ...(change?.curve ?? []).map(({ changeMm, goodRatio }) =>
      figure(
        { scope: "every state", measure: "change of the offset", item: `${Math.round(changeMm * 1e6) / 1e3} um` },
        "chance",
        goodRatio,
        "1",
      ),
    ),
  ];
}
