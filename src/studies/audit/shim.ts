import type { Posterior } from "./posterior.ts";

export interface ChangePoint {
  /** Added to the machined offset, mm. */
  readonly changeMm: number;
  readonly goodRatio: number;
}

/** Furthest change that is looked at, mm. */
const FURTHEST_MM = 0.4;

/**
 * Chance of being good in every state over a change of the machined offset, in steps: a draw is good exactly while its offset lies in its
 * own acceptance window, so that no draw is evaluated again.
 *
 * @param stepMm above 0
 * @returns points in steps from −0.4 to 0.4 mm, the unchanged unit among them
 */
export function chanceOverChange(posterior: Posterior, stepMm: number): ChangePoint[] {
  const reach = Math.max(1, Math.floor(FURTHEST_MM / stepMm));
  const size = 2 * reach + 1;
  const steps = new Float64Array(size + 1);
  const { weights, machinedMm, lowMm, highMm, samples, all } = posterior;
  for (let i = 0; i < samples; i += 1) {
    if (!(weights[i] > 0 && lowMm[i] <= highMm[i])) continue;
    // The tiny slack keeps a window's end that lies on a step from falling off it by rounding.
    const from = Math.max(0, Math.ceil((lowMm[i] - machinedMm[i]) / stepMm - 1e-9) + reach);
    const to = Math.min(size - 1, Math.floor((highMm[i] - machinedMm[i]) / stepMm + 1e-9) + reach);
    if (from > to) continue;
    steps[from] += weights[i];
    steps[to + 1] -= weights[i];
  }
  let sum = 0;
  return Array.from({ length: size }, (_, place) => {
    sum += steps[place];
    const goodRatio = Math.min(1, Math.max(0, sum / all.weight));
    return { changeMm: (place - reach) * stepMm, goodRatio };
  });
}

/** The likeliest point; among equals that nearest to no change. */
export function bestChange(points: readonly ChangePoint[]): ChangePoint {
  return points.reduce((best, point) => {
    const gain = point.goodRatio - best.goodRatio;
    const isNearer = Math.abs(point.changeMm) < Math.abs(best.changeMm);
    return gain > 1e-12 || (gain > -1e-12 && isNearer) ? point : best;
  });
}
