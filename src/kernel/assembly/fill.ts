// Temperatures, offsets, bearing constants and clearances over columns, two samples at a time.

import { bytes, raise } from "./lanes";

/** out += factor·column */
export function addScaled(out: usize, column: usize, factor: f64, count: i32): void {
  const f = f64x2.splat(factor);
  for (let at: usize = 0, end = bytes(count); at < end; at += 16) {
    v128.store(out + at, f64x2.add(v128.load(out + at), f64x2.mul(f, v128.load(column + at))));
  }
}

/** out = a + b */
export function addColumns(out: usize, a: usize, b: usize, count: i32): void {
  for (let at: usize = 0, end = bytes(count); at < end; at += 16) {
    v128.store(out + at, f64x2.add(v128.load(a + at), v128.load(b + at)));
  }
}

/** out += factor·length·(1 + expansion·rise) */
export function addMember(out: usize, length: usize, factor: f64, expansion: f64, rise: usize, count: i32): void {
  const f = f64x2.splat(factor);
  const e = f64x2.splat(expansion);
  const one = f64x2.splat(1.0);
  for (let at: usize = 0, end = bytes(count); at < end; at += 16) {
    const stretch = f64x2.add(one, f64x2.mul(e, v128.load(rise + at)));
    v128.store(out + at, f64x2.add(v128.load(out + at), f64x2.mul(f64x2.mul(f, v128.load(length + at)), stretch)));
  }
}

/** out += factor·length·(1 + expansion·rise − clampPerN·clamp) */
export function addClampedMember(
  out: usize,
  length: usize,
  factor: f64,
  expansion: f64,
  rise: usize,
  clampPerN: f64,
  clamp: usize,
  count: i32,
): void {
  const f = f64x2.splat(factor);
  const e = f64x2.splat(expansion);
  const p = f64x2.splat(clampPerN);
  const one = f64x2.splat(1.0);
  for (let at: usize = 0, end = bytes(count); at < end; at += 16) {
    const stretch = f64x2.sub(f64x2.add(one, f64x2.mul(e, v128.load(rise + at))), f64x2.mul(p, v128.load(clamp + at)));
    v128.store(out + at, f64x2.add(v128.load(out + at), f64x2.mul(f64x2.mul(f, v128.load(length + at)), stretch)));
  }
}

/** A polynomial of the scaled conformity (Horner); at `curve` centre, half width and coefficients, lowest power first. */
function evaluateCurve(curve: usize, degree: i32, conformity: v128): v128 {
  const t = f64x2.div(f64x2.sub(conformity, v128.load64_splat(curve)), v128.load64_splat(curve, 8));
  const constant = curve + 16;
  let at = constant + ((<usize>degree) << 3);
  let value = v128.load64_splat(at);
  while (at > constant) {
    at -= 8;
    value = f64x2.add(f64x2.mul(value, t), v128.load64_splat(at));
  }
  return value;
}

/** Groove-centre distance and stiffness of a bearing from its conformities, and the sum of both races' compliances. */
export function bearingConstants(
  inner: usize,
  outer: usize,
  innerCurve: usize,
  innerDegree: i32,
  outerCurve: usize,
  outerDegree: i32,
  ballCount: f64,
  ballDiameter: f64,
  distance: usize,
  stiffness: usize,
  compliance: usize,
  count: i32,
): void {
  const one = f64x2.splat(1.0);
  const balls = f64x2.splat(ballCount);
  const diameter = f64x2.splat(ballDiameter);
  for (let at: usize = 0, end = bytes(count); at < end; at += 16) {
    const fi = v128.load(inner + at);
    const fo = v128.load(outer + at);
    const c = f64x2.add(evaluateCurve(innerCurve, innerDegree, fi), evaluateCurve(outerCurve, outerDegree, fo));
    v128.store(compliance + at, c);
    v128.store(distance + at, f64x2.mul(f64x2.sub(f64x2.add(fi, fo), one), diameter));
    v128.store(stiffness + at, f64x2.div(balls, f64x2.mul(c, f64x2.sqrt(c))));
  }
}

/** Contact deflection at the pressure limit: the lesser of both races' limit loads, times the compliance. */
export function limitDeflection(
  inner: usize,
  outer: usize,
  innerCurve: usize,
  innerDegree: i32,
  outerCurve: usize,
  outerDegree: i32,
  compliance: usize,
  out: usize,
  count: i32,
): void {
  for (let at: usize = 0, end = bytes(count); at < end; at += 16) {
    const a = evaluateCurve(innerCurve, innerDegree, v128.load(inner + at));
    const b = evaluateCurve(outerCurve, outerDegree, v128.load(outer + at));
    v128.store(out + at, f64x2.mul(f64x2.pmin(a, b), v128.load(compliance + at)));
  }
}

/** out = free + outerGrowth·outerRise − innerGrowth·innerRise − ballGrowth·ballRise */
export function startClearance(
  out: usize,
  free: usize,
  outerGrowth: f64,
  outerRise: usize,
  innerGrowth: f64,
  innerRise: usize,
  ballGrowth: f64,
  ballRise: usize,
  count: i32,
): void {
  const o = f64x2.splat(outerGrowth);
  const i = f64x2.splat(innerGrowth);
  const b = f64x2.splat(ballGrowth);
  for (let at: usize = 0, end = bytes(count); at < end; at += 16) {
    const grown = f64x2.add(v128.load(free + at), f64x2.mul(o, v128.load(outerRise + at)));
    const less = f64x2.sub(grown, f64x2.mul(i, v128.load(innerRise + at)));
    v128.store(out + at, f64x2.sub(less, f64x2.mul(b, v128.load(ballRise + at))));
  }
}

/** Takes what one seat costs off the clearance; flags the samples in which it is loose. */
export function takeFit(
  clearance: usize,
  flags: usize,
  lostFlag: i32,
  sense: f64,
  ring: usize,
  ringExpansion: f64,
  ringRise: usize,
  mate: usize,
  measuredFactor: f64,
  mateExpansion: f64,
  mateRise: usize,
  smoothing: usize,
  racewayRatio: f64,
  count: i32,
): void {
  const one = f64x2.splat(1.0);
  const zero = f64x2.splat(0.0);
  const way = f64x2.splat(sense);
  const ringPerK = f64x2.splat(ringExpansion);
  const matePerK = f64x2.splat(mateExpansion);
  const factor = f64x2.splat(measuredFactor);
  const ratio = f64x2.splat(racewayRatio);
  for (let at: usize = 0, end = bytes(count); at < end; at += 16) {
    const mateMm = f64x2.mul(
      f64x2.mul(v128.load(mate + at), factor),
      f64x2.add(one, f64x2.mul(matePerK, v128.load(mateRise + at))),
    );
    const ringMm = f64x2.mul(v128.load(ring + at), f64x2.add(one, f64x2.mul(ringPerK, v128.load(ringRise + at))));
    const interference = f64x2.sub(f64x2.mul(way, f64x2.sub(mateMm, ringMm)), v128.load(smoothing + at));
    const holds = f64x2.gt(interference, zero);
    const was = v128.load(clearance + at);
    v128.store(clearance + at, v128.bitselect(f64x2.sub(was, f64x2.mul(ratio, interference)), was, holds));
    const loose = i64x2.bitmask(holds) ^ 3;
    if (loose !== 0) raise(flags, at, loose, lostFlag);
  }
}
