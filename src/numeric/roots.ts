/** The root of a continuous function between two points where its sign differs. */
import { InternalError } from "../errors.ts";

export interface RootOptions {
  /** Absolute tolerance on x, beside four units in the last place of x itself. Default 0. */
  readonly tolerance?: number;
  readonly maxIterations?: number;
}

/**
 * Finds x in [low, high] with f(x) = 0 by Chandrupatla's method: inverse quadratic interpolation where it is safe, else bisection.
 *
 * The two ends may be given in either order. The end whose value is nearest to zero is returned when the bracket is as
 * narrow as the tolerance.
 *
 * @throws InternalError when the ends do not bracket a root, when f is not a number on the way, or after `maxIterations` (200)
 *
 * Source: T. R. Chandrupatla, Advances in Engineering Software 28 (1997) 145-149 (via P. O. J. Scherer, Computational Physics, 2010, 6.1.7).
 */
export function findRoot(f: (x: number) => number, low: number, high: number, options: RootOptions = {}): number {
  const tolerance = options.tolerance ?? 0;
  const maxIterations = options.maxIterations ?? 200;
  let b = low;
  let a = high;
  let fb = f(b);
  let fa = f(a);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa * fb < 0) && !(fa > 0 && fb < 0) && !(fa < 0 && fb > 0)) {
    throw new InternalError(`no change of sign between ${low} (value ${fb}) and ${high} (value ${fa})`);
  }
  let t = 0.5;
  for (let iteration = 0; iteration < maxIterations; iteration += 1) {
    const x = a + t * (b - a);
    const fx = f(x);
    if (Number.isNaN(fx)) throw new InternalError(`the function to solve is not a number at ${x}`);
    let c: number;
    let fc: number;
    if (fx > 0 === fa > 0) {
      c = a;
      fc = fa;
    } else {
      c = b;
      fc = fb;
      b = a;
      fb = fa;
    }
    a = x;
    fa = fx;
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    if (fx === 0) return x;
    const width = Math.abs(b - a);
    const least = 0.5 * tolerance + 2 * Number.EPSILON * Math.abs(best);
    const ratio = least / width;
    if (ratio > 0.5 || width === 0) return best;
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    const interpolates = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi;
    t = interpolates
      ? (fa / (fb - fa)) * (fc / (fb - fc)) + (((c - a) / (b - a)) * (fa / (fc - fa)) * fb) / (fc - fb)
      : 0.5;
    t = Math.min(1 - ratio, Math.max(ratio, t));
  }
  throw new InternalError(`no root after ${maxIterations} steps between ${low} and ${high}`);
}
