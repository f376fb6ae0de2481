/** Whether a measured item conforms, and the risks of deciding by a measurement. */
import { InternalError } from "../errors.ts";
import { normalCdf, normalPdf, normalSurvival } from "../numeric/special.ts";

/**
 * Chance that a value measured as y with standard uncertainty u lies from low to high (either may be infinite); nothing else known of it.
 *
 * Equation: p = Φ((high − y)/u) − Φ((low − y)/u).
 *
 * Source: JCGM 106:2012, 7.3.
 */
export function conformanceProbability(y: number, u: number, low: number, high: number): number {
  if (!(u >= 0)) throw new InternalError(`no standard uncertainty ${u}`);
  if (u === 0) return y >= low && y <= high ? 1 : 0;
  const a = (low - y) / u;
  const b = (high - y) / u;
  // On whichever side keeps the digits of a small difference.
  return a > 0 ? normalSurvival(a) - normalSurvival(b) : normalCdf(b) - normalCdf(a);
}

/**
 * What is known of a value after a measurement when the process that made it is known: normal prior N(m, s), reading y, uncertainty u.
 *
 * Equation: mean = (u²·m + s²·y)/(u² + s²), sd = u·s/√(u² + s²).
 *
 * Source: JCGM 106:2012, 7.2.2.
 */
export function normalPosterior(
  prior: { readonly mean: number; readonly sd: number },
  y: number,
  u: number,
): { mean: number; sd: number } {
  const total = u * u + prior.sd * prior.sd;
  return {
    mean: (u * u * prior.mean + prior.sd * prior.sd * y) / total,
    sd: (u * prior.sd) / Math.sqrt(total),
  };
}

export interface ConformityRisks {
  /** Bad items that are accepted, and good ones that are rejected, as shares of all. */
  readonly consumerRiskRatio: number;
  readonly producerRiskRatio: number;
  readonly nonconformingRatio: number;
}

/** Half-intervals of Simpson's rule over ±9 standard deviations of the process. */
const PANELS = 2000;

/**
 * Global risks of accepting by a reading: a normal process, a normal error of the reading.
 *
 * Equation: R_C = ∫ outside tolerance g(x)·P(accept | x) dx, R_P = ∫ inside g(x)·(1 − P(accept | x)) dx.
 *
 * @param tolerance the limits of what is good; @param acceptance the limits that readings are held to
 *
 * Source: JCGM 106:2012, 9.5.
 */
export function globalRisks(
  process: { readonly mean: number; readonly sd: number },
  measuringSd: number,
  tolerance: { readonly low: number; readonly high: number },
  acceptance: { readonly low: number; readonly high: number },
): ConformityRisks {
  const accepted = (x: number) => conformanceProbability(x, measuringSd, acceptance.low, acceptance.high);
  const density = (x: number) => normalPdf((x - process.mean) / process.sd) / process.sd;
  const low = process.mean - 9 * process.sd;
  const high = process.mean + 9 * process.sd;
  const { low: from, high: to } = tolerance;
  const outside = (f: (x: number) => number) =>
    simpson(f, low, Math.min(high, Math.max(low, from))) + simpson(f, Math.max(low, Math.min(high, to)), high);
  return {
    consumerRiskRatio: outside((x) => density(x) * accepted(x)),
    producerRiskRatio: simpson((x) => density(x) * (1 - accepted(x)), Math.max(low, from), Math.min(high, to)),
    nonconformingRatio: 1 - conformanceProbability(process.mean, process.sd, from, to),
  };
}

function simpson(f: (x: number) => number, low: number, high: number): number {
  if (!(high > low)) return 0;
  const step = (high - low) / PANELS;
  let sum = f(low) + f(high);
  for (let i = 1; i < PANELS; i += 1) sum += (i % 2 === 1 ? 4 : 2) * f(low + i * step);
  return (sum * step) / 3;
}
