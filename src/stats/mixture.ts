/** Whether a sample looks like two populations in one box: two machines, two tools, two lots. */
import { exp, log } from "../numeric/elementary.ts";

export interface NormalComponent {
  readonly weightRatio: number;
  readonly mean: number;
  readonly sd: number;
}

export interface Mixture {
  readonly components: readonly [NormalComponent, NormalComponent];
  readonly logLikelihood: number;
  /** Bayesian information criterion of one normal and of two; the lower one fits better. */
  readonly onePopulationBic: number;
  readonly twoPopulationsBic: number;
  /** Two fit better than any one population by more than 10, and stand at least two of their standard deviations apart. */
  readonly isLikely: boolean;
}

const LOG_ROOT_TWO_PI = 0.9189385332046727;
/** A difference of BIC past which the evidence counts as very strong (R. E. Kass, A. E. Raftery, 1995; from memory). */
const STRONG = 10;
/** No component may shrink onto a single value: its sd is at least this share of the whole sample's. */
const LEAST_SD = 0.05;

/**
 * Two normals by expectation and maximisation, from a few starting splits of the sorted sample; the best of them counts.
 *
 * Source: A. P. Dempster, N. M. Laird, D. B. Rubin, J. Royal Statist. Soc. B 39 (1977) 1-38; G. Schwarz, Annals of Statistics 6 (1978) 461-464.
 *
 * A flat population is no two: the uniform on the sample's range counts among the rivals.
 *
 * @param sorted ascending, eight or more values with spread
 * @param rivalBic the least BIC of whatever else was fitted to the same values
 */
export function fitMixture(sorted: ArrayLike<number>, rivalBic = Number.POSITIVE_INFINITY): Mixture {
  const n = sorted.length;
  const whole = momentsOf(sorted, 0, n);
  const oneLogLikelihood = -n * (log(whole.sd) + LOG_ROOT_TWO_PI + 0.5);
  let best: { components: [NormalComponent, NormalComponent]; logLikelihood: number } | null = null;
  for (const share of [0.2, 0.35, 0.5, 0.65, 0.8]) {
    const found = climb(sorted, Math.min(n - 2, Math.max(2, Math.round(share * n))), LEAST_SD * whole.sd);
    if (best === null || found.logLikelihood > best.logLikelihood) best = found;
  }
  const { components, logLikelihood } = best!;
  const onePopulationBic = 2 * log(n) - 2 * oneLogLikelihood;
  const twoPopulationsBic = 5 * log(n) - 2 * logLikelihood;
  const uniformBic = 2 * log(n) + 2 * n * log(sorted[n - 1] - sorted[0]);
  const [a, b] = components;
  const apart = Math.abs(b.mean - a.mean) / Math.sqrt(0.5 * (a.sd * a.sd + b.sd * b.sd));
  return {
    components,
    logLikelihood,
    onePopulationBic,
    twoPopulationsBic,
    isLikely: Math.min(onePopulationBic, uniformBic, rivalBic) - twoPopulationsBic > STRONG && apart >= 2,
  };
}

function climb(sorted: ArrayLike<number>, split: number, leastSd: number) {
  const n = sorted.length;
  const first = momentsOf(sorted, 0, split);
  const second = momentsOf(sorted, split, n);
  let [w, m1, s1, m2, s2] = [split / n, first.mean, first.sd, second.mean, second.sd];
  s1 = Math.max(s1, leastSd);
  s2 = Math.max(s2, leastSd);
  const share = new Float64Array(n);
  let last = Number.NEGATIVE_INFINITY;
  let logLikelihood = last;
  for (let step = 0; step < 500; step += 1) {
    logLikelihood = 0;
    const [height1, height2] = [log(w) - log(s1), log(1 - w) - log(s2)];
    for (let i = 0; i < n; i += 1) {
      const z1 = (sorted[i] - m1) / s1;
      const z2 = (sorted[i] - m2) / s2;
      const l1 = height1 - 0.5 * z1 * z1;
      const l2 = height2 - 0.5 * z2 * z2;
      const top = Math.max(l1, l2);
      const e1 = exp(l1 - top);
      const sum = e1 + exp(l2 - top);
      share[i] = e1 / sum;
      logLikelihood += top + log(sum) - LOG_ROOT_TWO_PI;
    }
    if (logLikelihood - last < 1e-9 * Math.abs(logLikelihood) + 1e-12) break;
    last = logLikelihood;
    let total = 0;
    let sum1 = 0;
    let sum2 = 0;
    for (let i = 0; i < n; i += 1) {
      total += share[i];
      sum1 += share[i] * (sorted[i] - sorted[0]);
      sum2 += (1 - share[i]) * (sorted[i] - sorted[0]);
    }
    if (!(total > 1e-9 * n && total < (1 - 1e-9) * n)) break;
    m1 = sorted[0] + sum1 / total;
    m2 = sorted[0] + sum2 / (n - total);
    let squares1 = 0;
    let squares2 = 0;
    for (let i = 0; i < n; i += 1) {
      squares1 += share[i] * (sorted[i] - m1) * (sorted[i] - m1);
      squares2 += (1 - share[i]) * (sorted[i] - m2) * (sorted[i] - m2);
    }
    s1 = Math.max(leastSd, Math.sqrt(squares1 / total));
    s2 = Math.max(leastSd, Math.sqrt(squares2 / (n - total)));
    w = total / n;
  }
  const components: [NormalComponent, NormalComponent] = [
    { weightRatio: w, mean: m1, sd: s1 },
    { weightRatio: 1 - w, mean: m2, sd: s2 },
  ];
  components.sort((a, b) => a.mean - b.mean);
  return { components, logLikelihood };
}

function momentsOf(sorted: ArrayLike<number>, from: number, to: number): { mean: number; sd: number } {
  let sum = 0;
  for (let i = from; i < to; i += 1) sum += sorted[i] - sorted[from];
  const mean = sorted[from] + sum / (to - from);
  let squares = 0;
  for (let i = from; i < to; i += 1) squares += (sorted[i] - mean) * (sorted[i] - mean);
  return { mean, sd: Math.sqrt(squares / (to - from)) };
}
