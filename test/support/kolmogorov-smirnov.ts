/**
 * Distance between the empirical distribution of a sample and a CDF, and the chance of one as large.
 *
 * The p-value is Kolmogorov's limit with the correction of M. A. Stephens (J. R. Statist. Soc. B 32 (1970) 115-122): λ = (√n + 0.12 + 0.11/√n)·D.
 */
export function kolmogorovSmirnov(
  sample: Float64Array,
  cdf: (x: number) => number,
): { readonly distance: number; readonly p: number } {
  const sorted = sample.slice().sort();
  const n = sorted.length;
  let distance = 0;
  for (let index = 0; index < n; index += 1) {
    const value = cdf(sorted[index]);
    distance = Math.max(distance, value - index / n, (index + 1) / n - value);
  }
  const root = Math.sqrt(n);
  return { distance, p: kolmogorovSurvival((root + 0.12 + 0.11 / root) * distance) };
}

/** P(K > λ) of Kolmogorov's limit distribution: 2·Σ (-1)^(k-1)·exp(-2k²λ²). */
export function kolmogorovSurvival(lambda: number): number {
  if (lambda < 0.2) return 1;
  let sum = 0;
  for (let k = 1; k <= 100; k += 1) sum += (k % 2 === 1 ? 2 : -2) * Math.exp(-2 * k * k * lambda * lambda);
  return Math.min(1, Math.max(0, sum));
}
