import type { BatchCosts, CheckResult, CountDistribution } from "../../studies/batch/result.ts";
import { count, decimal, micrometres, NOTHING, newtons, significant } from "../words.ts";

/** An amount with its currency: whole above a hundred, else with cents. */
export function moneyText(amount: number, { settings }: BatchCosts): string {
  if (!Number.isFinite(amount)) return NOTHING;
  const number = decimal(amount, Math.abs(amount) >= 100 ? 0 : 2);
  return settings.currency === "" ? number : `${number}\u00a0${settings.currency}`;
}

/** `about 23 (90 % of batches: 14 to 33)`. */
export function countText(distribution: CountDistribution): string {
  const { expected } = distribution;
  return `about ${expected < 10 ? decimal(expected, 1) : count(expected)} (90 % of batches: ${count(quantileOf(distribution, 0.05))} to ${count(quantileOf(distribution, 0.95))})`;
}

export function quantileOf({ quantiles }: CountDistribution, probability: number): number {
  return quantiles.find(({ probabilityRatio }) => probabilityRatio === probability)?.count ?? Number.NaN;
}

export const GAUGE_NAMES = { play: "axial play", preload: "preload", torque: "friction torque" } as const;

export function gaugeText(value: number, { settings }: CheckResult): string {
  if (settings.unit === "mm") return micrometres(value);
  return settings.unit === "N" ? newtons(value) : `${significant(value)}\u00a0N·mm`;
}

/** `a sample of 50 accepted with none failing`. */
export function planText(sample: number, accept: number): string {
  return `sample of ${count(sample)} accepted with ${accept === 0 ? "none" : `up to ${count(accept)}`} failing`;
}
