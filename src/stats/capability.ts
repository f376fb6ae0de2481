/** Capability of a process against its limits, from a sample, with what the size of the sample leaves open. */
import { InternalError } from "../errors.ts";
import { chiSquareQuantile } from "../numeric/chi-square.ts";
import { noncentralTCdf } from "../numeric/noncentral-t.ts";
import { findRoot } from "../numeric/roots.ts";
import { normalQuantile, normalSurvival } from "../numeric/special.ts";

export interface CapabilityIndex {
  readonly valueRatio: number;
  readonly lowRatio: number;
  readonly highRatio: number;
}

export interface Capability {
  readonly n: number;
  readonly Cp: CapabilityIndex;
  readonly Cpk: CapabilityIndex;
  /** One-sided 95 % lower bound of Cpk against its nearer limit, exact for a normal process. */
  readonly CpkLowerBoundRatio: number;
  /** Share outside the limits of a normal process with the mean and sd of the sample. */
  readonly outsideRatio: { readonly below: number; readonly above: number };
  /** Values of the sample itself outside the limits. */
  readonly counted: { readonly below: number; readonly above: number };
}

/**
 * Cp = (U − L)/(6·s) and Cpk = min(U − x̄, x̄ − L)/(3·s).
 *
 * The interval of Cp is exact for a normal process, Cp·√(χ²/(n − 1)); that of Cpk is Bissell's approximation
 * Cpk ± z·√(1/(9n) + Cpk²/(2(n − 1))). 95 % two-sided.
 *
 * @param values the sample, two or more; low below high, in its unit
 *
 * Source: ISO 22514-2 (indices, from memory); A. F. Bissell, Applied Statistics 39 (1990) 331-340 (from memory).
 */
export function capabilityOf(
  mean: number,
  sd: number,
  values: ArrayLike<number>,
  low: number,
  high: number,
): Capability {
  const n = values.length;
  if (!(n >= 2 && sd > 0 && low < high)) throw new InternalError(`no capability of ${n} values with sd ${sd}`);
  const cp = (high - low) / (6 * sd);
  const cpk = Math.min(high - mean, mean - low) / (3 * sd);
  const half = -normalQuantile(0.025) * Math.sqrt(1 / (9 * n) + (cpk * cpk) / (2 * (n - 1)));
  const scale = (p: number) => Math.sqrt(chiSquareQuantile(p, n - 1) / (n - 1));
  let below = 0;
  let above = 0;
  for (let i = 0; i < n; i += 1) {
    if (values[i] < low) below += 1;
    else if (values[i] > high) above += 1;
  }
  return {
    n,
    Cp: { valueRatio: cp, lowRatio: cp * scale(0.025), highRatio: cp * scale(0.975) },
    Cpk: { valueRatio: cpk, lowRatio: cpk - half, highRatio: cpk + half },
    CpkLowerBoundRatio: capabilityLowerBound(cpk, n),
    outsideRatio: { below: normalSurvival((mean - low) / sd), above: normalSurvival((high - mean) / sd) },
    counted: { below, above },
  };
}

/**
 * The capability that a process has at least, with the confidence, when a sample of n showed `cpk` against one limit.
 *
 * Equation: the c with P(T′ ≤ 3·cpk·√n) = confidence, T′ noncentral t with n − 1 degrees of freedom and noncentrality 3·c·√n.
 *
 * Source: W. L. Pearn, S. Kotz, Encyclopedia and Handbook of Process Capability Indices, 2006 (from memory). Accuracy: 1e-8.
 */
export function capabilityLowerBound(cpk: number, n: number, confidence = 0.95): number {
  const root = 3 * Math.sqrt(n);
  const f = (c: number) => noncentralTCdf(root * cpk, n - 1, root * c) - confidence;
  let low = cpk - 2 / Math.sqrt(n) - Math.abs(cpk);
  while (f(low) < 0) low -= 1;
  return findRoot(f, low, cpk + 1, { tolerance: 1e-10 });
}

/** Share outside ±3·Cp standard deviations of a centred normal process. */
export function centredOutsideRatio(cp: number): number {
  return 2 * normalSurvival(3 * cp);
}
