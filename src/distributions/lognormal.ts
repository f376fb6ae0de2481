import { exp, expm1, log } from "../numeric/elementary.ts";
import { normalCdf, normalQuantile, normalSurvival } from "../numeric/special.ts";
import { scoreOfUniform } from "./normal-score.ts";
import type { PreparedDistribution } from "./prepared.ts";

const DENSITY_AT_ZERO = 0.3989422804014327;

/** ln(x − shift) is normal with `logMean` and `logSd`: mean = shift + exp(m + s²/2), variance = (exp(s²) − 1)·exp(2m + s²). */
export function prepareLognormal(logMean: number, logSd: number, shift: number): PreparedDistribution {
  const score = (x: number) => (log(x - shift) - logMean) / logSd;
  const meanAbove = exp(logMean + 0.5 * logSd * logSd);
  return {
    low: shift,
    high: Number.POSITIVE_INFINITY,
    mean: shift + meanAbove,
    standardDeviation: meanAbove * Math.sqrt(expm1(logSd * logSd)),
    quantile: (p) => shift + exp(logMean + logSd * normalQuantile(p)),
    upperQuantile: (q) => shift + exp(logMean - logSd * normalQuantile(q)),
    cdf: (x) => (x <= shift ? 0 : normalCdf(score(x))),
    survival: (x) => (x <= shift ? 1 : normalSurvival(score(x))),
    pdf: (x) => {
      if (x <= shift) return 0;
      const z = score(x);
      return (DENSITY_AT_ZERO * exp(-0.5 * z * z)) / (logSd * (x - shift));
    },
    transform: (column, count) => {
      for (let i = 0; i < count; i++) column[i] = shift + exp(logMean + logSd * scoreOfUniform(column[i]));
    },
  };
}
