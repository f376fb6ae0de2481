// From the preload of a pair back to its offset, two samples at a time. The equations are explained in the plain kernel; the
// operations and their order are the same here, lane by lane.

import { bytes } from "./lanes";

/** Rounded to its top 26 bits. */
function topHalf(value: v128): v128 {
  const c = f64x2.mul(f64x2.splat(134217729.0), value);
  return f64x2.sub(c, f64x2.sub(c, value));
}

/** 2 to a whole power, given as a double. */
function powerOfTwo(exponent: v128): v128 {
  const whole = i32x4.trunc_sat_f64x2_s_zero(exponent);
  return i64x2.shl(i64x2.add(i64x2.extend_low_i32x4_s(whole), i64x2.splat(1023)), 52);
}

/** Cube root of anything but subnormal numbers. */
function cubeRoot(value: v128): v128 {
  const x = f64x2.abs(value);
  const exponent = i64x2.sub(i64x2.shr_u(x, 52), i64x2.splat(1023));
  const low = v128.shuffle<u32>(exponent, exponent, 0, 2, 0, 2);
  const third = f64x2.floor(f64x2.div(f64x2.convert_low_i32x4_s(low), f64x2.splat(3.0)));
  const m = f64x2.mul(x, powerOfTwo(f64x2.mul(f64x2.splat(-3.0), third)));
  let t = f64x2.add(
    f64x2.splat(0.76250264),
    f64x2.mul(m, f64x2.sub(f64x2.splat(0.26807556), f64x2.mul(m, f64x2.splat(0.01467066)))),
  );
  let r = f64x2.mul(f64x2.mul(t, t), f64x2.div(t, m));
  const begin = f64x2.add(
    f64x2.splat(1.87595182427177),
    f64x2.mul(r, f64x2.add(f64x2.splat(-1.8849797954337717), f64x2.mul(r, f64x2.splat(1.6214297201053545)))),
  );
  const end = f64x2.mul(
    f64x2.mul(f64x2.mul(r, r), r),
    f64x2.add(f64x2.splat(-0.758397934778766), f64x2.mul(r, f64x2.splat(0.14599619288661245))),
  );
  t = topHalf(f64x2.mul(t, f64x2.add(begin, end)));
  r = f64x2.div(m, f64x2.mul(t, t));
  r = f64x2.div(f64x2.sub(r, t), f64x2.add(f64x2.add(t, t), r));
  t = f64x2.mul(f64x2.add(t, f64x2.mul(t, r)), powerOfTwo(third));
  const isItself = v128.or(f64x2.eq(x, f64x2.splat(0.0)), f64x2.ne(f64x2.sub(x, x), f64x2.splat(0.0)));
  return v128.or(v128.bitselect(x, t, isItself), v128.and(value, f64x2.splat(-0.0)));
}

/** x² at contact deflection t: w + t(2A + t). */
function squareAt(t: v128, a: v128, w: v128): v128 {
  return f64x2.add(w, f64x2.mul(t, f64x2.add(f64x2.mul(f64x2.splat(2.0), a), t)));
}

// Tiles of 128 samples, phase by phase, as in the pair solver. What a phase leaves for the next stands in a scratch.
const TILE: usize = 1024;
const TAU3: usize = 0;
const LEAST: usize = 1024;
const DEFLECTION: usize = 2048;
const OPEN: usize = 3072;

/**
 * Axial displacements at which bearings carry a force: `startDeflections` leaves τ³, the least deflection and a first one,
 * `raiseDeflections` doubles those that are too small, `stepDeflections` takes one step of all that are open.
 */
function displacements(
  force: usize,
  distance: usize,
  columnW: usize,
  stiffness: usize,
  out: usize,
  scratch: usize,
  size: usize,
): void {
  let open = startDeflections(force, distance, columnW, stiffness, scratch, size);
  while (open) open = raiseDeflections(distance, columnW, scratch, size);
  open = openDeflections(scratch, size);
  for (let round = 0; open && round < 60; round++) open = stepDeflections(distance, columnW, scratch, size);
  for (let at: usize = 0; at < size; at += 16) {
    const x2 = squareAt(v128.load(scratch + DEFLECTION + at), v128.load(distance + at), v128.load(columnW + at));
    v128.store(out + at, f64x2.sqrt(f64x2.pmax(f64x2.splat(0.0), x2)));
  }
}

function startDeflections(
  force: usize,
  distance: usize,
  columnW: usize,
  stiffness: usize,
  scratch: usize,
  size: usize,
): bool {
  const zero = f64x2.splat(0.0);
  let any = zero;
  for (let at: usize = 0; at < size; at += 16) {
    const a = v128.load(distance + at);
    const w = v128.load(columnW + at);
    const root = cubeRoot(f64x2.div(v128.load(force + at), v128.load(stiffness + at)));
    const tau = f64x2.mul(root, root);
    const isLoaded = f64x2.gt(tau, zero);
    const squeezed = f64x2.div(f64x2.neg(w), f64x2.add(f64x2.sqrt(f64x2.sub(f64x2.mul(a, a), w)), a));
    const least = v128.and(squeezed, f64x2.lt(w, zero));
    v128.store(scratch + TAU3 + at, f64x2.mul(f64x2.mul(tau, tau), tau));
    v128.store(scratch + LEAST + at, least);
    v128.store(scratch + DEFLECTION + at, v128.bitselect(f64x2.add(least, tau), least, isLoaded));
    v128.store(scratch + OPEN + at, isLoaded);
    any = v128.or(any, isLoaded);
  }
  return v128.any_true(any);
}

function raiseDeflections(distance: usize, columnW: usize, scratch: usize, size: usize): bool {
  const two = f64x2.splat(2.0);
  let any = f64x2.splat(0.0);
  for (let at: usize = 0; at < size; at += 16) {
    const open = v128.load(scratch + OPEN + at);
    if (!v128.any_true(open)) continue;
    const a = v128.load(distance + at);
    const t = v128.load(scratch + DEFLECTION + at);
    const s = f64x2.add(a, t);
    const x2 = squareAt(t, a, v128.load(columnW + at));
    const carried = f64x2.mul(f64x2.mul(f64x2.mul(t, t), t), x2);
    const wanted = f64x2.mul(f64x2.mul(v128.load(scratch + TAU3 + at), s), s);
    const under = v128.and(open, f64x2.lt(carried, wanted));
    v128.store(scratch + DEFLECTION + at, v128.bitselect(f64x2.mul(t, two), t, under));
    v128.store(scratch + OPEN + at, under);
    any = v128.or(any, under);
  }
  return v128.any_true(any);
}

/** Opens all that carry a finite load. */
function openDeflections(scratch: usize, size: usize): bool {
  const zero = f64x2.splat(0.0);
  const endless = f64x2.splat(Infinity);
  let any = zero;
  for (let at: usize = 0; at < size; at += 16) {
    const tau3 = v128.load(scratch + TAU3 + at);
    const open = v128.and(f64x2.gt(tau3, zero), f64x2.lt(tau3, endless));
    v128.store(scratch + OPEN + at, open);
    any = v128.or(any, open);
  }
  return v128.any_true(any);
}

function stepDeflections(distance: usize, columnW: usize, scratch: usize, size: usize): bool {
  const half = f64x2.splat(0.5);
  const two = f64x2.splat(2.0);
  const three = f64x2.splat(3.0);
  const small = f64x2.splat(1e-9);
  let any = f64x2.splat(0.0);
  for (let at: usize = 0; at < size; at += 16) {
    const open = v128.load(scratch + OPEN + at);
    if (!v128.any_true(open)) continue;
    const a = v128.load(distance + at);
    const t = v128.load(scratch + DEFLECTION + at);
    const tau3 = v128.load(scratch + TAU3 + at);
    const least = v128.load(scratch + LEAST + at);
    const s = f64x2.add(a, t);
    const x2 = squareAt(t, a, v128.load(columnW + at));
    const square = f64x2.mul(t, t);
    const value = f64x2.sub(f64x2.mul(f64x2.mul(square, t), x2), f64x2.mul(f64x2.mul(tau3, s), s));
    const slope = f64x2.sub(
      f64x2.mul(square, f64x2.add(f64x2.mul(three, x2), f64x2.mul(f64x2.mul(two, t), s))),
      f64x2.mul(f64x2.mul(two, tau3), s),
    );
    const step = f64x2.div(value, slope);
    const next = f64x2.sub(t, step);
    const inside = f64x2.gt(next, least);
    const following = v128.bitselect(next, f64x2.mul(half, f64x2.add(t, least)), inside);
    const isLast = v128.and(inside, f64x2.le(f64x2.abs(step), f64x2.mul(small, next)));
    const still = v128.andnot(open, isLast);
    v128.store(scratch + DEFLECTION + at, v128.bitselect(following, t, open));
    v128.store(scratch + OPEN + at, still);
    any = v128.or(any, still);
  }
  return v128.any_true(any);
}

/**
 * Offset at which pairs carry a force.
 *
 * @param scratch 6 kB
 */
export function fillPairOffsets(
  force: usize,
  distanceA: usize,
  wA: usize,
  stiffnessA: usize,
  distanceB: usize,
  wB: usize,
  stiffnessB: usize,
  out: usize,
  commonMmPerN: f64,
  scratch: usize,
  count: i32,
): void {
  const common = f64x2.splat(commonMmPerN);
  const xA = scratch;
  const xB = scratch + TILE;
  const rest = scratch + 2 * TILE;
  const all = bytes(count);
  for (let first: usize = 0; first < all; first += TILE) {
    const size = min(TILE, all - first);
    displacements(force + first, distanceA + first, wA + first, stiffnessA + first, xA, rest, size);
    displacements(force + first, distanceB + first, wB + first, stiffnessB + first, xB, rest, size);
    for (let at: usize = 0; at < size; at += 16) {
      const given = f64x2.mul(common, v128.load(force + first + at));
      v128.store(out + first + at, f64x2.add(f64x2.add(v128.load(xA + at), v128.load(xB + at)), given));
    }
  }
}
