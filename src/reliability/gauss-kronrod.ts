/** Adaptive quadrature with a rule of 21 points and the one of 10 points inside it. */

/** Kronrod abscissae above the middle, outermost first; every second one, from the second, belongs to the Gauss rule. */
const NODES = [
  0.9956571630258081, 0.9739065285171717, 0.9301574913557082, 0.8650633666889845, 0.7808177265864169,
  0.6794095682990244, 0.5627571346686047, 0.4333953941292472, 0.2943928627014602, 0.14887433898163122,
];
const WEIGHTS = [
  0.011694638867371874, 0.032558162307964725, 0.054755896574351995, 0.07503967481091996, 0.0931254545836976,
  0.10938715880229764, 0.12349197626206584, 0.13470921731147334, 0.14277593857706009, 0.1477391049013385,
];
const MIDDLE_WEIGHT = 0.1494455540029169;
const GAUSS_WEIGHTS = [
  0.06667134430868814, 0.14945134915058059, 0.21908636251598204, 0.26926671930999635, 0.29552422471475287,
];
const MOST_DEPTH = 24;
/** No integral of a probability is worth more than this, absolute: below stands the noise of the tables. */
const FLOOR = 1e-16;

/** The difference from the inner rule of the last call of `apply`. */
let difference = 0;

function apply(f: (x: number) => number, from: number, to: number): number {
  const half = 0.5 * (to - from);
  const middle = from + half;
  let outer = MIDDLE_WEIGHT * f(middle);
  let inner = 0;
  for (let k = 0; k < 10; k += 1) {
    const step = half * NODES[k];
    const pair = f(middle - step) + f(middle + step);
    outer += WEIGHTS[k] * pair;
    if (k % 2 === 1) inner += GAUSS_WEIGHTS[k >> 1] * pair;
  }
  difference = Math.abs(outer - inner) * half;
  return outer * half;
}

function refine(f: (x: number) => number, from: number, to: number, allowed: number, depth: number): number {
  const value = apply(f, from, to);
  const middle = 0.5 * (from + to);
  if (difference <= allowed || depth === 0 || !(middle > from && middle < to)) return value;
  return refine(f, from, middle, allowed, depth - 1) + refine(f, middle, to, allowed, depth - 1);
}

/**
 * ∫ f over the segments between successive places.
 *
 * A segment is halved until the two rules differ by 1e-11 of the whole (or 1e-16, absolute); the outer rule's own error is then near 1e-15, since it falls like the 3/2 power
 * of that difference and faster.
 *
 * @param places rising; kinks and jumps of f belong among them
 *
 * Source: R. Piessens et al., QUADPACK, 1983, rule QK21 (nodes and weights from memory, held by a test on powers).
 */
export function integrateSegments(f: (x: number) => number, places: readonly number[], relative = 1e-11): number {
  const values: number[] = [];
  const misses: number[] = [];
  let total = 0;
  for (let k = 1; k < places.length; k += 1) {
    const value = places[k] > places[k - 1] ? apply(f, places[k - 1], places[k]) : 0;
    values.push(value);
    misses.push(places[k] > places[k - 1] ? difference : 0);
    total += Math.abs(value);
  }
  const allowed = Math.max(relative * total, FLOOR);
  let sum = 0;
  for (let k = 1; k < places.length; k += 1) {
    if (misses[k - 1] <= allowed) {
      sum += values[k - 1];
      continue;
    }
    const middle = 0.5 * (places[k - 1] + places[k]);
    sum += refine(f, places[k - 1], middle, allowed, MOST_DEPTH) + refine(f, middle, places[k], allowed, MOST_DEPTH);
  }
  return sum;
}
