import type { RatioEstimate } from "./assess.ts";
import type { Crossing } from "./result.ts";

/** Further points looked at between two of a sweep. */
const REFINEMENTS = 4;

/** A yield along an axis. */
export interface CurveAt {
  readonly x: number;
  readonly good: RatioEstimate;
}

/**
 * Where a yield passes a target between the points of a sweep: false position with halving (Illinois), then the interval of the
 * yield there over the slope of the curve.
 *
 * @param points in the order of the axis
 * @param evaluate the yield at any place of the axis, on the same units
 */
export function crossingsOf(
  points: readonly CurveAt[],
  targetRatio: number,
  evaluate: (x: number) => RatioEstimate,
): Crossing[] {
  const crossings: Crossing[] = [];
  for (let place = 0; place + 1 < points.length; place += 1) {
    const left = points[place];
    const right = points[place + 1];
    const before = left.good.ratio - targetRatio;
    const after = right.good.ratio - targetRatio;
    if (before === 0 || before >= 0 === after >= 0) continue;
    crossings.push(refine(left, right, targetRatio, evaluate));
  }
  return crossings;
}

function refine(left: CurveAt, right: CurveAt, targetRatio: number, evaluate: (x: number) => RatioEstimate): Crossing {
  let a = { x: left.x, y: left.good.ratio - targetRatio };
  let b = { x: right.x, y: right.good.ratio - targetRatio };
  const slope = (b.y - a.y) / (b.x - a.x);
  let best = Math.abs(a.y) < Math.abs(b.y) ? left : right;
  let lastSide = 0;
  for (let step = 0; step < REFINEMENTS; step += 1) {
    const x = a.x - (a.y * (b.x - a.x)) / (b.y - a.y);
    const good = evaluate(x);
    const y = good.ratio - targetRatio;
    if (Math.abs(y) < Math.abs(best.good.ratio - targetRatio)) best = { x, good };
    if (y === 0) break;
    if (y > 0 === a.y > 0) {
      a = { x, y };
      if (lastSide === -1) b = { x: b.x, y: 0.5 * b.y };
      lastSide = -1;
    } else {
      b = { x, y };
      if (lastSide === 1) a = { x: a.x, y: 0.5 * a.y };
      lastSide = 1;
    }
  }
  // What is left of the way goes by the slope of the sweep's own step, which noise cannot turn round.
  const at = clamp(best.x - (best.good.ratio - targetRatio) / slope, left.x, right.x);
  const half = (0.5 * (best.good.highRatio - best.good.lowRatio)) / Math.abs(slope);
  const direction = slope * (right.x - left.x) < 0 ? "falls below" : "rises above";
  return { direction, at, low: at - half, high: at + half };
}

function clamp(x: number, a: number, b: number): number {
  return Math.min(Math.max(x, Math.min(a, b)), Math.max(a, b));
}
