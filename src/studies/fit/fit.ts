import type { Distribution } from "../../distributions/types.ts";
import { InputError } from "../../errors.ts";
import { chiSquareQuantile } from "../../numeric/chi-square.ts";
import { sha256Hex } from "../../numeric/sha256.ts";
import type { InternalUnit } from "../../scenario/types.ts";
import { normalityTest } from "../../stats/anderson-darling.ts";
import { capabilityOf } from "../../stats/capability.ts";
import { controlChart } from "../../stats/control-chart.ts";
import { type FittedDistribution, fitDistributions } from "../../stats/fit-distributions.ts";
import { deconvolve, type GaugeStudy, lotSpread } from "../../stats/gauge-study.ts";
import { meanInterval } from "../../stats/intervals.ts";
import { fitMixture, type Mixture } from "../../stats/mixture.ts";
import { excessKurtosis, momentsOf, skewness, standardDeviation } from "../../stats/moments.ts";
import { coverageOfExtremes, twoSidedToleranceFactor, wilksSampleSize } from "../../stats/tolerance-interval.ts";
import { RESULT_VERSION } from "../result.ts";
import { summariseValues } from "../summary.ts";
import { pasteLines } from "./paste.ts";
import type { Candidate, FitResult } from "./result.ts";

/** Fewer values than this say nothing about a shape. */
const LEAST_FOR_SHAPE = 8;
/** Chance of the Anderson-Darling test below which a sample does not count as normal. */
const NORMAL_LEVEL = 0.05;
/** Another family must fit better than the normal by this much of BIC to be taken in its place. */
const CLEARLY_BETTER = 6;
/** A tolerance interval needs no more digits than the factor of this many values has. */
const MOST_FOR_EXACT_FACTOR = 20_000;

/** What was found, before it is put into words. */
export type FitFinding = Omit<FitResult, "verdict">;

export interface FitRequest {
  readonly file: string;
  readonly column: string;
  readonly unit: InternalUnit;
  /** In the order in which the parts were made. */
  readonly values: Float64Array;
  readonly skipped: FitResult["rows"]["skipped"];
  readonly limits: { readonly low: number; readonly high: number } | null;
  /** Lot of each value, or null. */
  readonly lots: readonly string[] | null;
  /** Standard deviation of one reading of the gauge, with where it is from. */
  readonly gauge: { readonly sd: number; readonly source: string } | null;
  readonly gaugeStudy: GaugeStudy | null;
  /** Bytes of the table: their hash is kept in the result, and what was asked for. */
  readonly table: Uint8Array;
  readonly asked: object;
  readonly maker: { readonly version: string; readonly platform: string };
}

/**
 * Sums up measured parts, fits distributions to them, and judges capability and control.
 *
 * Where a gauge's spread is given it is taken out: values are drawn towards their mean until their variance is that of the parts. Shape,
 * capability, tolerance interval and the lines to paste are then those of the parts; the control chart shows what was read.
 *
 * @returns the finding, and the values of the parts (the readings where no gauge is given)
 * @throws InputError for fewer than two values or values without any spread
 */
export function fitMeasured(request: FitRequest): { finding: FitFinding; parts: Float64Array } {
  const { values: read, limits, unit, column, file } = request;
  const readMoments = momentsOf(read);
  const readSd = standardDeviation(readMoments);
  if (read.length < 2 || !(readSd > 0)) {
    const got = read.length < 2 ? `${read.length}` : `${read.length} equal values`;
    throw new InputError({ code: "out-of-range", path: column, expected: "at least two different values", got, file });
  }
  const instrument =
    request.gauge === null ? null : { ...deconvolve(readSd, request.gauge.sd), source: request.gauge.source };
  const values = instrument === null ? read : drawnTogether(read, readMoments.mean, instrument.partSd / readSd);
  const isSpread = instrument === null || !instrument.clamped;
  const sorted = values.slice().sort();
  const moments = momentsOf(values);
  const sd = standardDeviation(moments);
  const { mean, count: n } = moments;
  const hasShape = isSpread && n >= LEAST_FOR_SHAPE;
  const normality = hasShape ? normalityTest(sorted, mean, sd) : null;
  const fits = hasShape ? fitDistributions(sorted, limits) : [];
  const mixture = hasShape && n >= 20 ? fitMixture(sorted, Math.min(...fits.map(({ bic }) => bic))) : null;
  const choice = choose(fits, normality?.pRatio ?? 0, mixture);
  const chosen = fits.find(({ family }) => family === choice) ?? null;
  const lots = request.lots === null ? null : lotSpread(byLot(read, request.lots));
  const factor = twoSidedToleranceFactor(Math.min(n, MOST_FOR_EXACT_FACTOR), 0.95, 0.95);
  const chi = (p: number) => sd * Math.sqrt((n - 1) / chiSquareQuantile(p, n - 1));
  const share = lots !== null && lots.batchShareRatio > 0 ? lots.batchShareRatio : null;
  const finding: FitFinding = {
    study: "fit",
    provenance: {
      program: "seatspread",
      version: request.maker.version,
      resultVersion: RESULT_VERSION,
      platform: request.maker.platform,
      file,
      tableHash: sha256Hex(request.table),
      column,
    },
    asked: request.asked,
    rows: { used: n, skipped: request.skipped },
    limits,
    values: { ...summariseValues(values, unit), skewness: skewness(moments), excessKurtosis: excessKurtosis(moments) },
    meanInterval: meanInterval(mean, sd, n),
    sdInterval: { low: chi(0.975), high: chi(0.025) },
    normality,
    candidates: candidatesOf(fits, choice),
    mixture,
    choice,
    instrument,
    gaugeStudy: request.gaugeStudy,
    lots,
    capability: limits === null || !isSpread ? null : capabilityOf(mean, sd, values, limits.low, limits.high),
    tolerance: {
      factor,
      low: mean - factor * sd,
      high: mean + factor * sd,
      extremesRatio: coverageOfExtremes(n, 0.95),
      partsFor95: wilksSampleSize(0.95, 0.95, 2),
      partsFor9973: wilksSampleSize(0.9973, 0.95, 2),
    },
    control: n >= LEAST_FOR_SHAPE ? controlChart(read) : null,
    paste: pasteLines({
      file,
      column,
      unit,
      distribution: chosen?.distribution ?? null,
      batchShareRatio: share,
      gaugeSd: instrument?.gaugeSd ?? null,
    }),
  };
  return { finding, parts: values };
}

/** Readings drawn towards their mean by a factor. */
function drawnTogether(values: Float64Array, mean: number, factor: number): Float64Array {
  return values.map((value) => mean + factor * (value - mean));
}

/** The normal unless it is refused or another family is clearly likelier; the values themselves where nothing fits. */
function choose(fits: readonly FittedDistribution[], pOfNormal: number, mixture: Mixture | null): FitResult["choice"] {
  const normal = fits.find(({ family }) => family === "normal");
  if (normal === undefined || mixture?.isLikely) return "empirical";
  const best = fits.reduce((a, b) => (b.bic < a.bic ? b : a));
  if (best.family !== "normal" && normal.bic - best.bic > CLEARLY_BETTER) return best.family;
  if (pOfNormal >= NORMAL_LEVEL) return "normal";
  return best.family !== "normal" && normal.bic - best.bic > 0 ? best.family : "empirical";
}

function candidatesOf(fits: readonly FittedDistribution[], choice: FitResult["choice"]): Candidate[] {
  return fits
    .map(({ family, distribution, bic, andersonDarlingRatio }) => ({
      family,
      distribution: distribution as Distribution,
      bic,
      andersonDarlingRatio,
      isChosen: family === choice,
    }))
    .sort((a, b) => a.bic - b.bic);
}

function byLot(values: Float64Array, names: readonly string[]): number[][] {
  const lots = new Map<string, number[]>();
  values.forEach((value, index) => {
    const lot = lots.get(names[index]);
    if (lot === undefined) lots.set(names[index], [value]);
    else lot.push(value);
  });
  return [...lots.values()];
}
