/** Histograms that merge exactly. */
export {
  addToLinearHistogram,
  emptyLinearHistogram,
  type LinearHistogram,
  linearHistogramCount,
  mergeLinearHistogram,
  quantilesOfLinearHistogram,
} from "./linear-histogram.ts";
export { type Bin, LogHistogram, type LogHistogramState, logBinKey } from "./log-histogram.ts";
