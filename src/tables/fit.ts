import type { FitResult } from "../studies/fit/result.ts";
import { figure, type Place, quantityRows, type SummaryRow } from "./summary-rows.ts";

/** Metadata of the tables of a fit: what made them, and of which file. */
export function fitMetadata({ provenance, values }: FitResult): Record<string, string> {
  return {
    program: provenance.program,
    programVersion: provenance.version,
    resultVersion: String(provenance.resultVersion),
    file: provenance.file,
    tableHash: provenance.tableHash,
    column: provenance.column,
    values: String(values.count),
    platform: provenance.platform,
  };
}

/** Every figure of a study of measured parts, one a row. */
export function fitRows(result: FitResult): SummaryRow[] {
  const { values, meanInterval, sdInterval, normality, candidates, capability, tolerance, control, instrument, lots } =
    result;
  const { unit, count } = values;
  const at = (measure: string, item = ""): Place => ({ scope: result.provenance.column, measure, item });
  return [
    ...quantityRows(result.provenance.column, "measured", values),
    figure(at("process"), "mean", values.mean, unit, { ...meanInterval, count }),
    figure(at("process"), "sd", values.sd, unit, { ...sdInterval, count }),
    ...(normality === null
      ? []
      : [
          figure(at("normality"), "A*", normality.adjustedRatio, "1", { count }),
          figure(at("normality"), "p", normality.pRatio, "1", { count }),
        ]),
    ...candidates.flatMap(({ family, bic, andersonDarlingRatio, isChosen }) => [
      figure(at("fit", family), "BIC", bic, "1", { count, note: isChosen ? "chosen" : "" }),
      figure(at("fit", family), "A2", andersonDarlingRatio, "1", { count }),
    ]),
    ...(capability === null
      ? []
      : [
          index(at("capability"), "Cp", capability.Cp, count),
          index(at("capability"), "Cpk", capability.Cpk, count),
          figure(at("capability"), "Cpk lower bound", capability.CpkLowerBoundRatio, "1", {
            count,
            note: "95 % one-sided",
          }),
        ]),
    figure(at("tolerance interval"), "factor", tolerance.factor, "1", {
      count,
      note: "95 % of parts, 95 % confidence",
    }),
    figure(at("tolerance interval"), "low", tolerance.low, unit, { count }),
    figure(at("tolerance interval"), "high", tolerance.high, unit, { count }),
    figure(at("extremes"), "share", tolerance.extremesRatio, "1", { count, note: "95 % confidence" }),
    ...(control === null
      ? []
      : [
          figure(at("control"), "short-term sd", control.shortTermSd, unit, { count }),
          ...control.signals.map(({ rule, from, to }) =>
            figure(at("control", rule), "run", from + 1, "1", { low: from + 1, high: to + 1, note: "parts from 1" }),
          ),
        ]),
    ...(instrument === null
      ? []
      : [
          figure(at("instrument"), "observed sd", instrument.observedSd, unit),
          figure(at("instrument"), "gauge sd", instrument.gaugeSd, unit, { note: instrument.source }),
          figure(at("instrument"), "part sd", instrument.partSd, unit, {
            note: instrument.clamped ? "clamped at 0" : "",
          }),
        ]),
    ...(lots === null
      ? []
      : [
          figure(at("lots"), "between sd", lots.betweenSd, unit, { count: lots.lots }),
          figure(at("lots"), "within sd", lots.withinSd, unit, { count: lots.lots }),
          figure(at("lots"), "batch share", lots.batchShareRatio, "1", { count: lots.lots }),
        ]),
  ];
}

function index(
  place: Place,
  statistic: string,
  { valueRatio, lowRatio, highRatio }: { valueRatio: number; lowRatio: number; highRatio: number },
  count: number,
): SummaryRow {
  return figure(place, statistic, valueRatio, "1", { low: lowRatio, high: highRatio, count });
}
