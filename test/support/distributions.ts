import type { Distribution } from "../../src/distributions/types.ts";

/** One or more of every family, with awkward ones: far and narrow limits, U shapes, heavy tails, shoulders at the ends. */
export const SAMPLE_DISTRIBUTIONS: readonly [name: string, d: Distribution][] = [
  ["normal", { kind: "normal", mean: 0.012, sd: 0.0025 }],
  ["normal, large mean", { kind: "normal", mean: 60, sd: 0.003 }],
  ["truncated normal ±3 sd", { kind: "truncated-normal", mean: 60, sd: 0.01 / 3, low: 59.99, high: 60.01 }],
  ["truncated normal, one side", { kind: "truncated-normal", mean: 0, sd: 1, low: 0, high: 3 }],
  ["truncated normal, far upper tail", { kind: "truncated-normal", mean: 0, sd: 1, low: 6, high: 9 }],
  ["truncated normal, far lower tail", { kind: "truncated-normal", mean: 0, sd: 1, low: -12, high: -8 }],
  ["truncated normal, narrow", { kind: "truncated-normal", mean: 0, sd: 1, low: 0.999, high: 1.001 }],
  ["truncated normal, loose", { kind: "truncated-normal", mean: 0, sd: 1, low: -40, high: 60 }],
  ["uniform", { kind: "uniform", low: -2, high: 3 }],
  ["triangular", { kind: "triangular", low: 1, mode: 1.7, high: 4 }],
  ["triangular, mode at an end", { kind: "triangular", low: 1, mode: 4, high: 4 }],
  ["trapezoidal", { kind: "trapezoidal", low: 0, shoulderLow: 0.2, shoulderHigh: 0.7, high: 1 }],
  ["trapezoidal, no rise", { kind: "trapezoidal", low: 0, shoulderLow: 0, shoulderHigh: 0.7, high: 1 }],
  ["skewed", { kind: "skewed", low: 5, high: 20, alpha: 2.2, beta: 3.8 }],
  ["skewed, U-shaped", { kind: "skewed", low: 0, high: 1, alpha: 0.5, beta: 0.7 }],
  ["skewed, narrow", { kind: "skewed", low: 0, high: 1, alpha: 400, beta: 900 }],
  ["lognormal", { kind: "lognormal", logMean: 0.5, logSd: 0.3, shift: 2 }],
  ["student-t, 9", { kind: "student-t", mean: 20, scale: 0.4, degreesOfFreedom: 9 }],
  ["student-t, 3", { kind: "student-t", mean: 0, scale: 1, degreesOfFreedom: 3 }],
  ["student-t, 1", { kind: "student-t", mean: 0, scale: 1, degreesOfFreedom: 1 }],
  ["arcsine", { kind: "arcsine", low: -0.5, high: 0.5 }],
  ["empirical", { kind: "empirical", values: [1, 1.5, 1.5000001, 2, 7, 7.5] }],
];

/** Probabilities from the least 52-bit uniform to the greatest. */
export const PROBABILITIES = [
  2 ** -53,
  1e-12,
  1e-9,
  1e-6,
  2e-4,
  1e-3,
  0.01,
  0.0749,
  0.0751,
  0.2,
  0.4,
  0.5,
  0.6,
  0.8,
  0.93,
  0.99,
  0.9995,
  1 - 1e-6,
  1 - 2 ** -53,
];

/** The stratified uniforms (k + v)/n, v from a fixed linear congruential generator: enough to test with, no part of the program. */
export function stratifiedUniforms(n: number, seed = 1): Float64Array {
  const column = new Float64Array(n);
  let state = seed >>> 0;
  for (let k = 0; k < n; k++) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    column[k] = (k + (state + 0.5) / 2 ** 32) / n;
  }
  return column;
}

/** Independent uniforms from the same generator, upper bits first through a multiplicative mix. */
export function pseudoUniforms(n: number, seed = 1): Float64Array {
  const column = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    let x = Math.imul(k + 1, 0x9e3779b9) ^ Math.imul(seed, 0x85ebca6b);
    x = Math.imul(x ^ (x >>> 16), 0x21f0aaad);
    x = Math.imul(x ^ (x >>> 15), 0x735a2d97);
    column[k] = (((x ^ (x >>> 15)) >>> 0) + 0.5) / 2 ** 32;
  }
  return column;
}
