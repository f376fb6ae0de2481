/** Histograms that merge exactly. */
export {
  addToLinearHistogram,
  emptyLinearHistogram,
  type LinearHistogram,
  linearHistogramCount,
  mergeLinearHistogram,
  quantileOfLinearHistogram,
} from "./linear-histogram.ts";
export { type Bin, LogHistogram, type LogHistogramState } from "./log-histogram.ts";
