/** How much of the spread of readings is the gauge's, from parts read several times by several people. */
import { InternalError } from "../errors.ts";

export interface AnovaRow {
  readonly source: "part" | "operator" | "part × operator" | "repeatability";
  readonly squares: number;
  readonly degreesOfFreedom: number;
  readonly meanSquare: number;
}

export interface GaugeStudy {
  readonly rows: readonly AnovaRow[];
  /** Variance components, each clamped at 0. */
  readonly partVariance: number;
  readonly operatorVariance: number;
  readonly interactionVariance: number;
  readonly repeatabilityVariance: number;
  readonly gaugeVariance: number;
  /** Gauge variance over total variance, and the same of standard deviations. */
  readonly contributionRatio: number;
  readonly studyRatio: number;
  /** Classes of parts that the gauge tells apart, √2·s_part/s_gauge. */
  readonly distinctCategories: number;
}

/**
 * Two-way crossed analysis of variance with repeats: every operator reads every part equally often.
 *
 * Components: repeatability MS_E; part × operator (MS_PO − MS_E)/r; operator (MS_O − MS_PO)/(p·r); part (MS_P − MS_PO)/(o·r), each not below 0.
 *
 * @param readings `readings[part][operator]` a list of two or more repeats, the same number everywhere
 *
 * Source: D. C. Montgomery, Introduction to Statistical Quality Control (gauge studies by analysis of variance; from memory).
 */
export function gaugeStudy(readings: readonly (readonly (readonly number[])[])[]): GaugeStudy {
  const parts = readings.length;
  const operators = readings[0]?.length ?? 0;
  const repeats = readings[0]?.[0]?.length ?? 0;
  const even = readings.every((row) => row.length === operators && row.every((cell) => cell.length === repeats));
  if (!(parts >= 2 && operators >= 1 && repeats >= 2 && even)) {
    throw new InternalError(`no gauge study of ${parts} parts, ${operators} operators, ${repeats} repeats`);
  }
  const shift = readings[0][0][0];
  const average = (values: readonly number[]) => values.reduce((sum, x) => sum + (x - shift), 0) / values.length;
  const cells = readings.map((row) => row.map(average));
  const partMeans = cells.map((row) => row.reduce((sum, x) => sum + x, 0) / operators);
  const operatorMeans = Array.from(
    { length: operators },
    (_, o) => cells.reduce((sum, row) => sum + row[o], 0) / parts,
  );
  const mean = partMeans.reduce((sum, x) => sum + x, 0) / parts;
  const square = (x: number) => x * x;
  let partSquares = 0;
  let operatorSquares = 0;
  let interactionSquares = 0;
  let errorSquares = 0;
  for (const m of partMeans) partSquares += operators * repeats * square(m - mean);
  for (const m of operatorMeans) operatorSquares += parts * repeats * square(m - mean);
  cells.forEach((row, p) => {
    row.forEach((cell, o) => {
      interactionSquares += repeats * square(cell - partMeans[p] - operatorMeans[o] + mean);
      for (const reading of readings[p][o]) errorSquares += square(reading - shift - cell);
    });
  });
  const row = (source: AnovaRow["source"], squares: number, degreesOfFreedom: number): AnovaRow => ({
    source,
    squares,
    degreesOfFreedom,
    meanSquare: degreesOfFreedom > 0 ? squares / degreesOfFreedom : 0,
  });
  const rows = [
    row("part", partSquares, parts - 1),
    row("operator", operatorSquares, operators - 1),
    row("part × operator", interactionSquares, (parts - 1) * (operators - 1)),
    row("repeatability", errorSquares, parts * operators * (repeats - 1)),
  ];
  const [part, operator, interaction, error] = rows.map(({ meanSquare }) => meanSquare);
  // With one operator there is no interaction to test the parts against.
  const base = operators > 1 ? interaction : error;
  const partVariance = Math.max(0, (part - base) / (operators * repeats));
  const operatorVariance = operators > 1 ? Math.max(0, (operator - interaction) / (parts * repeats)) : 0;
  const interactionVariance = operators > 1 ? Math.max(0, (interaction - error) / repeats) : 0;
  const gaugeVariance = operatorVariance + interactionVariance + error;
  const total = gaugeVariance + partVariance;
  return {
    rows,
    partVariance,
    operatorVariance,
    interactionVariance,
    repeatabilityVariance: error,
    gaugeVariance,
    contributionRatio: total > 0 ? gaugeVariance / total : Number.NaN,
    studyRatio: total > 0 ? Math.sqrt(gaugeVariance / total) : Number.NaN,
    distinctCategories: Math.sqrt((2 * partVariance) / gaugeVariance),
  };
}

export interface Deconvolution {
  readonly observedSd: number;
  readonly gaugeSd: number;
  /** √(observed² − gauge²), not below 0. */
  readonly partSd: number;
  /** True where the gauge's spread is as large as all that was observed. */
  readonly clamped: boolean;
}

/** Takes the spread of the gauge out of that of readings, one a part: s_part² = s_obs² − s_gauge², clamped at 0. */
export function deconvolve(observedSd: number, gaugeSd: number): Deconvolution {
  const difference = observedSd * observedSd - gaugeSd * gaugeSd;
  return { observedSd, gaugeSd, partSd: Math.sqrt(Math.max(0, difference)), clamped: !(difference > 0) };
}

export interface LotSpread {
  readonly lots: number;
  readonly withinSd: number;
  readonly betweenSd: number;
  /** Share of the variance that the parts of one lot have in common. */
  readonly batchShareRatio: number;
}

/**
 * Spread between and within lots by one-way analysis of variance with unequal lots:
 * s_b² = max(0, (MS_b − MS_w)/n₀), n₀ = (N − Σn²/N)/(k − 1). Null where there are fewer than two lots or no repeats in any.
 *
 * Source: ISO 5725-2 / any textbook on analysis of variance (from memory).
 */
export function lotSpread(lots: readonly (readonly number[])[]): LotSpread | null {
  const filled = lots.filter((lot) => lot.length > 0);
  const total = filled.reduce((sum, lot) => sum + lot.length, 0);
  const k = filled.length;
  if (k < 2 || total <= k) return null;
  const shift = filled[0][0];
  const means = filled.map((lot) => lot.reduce((sum, x) => sum + (x - shift), 0) / lot.length);
  const mean = filled.reduce((sum, lot, i) => sum + lot.length * means[i], 0) / total;
  let between = 0;
  let within = 0;
  let squares = 0;
  filled.forEach((lot, i) => {
    between += lot.length * (means[i] - mean) * (means[i] - mean);
    squares += lot.length * lot.length;
    for (const x of lot) within += (x - shift - means[i]) * (x - shift - means[i]);
  });
  const meanWithin = within / (total - k);
  const size = (total - squares / total) / (k - 1);
  const betweenVariance = Math.max(0, (between / (k - 1) - meanWithin) / size);
  const all = betweenVariance + meanWithin;
  return {
    lots: k,
    withinSd: Math.sqrt(meanWithin),
    betweenSd: Math.sqrt(betweenVariance),
    batchShareRatio: all > 0 ? betweenVariance / all : 0,
  };
}
