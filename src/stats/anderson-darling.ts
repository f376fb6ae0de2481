/** How badly a sample fits a distribution, with weight on the tails. */
import { exp, log } from "../numeric/elementary.ts";
import { normalCdf, normalSurvival } from "../numeric/special.ts";

/** Probabilities are kept off 0, where a value beyond the support would make the sum infinite. */
const LEAST = 1e-300;

/**
 * A² = −n − Σ (2i − 1)/n·[ln F(x_i) + ln(1 − F(x_{n+1−i}))] over the sorted sample.
 *
 * @param lower F at every value of the sorted sample; @param upper 1 − F at every value
 *
 * Source: T. W. Anderson, D. A. Darling, J. Amer. Statist. Assoc. 49 (1954) 765-769.
 */
export function andersonDarling(lower: ArrayLike<number>, upper: ArrayLike<number>): number {
  const n = lower.length;
  let sum = 0;
  for (let i = 0; i < n; i += 1) {
    sum += (2 * i + 1) * (log(Math.max(LEAST, lower[i])) + log(Math.max(LEAST, upper[n - 1 - i])));
  }
  return -n - sum / n;
}

export interface NormalityTest {
  /** A². */
  readonly statisticRatio: number;
  /** A* = A²·(1 + 0.75/n + 2.25/n²). */
  readonly adjustedRatio: number;
  /** Chance of so bad a fit when the sample is normal. */
  readonly pRatio: number;
}

/**
 * The test of a sample for a normal distribution whose mean and sd (divisor n − 1) are estimated from it.
 *
 * @param sorted ascending, eight or more values with spread
 *
 * Source: M. A. Stephens in R. B. D'Agostino, M. A. Stephens, Goodness-of-Fit Techniques, 1986, table 4.9 (p by its piecewise
 * exponentials, from memory). Critical A* at 10, 5, 2.5, 1 %: 0.631, 0.752, 0.873, 1.035.
 */
export function normalityTest(sorted: ArrayLike<number>, mean: number, sd: number): NormalityTest {
  const n = sorted.length;
  const lower = new Float64Array(n);
  const upper = new Float64Array(n);
  for (let i = 0; i < n; i += 1) {
    const z = (sorted[i] - mean) / sd;
    lower[i] = normalCdf(z);
    upper[i] = normalSurvival(z);
  }
  const statisticRatio = andersonDarling(lower, upper);
  const adjustedRatio = statisticRatio * (1 + 0.75 / n + 2.25 / (n * n));
  return { statisticRatio, adjustedRatio, pRatio: chanceOfAdjusted(adjustedRatio) };
}

/** Chance that a normal sample shows an A* of at least `a`, mean and sd estimated. Source as `normalityTest`. */
export function chanceOfAdjusted(a: number): number {
  let p: number;
  if (a >= 0.6) p = exp(1.2937 - 5.709 * a + 0.0186 * a * a);
  else if (a >= 0.34) p = exp(0.9177 - 4.279 * a - 1.38 * a * a);
  else if (a >= 0.2) p = 1 - exp(-8.318 + 42.796 * a - 59.938 * a * a);
  else p = 1 - exp(-13.436 + 101.14 * a - 223.73 * a * a);
  // The parabola of the far tail turns upwards again past A* = 153.
  return a > 150 ? 0 : Math.min(1, Math.max(0, p));
}
