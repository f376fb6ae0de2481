/** How many units of a batch will fail: binomial where the chance is known, beta-binomial where it varies or is uncertain. */
import { InternalError } from "../errors.ts";
import { exp, log1p } from "../numeric/elementary.ts";
import { deviance, stirlingError } from "../numeric/gamma.ts";
import { normalQuantile, regularisedBetaBothSides } from "../numeric/special.ts";

const TWO_PI = 6.283185307179586;

function checkTrials(n: number): void {
  if (!(Number.isInteger(n) && n >= 0)) throw new InternalError(`no count of trials ${n}`);
}

function checkProbability(p: number): void {
  if (!(p >= 0 && p <= 1)) throw new InternalError(`no probability ${p}`);
}

/**
 * P(exactly k of n), each with chance p.
 *
 * Source: C. Loader, "Fast and accurate computation of binomial probabilities", 2000. Accuracy: 1e-14 relative and better.
 */
export function binomialProbability(k: number, n: number, p: number): number {
  checkTrials(n);
  checkProbability(p);
  if (!(Number.isInteger(k) && k >= 0 && k <= n)) return 0;
  const q = 1 - p;
  if (p === 0) return k === 0 ? 1 : 0;
  if (q === 0) return k === n ? 1 : 0;
  if (k === 0) return exp(n * log1p(-p));
  if (k === n) return exp(n * log1p(-q));
  const exponent =
    stirlingError(n) - stirlingError(k) - stirlingError(n - k) - deviance(k, n * p) - deviance(n - k, n * q);
  return exp(exponent) * Math.sqrt(n / (TWO_PI * k * (n - k)));
}

/** P(at most k of n), each with chance p: I_{1-p}(n - k, k + 1). */
export function binomialCdf(k: number, n: number, p: number): number {
  checkTrials(n);
  checkProbability(p);
  if (k < 0) return 0;
  const whole = Math.floor(k);
  return whole >= n ? 1 : regularisedBetaBothSides(1 - p, p, n - whole, whole + 1);
}

/** The least k with P(at most k of n) >= probability. */
export function binomialQuantile(probability: number, n: number, p: number): number {
  checkTrials(n);
  checkProbability(p);
  checkProbability(probability);
  if (probability === 0) return 0;
  if (probability === 1) return p === 0 ? 0 : n;
  const reaches = (k: number) => binomialCdf(k, n, p) >= probability;
  const guess = Math.floor(n * p + normalQuantile(probability) * Math.sqrt(n * p * (1 - p)));
  let low = Math.min(n, Math.max(0, guess)) - 1;
  let high = low + 1;
  // Widen to a bracket (low fails, high reaches), then halve it.
  for (let step = 1; low >= 0 && reaches(low); step *= 2) {
    high = low;
    low -= step;
  }
  low = Math.max(-1, low);
  for (let step = 1; high < n && !reaches(high); step *= 2) {
    low = high;
    high += step;
  }
  high = Math.min(n, high);
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (reaches(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/**
 * P(k of n) for k = 0 … n when the chance itself is beta distributed. The predictive distribution of a batch of n after x failures
 * among m simulated units is that with alpha = x + 1/2, beta = m - x + 1/2 (Jeffreys).
 *
 * @param n size of the batch, 0 to 10 million
 * @param alpha, beta shapes, > 0
 * @returns n + 1 probabilities that sum to 1
 *
 * Source: N. L. Johnson, A. W. Kemp, S. Kotz, Univariate Discrete Distributions, 2005, 6.2.2 (from memory), by the ratio of neighbours
 * p(k + 1)/p(k) = (n - k)(k + alpha)/((k + 1)(n - k - 1 + beta)). Accuracy: 1e-12 relative where the probability is above 1e-250.
 */
export function betaBinomialProbabilities(n: number, alpha: number, beta: number): Float64Array {
  checkTrials(n);
  if (n > 1e7) throw new InternalError(`a batch of ${n} is too large for a table`);
  if (!(alpha > 0 && beta > 0)) throw new InternalError(`no beta distribution with shapes ${alpha}, ${beta}`);
  const probabilities = new Float64Array(n + 1);
  const start = mode(n, alpha, beta);
  probabilities[start] = 1;
  let total = 1;
  for (let k = start; k < n; k += 1) {
    const next = (probabilities[k] * ((n - k) * (k + alpha))) / ((k + 1) * (n - k - 1 + beta));
    probabilities[k + 1] = next;
    total += next;
  }
  for (let k = start; k > 0; k -= 1) {
    const next = (probabilities[k] * (k * (n - k + beta))) / ((n - k + 1) * (k - 1 + alpha));
    probabilities[k - 1] = next;
    total += next;
  }
  for (let k = 0; k <= n; k += 1) probabilities[k] /= total;
  return probabilities;
}

/** The likeliest count, or an end of the range where that is as good a place to start. */
function mode(n: number, alpha: number, beta: number): number {
  if (alpha > 1 && beta > 1) return Math.min(n, Math.max(0, Math.floor(((n + 1) * (alpha - 1)) / (alpha + beta - 2))));
  return alpha > 1 ? n : 0;
}

/** The least k at which a table of probabilities sums to `probability`. */
export function countQuantile(probabilities: Float64Array, probability: number): number {
  checkProbability(probability);
  let sum = 0;
  for (let k = 0; k < probabilities.length; k += 1) {
    sum += probabilities[k];
    // The sum of a table is 1 only to rounding.
    if (sum >= probability * (1 - 1e-13)) return k;
  }
  return probabilities.length - 1;
}

/** The expected count of a table of probabilities. */
export function countMean(probabilities: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < probabilities.length; k += 1) sum += k * probabilities[k];
  return sum;
}
