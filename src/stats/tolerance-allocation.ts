/** Cheapest tolerances whose joint spread stays within a budget: continuous by Lagrange's conditions, then in steps. */
import { InternalError } from "../errors.ts";
import { exp, pow } from "../numeric/elementary.ts";

/** What a part costs with the tolerance ±t: falls as t grows, ever more slowly. */
export type CostCurve =
  /** a + b/t^k; reciprocal with k = 1, reciprocal squared with k = 2. b in money·(unit of t)^k. */
  | { readonly kind: "power"; readonly a: number; readonly b: number; readonly k: number }
  /** a·exp(−b·t) */
  | { readonly kind: "exponential"; readonly a: number; readonly b: number };

/** One part whose tolerance is free between two ends. */
export interface FreeTolerance {
  readonly curve: CostCurve;
  /** How much of the budget a tolerance takes: (weight·t)^p. */
  readonly weight: number;
  readonly low: number;
  readonly high: number;
}

/** Price C of a tolerance t: a + b/t^k, or a·e^(−b·t). The unit of t is that of the curve. */
export function costOf(curve: CostCurve, t: number): number {
  return curve.kind === "power" ? curve.a + curve.b / pow(t, curve.k) : curve.a * exp(-curve.b * t);
}

/** dC/dt, below 0. */
export function costSlope(curve: CostCurve, t: number): number {
  return curve.kind === "power" ? (-curve.k * curve.b) / pow(t, curve.k + 1) : -curve.a * curve.b * exp(-curve.b * t);
}

/**
 * Tolerances of least total cost under Σ (w_i·t_i)^p ≤ R^p, within their ends.
 *
 * Conditions: −C_i'(t_i) = λ·p·w_i^p·t_i^(p−1), λ such that the budget is used up. Power curves alone have the closed form
 * t_i = (k_i·b_i/(λ·p·w_i^p))^(1/(k_i + p)).
 *
 * @param power p: 1 for worst case, 2 for root sum square; a yield that depends on the spread alone is the latter
 * @param budget R, in the unit of the tolerances
 * @returns null where even the tightest tolerances take more than the budget
 * Source: Lagrange's conditions as applied by K. W. Chase, W. H. Greenwood, "Design issues in mechanical tolerance analysis",
 * Manufacturing Review 1 (1988) 50-59 (from memory).
 */
export function allocateTolerances(
  parts: readonly FreeTolerance[],
  budget: number,
  power: number,
): Float64Array | null {
  const spent = (ts: Float64Array) => parts.reduce((sum, { weight }, i) => sum + pow(weight * ts[i], power), 0);
  const limit = pow(budget, power);
  const tightest = Float64Array.from(parts, ({ low }) => low);
  const widest = Float64Array.from(parts, ({ high }) => high);
  if (spent(tightest) > limit * (1 + 1e-12)) return null;
  if (spent(widest) <= limit) return widest;
  const at = (logLambda: number) => Float64Array.from(parts, (part) => toleranceFor(part, exp(logLambda), power));
  let low = -60;
  let high = 60;
  // A scale of money and length can be anything: widen until the budget lies between.
  while (spent(at(low)) < limit && low > -600) low -= 60;
  while (spent(at(high)) > limit && high < 600) high += 60;
  for (let step = 0; step < 200 && high - low > 1e-13 * Math.max(1, Math.abs(low)); step += 1) {
    const middle = 0.5 * (low + high);
    if (spent(at(middle)) > limit) low = middle;
    else high = middle;
  }
  return at(high);
}

/** The tolerance at which a part's saving is worth the budget it takes. */
function toleranceFor({ curve, weight, low, high }: FreeTolerance, lambda: number, power: number): number {
  if (weight === 0) return high;
  const price = lambda * power * pow(weight, power);
  if (curve.kind === "power") {
    return Math.min(high, Math.max(low, pow((curve.k * curve.b) / price, 1 / (curve.k + power))));
  }
  const worth = (t: number) => -costSlope(curve, t) - price * pow(t, power - 1);
  if (worth(low) <= 0) return low;
  if (worth(high) >= 0) return high;
  let a = low;
  let b = high;
  for (let step = 0; step < 100 && b - a > 1e-14 * b; step += 1) {
    const middle = 0.5 * (a + b);
    if (worth(middle) > 0) a = middle;
    else b = middle;
  }
  return a;
}

/** One way of making a part: its tolerance, its price, and what it is called. */
export interface ToleranceStep {
  readonly name: string;
  readonly tolerance: number;
  readonly price: number;
}

/** Most nodes that are looked at before the best set so far is taken. */
const MOST_NODES = 2_000_000;

/**
 * One step a part, of least total price, under Σ (w_i·t_i)^p ≤ R^p: branch and bound, parts with the most at stake first.
 *
 * @returns places of the steps chosen, or null where none fit; `isProven` is false where the search was cut short
 */
export function chooseSteps(
  parts: readonly { readonly weight: number; readonly steps: readonly ToleranceStep[] }[],
  budget: number,
  power: number,
): { readonly chosen: readonly number[]; readonly isProven: boolean } | null {
  if (parts.some(({ steps }) => steps.length === 0)) throw new InternalError("a part without a step");
  const limit = pow(budget, power) * (1 + 1e-12);
  const listed = parts.map(({ weight, steps }, part) => ({
    part,
    // Cheapest first; a step that takes more and costs more than another is never chosen.
    steps: steps
      .map(({ tolerance, price }, place) => ({ place, price, takes: pow(weight * tolerance, power) }))
      .sort((a, b) => a.price - b.price || a.takes - b.takes)
      .filter((step, i, all) => !all.slice(0, i).some((other) => other.takes <= step.takes)),
  }));
  const order = listed.sort((a, b) => range(b.steps) - range(a.steps));
  const leastTakes = suffixSums(order.map(({ steps }) => Math.min(...steps.map(({ takes }) => takes))));
  const leastPrice = suffixSums(order.map(({ steps }) => Math.min(...steps.map(({ price }) => price))));
  const current = new Array<number>(parts.length).fill(0);
  let best: number[] | null = null;
  let bestPrice = Number.POSITIVE_INFINITY;
  let nodes = 0;
  const visit = (depth: number, taken: number, price: number): void => {
    nodes += 1;
    if (nodes > MOST_NODES || price + leastPrice[depth] >= bestPrice || taken + leastTakes[depth] > limit) return;
    if (depth === order.length) {
      best = current.slice();
      bestPrice = price;
      return;
    }
    for (const step of order[depth].steps) {
      current[order[depth].part] = step.place;
      visit(depth + 1, taken + step.takes, price + step.price);
    }
  };
  visit(0, 0, 0);
  return best === null ? null : { chosen: best, isProven: nodes <= MOST_NODES };
}

function range(steps: readonly { readonly takes: number }[]): number {
  const takes = steps.map((step) => step.takes);
  return Math.max(...takes) - Math.min(...takes);
}

/** Sum of this and all later entries; one entry more, 0, behind them. */
function suffixSums(values: readonly number[]): number[] {
  const sums = [...values, 0];
  for (let i = values.length - 1; i >= 0; i -= 1) sums[i] += sums[i + 1];
  return sums;
}
