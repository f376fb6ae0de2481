import type { DifferenceEstimate, RatioEstimate } from "../../studies/decide/assess.ts";
import { decimal, interval, micrometres, percent } from "../words.ts";

/** `92.3 % (92.1 % to 92.5 %)`. */
export function withInterval(estimate: RatioEstimate): string {
  return `${percent(estimate.ratio)} (${interval(estimate)})`;
}

/** A difference of shares in points of a per cent, always with its sign. */
export function signedPoints(ratio: number): string {
  const value = 100 * ratio;
  const digits = Math.abs(value) >= 9.95 ? 1 : Math.abs(value) >= 0.0995 ? 2 : 3;
  const text = decimal(Math.abs(value), digits);
  const isNothing = Number(value.toFixed(digits)) === 0;
  return `${isNothing ? "±" : value > 0 ? "+" : "−"}${text}`;
}

/** `+12.3 points (+11.9 to +12.7)`. */
export function differenceWords({ differenceRatio, lowRatio, highRatio }: DifferenceEstimate): string {
  return `${signedPoints(differenceRatio)} points (${signedPoints(lowRatio)} to ${signedPoints(highRatio)})`;
}

/** `+12.3 (+11.9 to +12.7)`, where the head says points. */
export function differenceCell({ differenceRatio, lowRatio, highRatio }: DifferenceEstimate): string {
  return `${signedPoints(differenceRatio)} (${signedPoints(lowRatio)} to ${signedPoints(highRatio)})`;
}

/** A shift of a length with its sign. */
export function signedMicrometres(mm: number): string {
  return `${mm < 0 ? "−" : "+"}${micrometres(Math.abs(mm))}`;
}

/** Whether an interval excludes zero, and on which side. */
export function signOf({ lowRatio, highRatio }: { lowRatio: number; highRatio: number }): 1 | 0 | -1 {
  if (lowRatio > 0) return 1;
  return highRatio < 0 ? -1 : 0;
}

/** Whether a yield reaches what is required, as far as its interval tells. */
export function reaches(estimate: RatioEstimate, requiredRatio: number): "yes" | "no" | "cannot tell" {
  if (estimate.lowRatio >= requiredRatio) return "yes";
  return estimate.highRatio < requiredRatio ? "no" : "cannot tell";
}

/** A value as written, with its unit as it is printed. */
export function shown(text: string): string {
  return text
    .replaceAll("degC", "°C")
    .replace(/\bum\b/g, "µm")
    .replaceAll(" ", "\u00a0");
}
