import { log } from "../numeric/elementary.ts";
import type { Distribution } from "./types.ts";

/**
 * Distribution of shift + factor·x, where x has the given distribution.
 *
 * @param factor above 0
 */
export function affine(distribution: Distribution, factor: number, shift: number): Distribution {
  const move = (value: number) => shift + factor * value;
  switch (distribution.kind) {
    case "constant":
      return { kind: "constant", value: move(distribution.value) };
    case "normal":
      return { kind: "normal", mean: move(distribution.mean), sd: factor * distribution.sd };
    case "truncated-normal":
      return {
        kind: "truncated-normal",
        mean: move(distribution.mean),
        sd: factor * distribution.sd,
        low: move(distribution.low),
        high: move(distribution.high),
      };
    case "uniform":
    case "arcsine":
      return { kind: distribution.kind, low: move(distribution.low), high: move(distribution.high) };
    case "triangular":
      return {
        kind: "triangular",
        low: move(distribution.low),
        mode: move(distribution.mode),
        high: move(distribution.high),
      };
    case "trapezoidal":
      return {
        kind: "trapezoidal",
        low: move(distribution.low),
        shoulderLow: move(distribution.shoulderLow),
        shoulderHigh: move(distribution.shoulderHigh),
        high: move(distribution.high),
      };
    case "skewed":
      return { ...distribution, low: move(distribution.low), high: move(distribution.high) };
    case "lognormal":
      return { ...distribution, logMean: distribution.logMean + log(factor), shift: move(distribution.shift) };
    case "student-t":
      return { ...distribution, mean: move(distribution.mean), scale: factor * distribution.scale };
    case "empirical":
      return { kind: "empirical", values: distribution.values.map(move) };
  }
}
