import type { ShimsResult } from "../studies/decide/result.ts";
import { estimateRow } from "./decide.ts";
import { figure, type SummaryRow } from "./summary-rows.ts";

/** Every figure of a shim plan, one a row. */
export function shimsRows({
  before,
  chosen,
  rows,
  stock,
  byError,
  check,
  coverRatio,
  shimBatchSize,
}: ShimsResult): SummaryRow[] {
  const at = (measure: string, item: string) => ({ scope: "shims", measure, item });
  return [
    estimateRow("every state", "yield", "as machined", before, "plain"),
    estimateRow("every state", "yield", "with shims", chosen.good, "plain"),
    estimateRow("every state", "yield", "with shims, whole model", check, "plain"),
    ...rows.flatMap((row) => {
      const item = `${row.measure}, step ${(1000 * row.stepMm).toFixed(1)} um`;
      return [
        estimateRow("every state", "yield by step", item, row.good, "plain"),
        figure(at("aim", item), "value", row.aimMm, "mm"),
        figure(at("residual", item), "sd", row.residualSdMm, "mm"),
        figure(at("thicknesses", item), "count", row.thicknesses, "1", { low: row.lowMm, high: row.highMm }),
      ];
    }),
    ...byError.map(({ factorRatio, good }) =>
      estimateRow("every state", "yield by error of measurement", `times ${factorRatio}`, good, "plain"),
    ),
    ...stock.flatMap(({ thicknessMm, share, expected, stock: kept }) => {
      const item = `${thicknessMm.toFixed(4)} mm`;
      return [
        estimateRow("shims", "share", item, share, "plain"),
        figure(at("demand", item), "expected", expected, "1", { count: shimBatchSize }),
        figure(at("stock", item), "value", kept, "1", { count: shimBatchSize }),
      ];
    }),
    figure(at("cover", ""), "share", coverRatio, "1", { count: shimBatchSize }),
  ];
}
