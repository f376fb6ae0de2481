import type { SumLaw } from "../reliability/sum-law.ts";

/**
 * A law of the offset for hot loops: its CDF, its upper tail and its density at equal steps, read by cubic Hermite pieces.
 * Plain data, so that one thread makes it and all use it.
 */
export interface OffsetTable {
  readonly low: number;
  readonly high: number;
  readonly below: Float64Array;
  /** The upper tail has a table of its own, so that it keeps its digits. */
  readonly above: Float64Array;
  /** Density times the step. */
  readonly slope: Float64Array;
}

const PIECES = 1024;

/** Chance that is left out at either end of a law without limits. */
const LEFT_OUT = 1e-14;

/**
 * Tabulates a law over the range that carries it.
 *
 * Accuracy: h⁴/384 of the third derivative of the density, below 1e-10 for anything like a normal over ±4 sigma; at a kink
 * of the density h²/32 of its jump in slope, 1e-9 for normals cut at 3 sigma.
 */
export function tabulateLaw(law: SumLaw): OffsetTable {
  const low = Number.isFinite(law.low) ? law.low : law.quantile(LEFT_OUT);
  const high = Number.isFinite(law.high) ? law.high : law.upperQuantile(LEFT_OUT);
  return fillTable(low, high, (x) => ({ below: law.cdf(x), above: law.survival(x), density: law.pdf(x) }));
}

/**
 * The law of spread·chain + rest: F(x) = ∫ f_chain(c)·F_rest(x − spread·c) dc by the trapezoidal rule at the nodes of the
 * chain's table, which is all but exact for a density that leaves and meets zero (or nearly) at both ends: every eighth
 * node will do then, all of them where a single distribution ends abruptly.
 *
 * @param spread above 0
 * @param isSmooth the chain's law is that of two quantities or more
 */
export function combineTables(chain: OffsetTable, rest: OffsetTable, spread: number, isSmooth: boolean): OffsetTable {
  const stride = isSmooth ? 8 : 1;
  const nodes = PIECES / stride;
  const step = (chain.high - chain.low) / nodes;
  const weights = Float64Array.from({ length: nodes + 1 }, (_, node) => chain.slope[node * stride]);
  weights[0] *= 0.5;
  weights[nodes] *= 0.5;
  let total = 0;
  for (const weight of weights) total += weight;
  for (let node = 0; node <= nodes; node += 1) weights[node] /= total;
  const restStep = (rest.high - rest.low) / PIECES;
  return fillTable(spread * chain.low + rest.low, spread * chain.high + rest.high, (x) => {
    let below = 0;
    let above = 0;
    let density = 0;
    for (let node = 0; node <= nodes; node += 1) {
      const y = x - spread * (chain.low + node * step);
      below += weights[node] * cdfOf(rest, y);
      above += weights[node] * survivalOf(rest, y);
      density += weights[node] * densityOf(rest, y, restStep);
    }
    return { below, above, density };
  });
}

function fillTable(
  low: number,
  high: number,
  at: (x: number) => { below: number; above: number; density: number },
): OffsetTable {
  const step = (high - low) / PIECES;
  const below = new Float64Array(PIECES + 1);
  const above = new Float64Array(PIECES + 1);
  const slope = new Float64Array(PIECES + 1);
  for (let node = 0; node <= PIECES; node += 1) {
    const value = at(node === PIECES ? high : low + node * step);
    below[node] = value.below;
    above[node] = value.above;
    slope[node] = value.density * step;
  }
  below[0] = 0;
  above[PIECES] = 0;
  return { low, high, below, above, slope };
}

/** P(X ≤ x). */
export function cdfOf(table: OffsetTable, x: number): number {
  if (x <= table.low) return 0;
  return x >= table.high ? 1 : read(table, table.below, x, 1);
}

/** P(X > x). */
export function survivalOf(table: OffsetTable, x: number): number {
  if (x <= table.low) return 1;
  return x >= table.high ? 0 : read(table, table.above, x, -1);
}

function read(table: OffsetTable, values: Float64Array, x: number, sign: number): number {
  const { low, high, slope } = table;
  const place = ((x - low) * PIECES) / (high - low);
  const piece = place < PIECES ? Math.floor(place) : PIECES - 1;
  const t = place - piece;
  const rest = 1 - t;
  return (
    rest * rest * ((1 + 2 * t) * values[piece] + sign * t * slope[piece]) +
    t * t * ((3 - 2 * t) * values[piece + 1] - sign * rest * slope[piece + 1])
  );
}

/** Density, linear between the nodes: it only feeds slopes of another table. */
function densityOf(table: OffsetTable, x: number, step: number): number {
  const { low, high, slope } = table;
  if (x <= low || x >= high) return 0;
  const place = (x - low) / step;
  const piece = place < PIECES ? Math.floor(place) : PIECES - 1;
  return (slope[piece] + (place - piece) * (slope[piece + 1] - slope[piece])) / step;
}

/** Chance that the offset lies between two ends, from the tail in which the difference keeps its digits. */
export function chanceBetween(table: OffsetTable, low: number, high: number): number {
  if (!(low < high)) return 0;
  return low > 0 ? survivalOf(table, low) - survivalOf(table, high) : cdfOf(table, high) - cdfOf(table, low);
}

/** The p-quantile to a step of the table: for laying out axes, not for results. */
export function roughQuantile(table: OffsetTable, p: number): number {
  let node = 0;
  while (node < PIECES && table.below[node] < p) node += 1;
  return table.low + (node * (table.high - table.low)) / PIECES;
}
