/** The limit states of SOURCE.md as functions of standard normal scores. */
import { normalCdf, normalSurvival } from "../../../src/numeric/special.ts";
import type { LimitFunction } from "../../../src/reliability/limit-function.ts";

export interface LimitState {
  readonly name: string;
  readonly dimensions: number;
  readonly limits: readonly LimitFunction[];
  readonly probability: number;
}

type Point = (z: Float64Array) => number;

/** Columns to one point at a time. */
export function pointwise(dimensions: number, g: Point): LimitFunction {
  const z = new Float64Array(dimensions);
  return (columns, out, count) => {
    for (let i = 0; i < count; i += 1) {
      for (let d = 0; d < dimensions; d += 1) z[d] = columns[d][i];
      out[i] = g(z);
    }
  };
}

function state(name: string, dimensions: number, probability: number, ...limits: Point[]): LimitState {
  return { name, dimensions, probability, limits: limits.map((g) => pointwise(dimensions, g)) };
}

function lognormal(mean: number, sd: number): (z: number) => number {
  const variance = Math.log1p((sd / mean) ** 2);
  const middle = Math.log(mean) - variance / 2;
  return (z) => Math.exp(middle + Math.sqrt(variance) * z);
}

function rackwitz(n: number, probability: number): LimitState {
  const x = lognormal(1, 0.2);
  return state(
    `Rackwitz, n = ${n}`,
    n,
    probability,
    (z) => n + 3 * 0.2 * Math.sqrt(n) - z.reduce((sum, v) => sum + x(v), 0),
  );
}

function fourBranches(k: number, probability: number): LimitState {
  const root = Math.SQRT2;
  return state(
    `four branches, k = ${k}`,
    2,
    probability,
    ([a, b]) => 3 + 0.1 * (a - b) ** 2 - (a + b) / root,
    ([a, b]) => 3 + 0.1 * (a - b) ** 2 + (a + b) / root,
    ([a, b]) => a - b + k / root,
    ([a, b]) => b - a + k / root,
  );
}

const rp8 = [lognormal(120, 12), lognormal(50, 10), lognormal(40, 8)];
const exponential = (z: number) => -Math.log(normalSurvival(z));
const symmetric = (z: number) => 2 * normalCdf(z) - 1;

export const LIMIT_STATES = {
  strengthLoad: state("R - S", 2, 3.872108e-6, ([r, s]) => 200 + 10 * r - (100 + 20 * s)),
  rp8: state("RP8", 6, 7.8979e-4, (z) => {
    const [first, fifth, sixth] = rp8;
    return first(z[0]) + 2 * first(z[1]) + 2 * first(z[2]) + first(z[3]) - 5 * fifth(z[4]) - 5 * sixth(z[5]);
  }),
  rp24: state("RP24", 2, 2.863928e-3, ([a, b]) => 2.5 - 0.2357 * 3 * (a - b) + 0.0046 * (3 * (a + b)) ** 4),
  rp28: state("RP28", 2, 1.452582e-7, ([a, b]) => (78064.4 + 11709.7 * a) * (0.0104 + 0.00156 * b) - 146.14),
  rp33: state(
    "RP33",
    3,
    2.575598e-3,
    ([a, b, c]) => 3 * Math.sqrt(3) - a - b - c,
    ([, , c]) => 3 - c,
  ),
  rp35: state(
    "RP35",
    2,
    3.478946e-3,
    ([a, b]) => 2 - b + Math.exp(-0.1 * a * a) + (0.2 * a) ** 4,
    ([a, b]) => 4.5 - a * b,
  ),
  rp53: state("RP53", 2, 3.132049e-2, ([a, b]) => {
    const [x, y] = [1.5 + a, 2.5 + b];
    return Math.sin(2.5 * x) + 2 - ((x * x + 4) * (y - 1)) / 20;
  }),
  rp54: state("RP54", 20, 9.906031e-4, (z) => z.reduce((sum, v) => sum + exponential(v), 0) - 8.951),
  rp55: state("RP55", 2, 0.5600147, ([a, b]) => {
    const d = symmetric(a) - symmetric(b);
    const bowl = 0.2 + 0.6 * d ** 4;
    const wall = 5 / Math.SQRT2 - 2.2;
    return Math.min(bowl - d / Math.SQRT2, bowl + d / Math.SQRT2, d + wall, wall - d);
  }),
  rp63: state("RP63", 100, 3.769436e-4, (z) => {
    let sum = 0;
    for (let d = 1; d < 100; d += 1) sum += z[d] * z[d];
    return 0.1 * sum - z[0] - 4.5;
  }),
  fourBranches6: fourBranches(6, 4.457331e-3),
  fourBranches7: fourBranches(7, 2.222795e-3),
  rackwitz40: rackwitz(40, 1.98138e-3),
  rackwitz100: rackwitz(100, 1.73488e-3),
  rackwitz250: rackwitz(250, 1.58749e-3),
} as const;
