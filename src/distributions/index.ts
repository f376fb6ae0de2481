/** Distributions as data: checks, probabilities, moments, and the column transforms that draw from them. */
export { combineBatch } from "./batch.ts";
export { applyCopula, type Copula, createCopula } from "./copula.ts";
export { ASSUMED_SIGMAS, fromLimits, type LimitsSpecification } from "./from-limits.ts";
export { fromReadings, lognormalFromMoments, skewedFromMode, skewedFromMoments } from "./from-moments.ts";
export { mean, median, practicalRange, type Range, standardDeviation, support } from "./moments.ts";
export { prepare } from "./prepare.ts";
export type { ColumnTransform, PreparedDistribution } from "./prepared.ts";
export { cdf, pdf, quantile, survival, upperQuantile } from "./probability.ts";
export { transformInPlace } from "./transform.ts";
export type { Distribution, DistributionKind } from "./types.ts";
export { validateDistribution } from "./validate.ts";
