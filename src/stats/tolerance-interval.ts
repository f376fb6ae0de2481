/** Intervals that hold a stated share of a population with a stated confidence, from a sample of it. */
import { InternalError } from "../errors.ts";
import { regularisedGammaQ } from "../numeric/gamma.ts";
import { noncentralTQuantile } from "../numeric/noncentral-t.ts";
import { findRoot } from "../numeric/roots.ts";
import { normalCdf, normalPdf, normalQuantile } from "../numeric/special.ts";
import { binomialCdf } from "./batch-counts.ts";

function requireShares(coverage: number, confidence: number): void {
  if (!(coverage > 0 && coverage < 1 && confidence > 0 && confidence < 1)) {
    throw new InternalError(`no tolerance interval of coverage ${coverage}, confidence ${confidence}`);
  }
}

/**
 * Factor k of the one-sided normal tolerance limit mean + k·sd: with the confidence, at least the coverage lies below it.
 *
 * Equation: k = t′(confidence; n − 1, z·√n)/√n, t′ the noncentral t quantile, z the normal quantile of the coverage.
 *
 * @param n size of the sample, 2 or more; coverage and confidence open (0, 1)
 *
 * Source: ISO 16269-6:2014, annex (from memory); NIST handbook 7.2.6.3.
 */
export function oneSidedToleranceFactor(n: number, coverage: number, confidence: number): number {
  requireShares(coverage, confidence);
  const root = Math.sqrt(n);
  return noncentralTQuantile(confidence, n - 1, normalQuantile(coverage) * root) / root;
}

/** Half-intervals of Simpson's rule over the mean of the sample; the integrand is smooth. */
const PANELS = 120;

/**
 * Factor k of the two-sided normal tolerance interval mean ± k·sd, exact.
 *
 * Equation: confidence = 2·∫₀^∞ P(χ²_{n−1} ≥ (n − 1)·r(x)²/k²)·√n·φ(√n·x) dx, where r(x) holds the coverage about a mean that is
 * off by x: Φ(x + r) − Φ(x − r) = coverage.
 *
 * Source: ISO 16269-6:2014, annex (from memory). Accuracy: 1e-8.
 */
export function twoSidedToleranceFactor(n: number, coverage: number, confidence: number): number {
  requireShares(coverage, confidence);
  if (!(n >= 2)) throw new InternalError(`no tolerance interval from ${n} values`);
  const root = Math.sqrt(n);
  const step = 8.5 / PANELS;
  const radii = Array.from({ length: PANELS + 1 }, (_, i) => radiusAbout((i * step) / root, coverage));
  const held = (k: number) => {
    let sum = 0;
    for (let i = 0; i <= PANELS; i += 1) {
      const weight = i === 0 || i === PANELS ? 1 : i % 2 === 1 ? 4 : 2;
      const ratio = radii[i] / k;
      sum += weight * normalPdf(i * step) * regularisedGammaQ(0.5 * (n - 1), 0.5 * (n - 1) * ratio * ratio);
    }
    return (2 * step * sum) / 3 - confidence;
  };
  let high = 2 * radii[0];
  while (held(high) < 0) high *= 2;
  return findRoot(held, 0.5 * radii[0], high, { tolerance: 1e-10 });
}

function radiusAbout(x: number, coverage: number): number {
  const middle = -normalQuantile(0.5 * (1 - coverage));
  return findRoot((r) => normalCdf(x + r) - normalCdf(x - r) - coverage, 0, middle + x + 1, { tolerance: 1e-13 });
}

/**
 * The least sample of which the m-th least and the m-th greatest value (or only one of them) bound the coverage with the confidence,
 * whatever the distribution.
 *
 * @param sides 1 or 2
 *
 * Source: S. S. Wilks, Annals of Mathematical Statistics 12 (1941) 91-96: P(Bin(n, 1 − coverage) ≥ sides·m) ≥ confidence.
 */
export function wilksSampleSize(coverage: number, confidence: number, sides: 1 | 2, m = 1): number {
  requireShares(coverage, confidence);
  const left = sides * m;
  let n = left;
  while (1 - binomialCdf(left - 1, n, 1 - coverage) < confidence) n += 1;
  return n;
}

/** The share that the least and the greatest of n values hold between them with the confidence; the largest such share. */
export function coverageOfExtremes(n: number, confidence: number): number {
  if (n < 2) return 0;
  return findRoot((share) => 1 - binomialCdf(1, n, 1 - share) - confidence, 1e-12, 1 - 1e-12, { tolerance: 1e-12 });
}
