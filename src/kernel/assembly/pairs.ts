// The pair solver and what stands before and after it, two samples at a time. The equations are explained in the plain kernel;
// the operations and their order are the same here, lane by lane.

import { bytes, raise } from "./lanes";

/** Half the axial play, √w; none with radial interference. */
function halfPlay(w: v128): v128 {
  return f64x2.sqrt(f64x2.pmax(f64x2.splat(0.0), w));
}

/** −w with radial interference, else nothing. */
function squeeze(w: v128): v128 {
  return f64x2.pmax(f64x2.splat(0.0), f64x2.neg(w));
}

/** x² − w at x = play + e, times `scale`. */
function stretch(e: v128, play: v128, w: v128, scale: v128): v128 {
  const twice = f64x2.mul(f64x2.splat(2.0), play);
  return f64x2.mul(f64x2.add(f64x2.mul(e, f64x2.add(e, twice)), squeeze(w)), scale);
}

/** Distance of the groove centres at displacement x. */
function grooveDistance(a: v128, w: v128, x: v128): v128 {
  return f64x2.sqrt(f64x2.add(f64x2.sub(f64x2.mul(a, a), w), f64x2.mul(x, x)));
}

/** Slope of a bearing's force by its displacement. */
function slope(root: v128, t: v128, perS: v128, sine: v128): v128 {
  const square = f64x2.mul(sine, sine);
  const turned = f64x2.mul(f64x2.mul(t, perS), f64x2.sub(f64x2.splat(1.0), square));
  return f64x2.mul(root, f64x2.add(f64x2.mul(f64x2.splat(1.5), square), turned));
}

/** What the structure and what lies beside it give way, mm/N. */
function give(common: f64, extra: usize, at: usize): v128 {
  const shared = f64x2.splat(common);
  return extra === 0 ? shared : f64x2.add(shared, v128.load(extra + at));
}

/** Whether the contact deflection at displacement x is beyond its limit. */
function isPressed(x: v128, w: v128, distance: v128, limit: v128): v128 {
  const reach = f64x2.mul(limit, f64x2.add(f64x2.mul(f64x2.splat(2.0), distance), limit));
  return f64x2.gt(f64x2.sub(f64x2.mul(x, x), w), reach);
}

/** Takes `slip` off the offset, in place; a copy and |offset|; w = (G/2)(2A − G/2) of both bearings. */
export function preparePairs(
  offset: usize,
  slip: usize,
  clearanceA: usize,
  clearanceB: usize,
  distanceA: usize,
  distanceB: usize,
  signed: usize,
  magnitude: usize,
  wA: usize,
  wB: usize,
  count: i32,
): void {
  const half = f64x2.splat(0.5);
  const two = f64x2.splat(2.0);
  for (let at: usize = 0, end = bytes(count); at < end; at += 16) {
    const left = f64x2.sub(v128.load(offset + at), v128.load(slip + at));
    v128.store(offset + at, left);
    v128.store(signed + at, left);
    v128.store(magnitude + at, f64x2.abs(left));
    const halfA = f64x2.mul(half, v128.load(clearanceA + at));
    const halfB = f64x2.mul(half, v128.load(clearanceB + at));
    v128.store(wA + at, f64x2.mul(halfA, f64x2.sub(f64x2.mul(two, v128.load(distanceA + at)), halfA)));
    v128.store(wB + at, f64x2.mul(halfB, f64x2.sub(f64x2.mul(two, v128.load(distanceB + at)), halfB)));
  }
}

// The solver works on tiles of 128 pairs, phase by phase and not pair by pair: the steps of one pair wait for one another, those
// of a tile do not, so that the processor always has something to do. What a phase leaves for the next stands in a scratch.
const TILE: usize = 1024;
const EXCESS: usize = 0;
const SHARE: usize = 1024;
const LOW: usize = 2048;
const HIGH: usize = 3072;
const OPEN: usize = 4096;

/**
 * Phase by phase: `startPairs` leaves plays, excess and a first share; `stepPairs` takes one step of all that are open;
 * `finishPairs` turns shares into displacements.
 *
 * @param extra address of what gives way beside `common`, or 0
 * @param scratch 5 kB
 */
export function solvePairs(
  offset: usize,
  common: f64,
  extra: usize,
  distanceA: usize,
  wA: usize,
  stiffnessA: usize,
  distanceB: usize,
  wB: usize,
  stiffnessB: usize,
  force: usize,
  xA: usize,
  xB: usize,
  scratch: usize,
  count: i32,
): void {
  const all = bytes(count);
  for (let at: usize = 0; at < all; at += TILE) {
    const size = min(TILE, all - at);
    const more: usize = extra === 0 ? 0 : extra + at;
    const a = distanceA + at;
    const b = distanceB + at;
    const kA = stiffnessA + at;
    const kB = stiffnessB + at;
    const f = force + at;
    const x = xA + at;
    const y = xB + at;
    let open = startPairs(offset + at, common, more, a, wA + at, kA, b, wB + at, kB, f, x, y, scratch, size);
    for (let round = 0; open && round < 200; round++) {
      open = stepPairs(common, more, a, wA + at, kA, b, wB + at, kB, f, x, y, scratch, size);
    }
    finishPairs(common, more, f, x, y, scratch, size);
  }
}

function startPairs(
  offset: usize,
  common: f64,
  extra: usize,
  distanceA: usize,
  columnWA: usize,
  stiffnessA: usize,
  distanceB: usize,
  columnWB: usize,
  stiffnessB: usize,
  outForce: usize,
  outA: usize,
  outB: usize,
  scratch: usize,
  size: usize,
): bool {
  const zero = f64x2.splat(0.0);
  const half = f64x2.splat(0.5);
  const quarter = f64x2.splat(0.25);
  const five = f64x2.splat(5.0);
  const six = f64x2.splat(6.0);
  let open = zero;
  for (let at: usize = 0; at < size; at += 16) {
    const wA = v128.load(columnWA + at);
    const wB = v128.load(columnWB + at);
    const playA = halfPlay(wA);
    const playB = halfPlay(wB);
    const excess = f64x2.sub(f64x2.sub(v128.load(offset + at), playA), playB);
    const carries = f64x2.gt(excess, zero);
    const aA = v128.load(distanceA + at);
    const aB = v128.load(distanceB + at);
    const kA = v128.load(stiffnessA + at);
    const kB = v128.load(stiffnessB + at);
    const c = give(common, extra, at);
    const middleExcess = f64x2.mul(half, excess);
    const sines = f64x2.div(
      f64x2.mul(f64x2.add(playA, middleExcess), aB),
      f64x2.mul(f64x2.add(playB, middleExcess), aA),
    );
    const weightA = f64x2.mul(kA, f64x2.mul(f64x2.mul(sines, sines), f64x2.sqrt(sines)));
    const split = f64x2.div(
      f64x2.mul(excess, f64x2.add(f64x2.mul(five, kB), weightA)),
      f64x2.mul(six, f64x2.add(kB, weightA)),
    );
    const perDistance = f64x2.div(half, aA);
    const rough = stretch(split, playA, wA, perDistance);
    const roughForce = f64x2.mul(
      f64x2.mul(f64x2.mul(kA, rough), f64x2.sqrt(rough)),
      f64x2.mul(f64x2.add(playA, split), f64x2.add(perDistance, perDistance)),
    );
    const eased = f64x2.sub(split, f64x2.mul(half, f64x2.mul(c, roughForce)));
    v128.store(outForce + at, zero);
    v128.store(outA + at, playA);
    v128.store(outB + at, playB);
    v128.store(scratch + EXCESS + at, excess);
    v128.store(scratch + SHARE + at, f64x2.pmax(eased, f64x2.mul(quarter, split)));
    v128.store(scratch + LOW + at, zero);
    v128.store(scratch + HIGH + at, excess);
    v128.store(scratch + OPEN + at, carries);
    open = v128.or(open, carries);
  }
  return v128.any_true(open);
}

function stepPairs(
  common: f64,
  extra: usize,
  distanceA: usize,
  columnWA: usize,
  stiffnessA: usize,
  distanceB: usize,
  columnWB: usize,
  stiffnessB: usize,
  outForce: usize,
  plays: usize,
  playsB: usize,
  scratch: usize,
  size: usize,
): bool {
  const zero = f64x2.splat(0.0);
  const one = f64x2.splat(1.0);
  const half = f64x2.splat(0.5);
  const five = f64x2.splat(5.0);
  const six = f64x2.splat(6.0);
  const lastDifference = f64x2.splat(1e-5);
  const farApart = f64x2.splat(0.6);
  let anyOpen = zero;
  for (let at: usize = 0; at < size; at += 16) {
    const open = v128.load(scratch + OPEN + at);
    if (!v128.any_true(open)) continue;
    const eA = v128.load(scratch + SHARE + at);
    const wA = v128.load(columnWA + at);
    const aA = v128.load(distanceA + at);
    const playA = v128.load(plays + at);
    const xA = f64x2.add(playA, eA);
    const sA = grooveDistance(aA, wA, xA);
    const sumA = f64x2.add(sA, aA);
    const inverseA = f64x2.div(one, f64x2.mul(sA, sumA));
    const tA = stretch(eA, playA, wA, f64x2.mul(sA, inverseA));
    const perSA = f64x2.mul(sumA, inverseA);
    const rootA = f64x2.mul(v128.load(stiffnessA + at), f64x2.sqrt(tA));
    const sineA = f64x2.mul(xA, perSA);
    const forceA = f64x2.mul(f64x2.mul(rootA, tA), sineA);
    const slopeA = slope(rootA, tA, perSA, sineA);
    const c = give(common, extra, at);
    const excess = v128.load(scratch + EXCESS + at);
    const restB = f64x2.sub(f64x2.sub(excess, eA), f64x2.mul(c, forceA));
    const pressed = f64x2.gt(restB, zero);
    const wB = v128.load(columnWB + at);
    const aB = v128.load(distanceB + at);
    const playB = v128.load(playsB + at);
    const eB = v128.and(restB, pressed);
    const xB = f64x2.add(playB, eB);
    const sB = grooveDistance(aB, wB, xB);
    const sumB = f64x2.add(sB, aB);
    const inverseB = f64x2.div(one, f64x2.mul(sB, sumB));
    const tB = stretch(eB, playB, wB, f64x2.mul(sB, inverseB));
    const perSB = f64x2.mul(sumB, inverseB);
    const rootB = f64x2.mul(v128.load(stiffnessB + at), f64x2.sqrt(tB));
    const sineB = f64x2.mul(xB, perSB);
    const forceB = v128.and(f64x2.mul(f64x2.mul(rootB, tB), sineB), pressed);
    const slopeB = v128.and(f64x2.mul(slope(rootB, tB, perSB, sineB), f64x2.add(one, f64x2.mul(c, slopeA))), pressed);
    const difference = f64x2.sub(forceA, forceB);
    const above = f64x2.gt(difference, zero);
    const high = v128.bitselect(eA, v128.load(scratch + HIGH + at), above);
    const low = v128.bitselect(v128.load(scratch + LOW + at), eA, above);
    const gap = f64x2.abs(difference);
    const far = f64x2.gt(gap, f64x2.mul(farApart, f64x2.add(forceA, forceB)));
    const bentOver = f64x2.mul(f64x2.mul(six, difference), f64x2.mul(forceA, forceB));
    const bentUnder = f64x2.add(
      f64x2.mul(f64x2.add(forceB, f64x2.mul(five, forceA)), f64x2.mul(slopeA, forceB)),
      f64x2.mul(f64x2.add(f64x2.mul(five, forceB), forceA), f64x2.mul(slopeB, forceA)),
    );
    const step = f64x2.div(
      v128.bitselect(difference, bentOver, far),
      v128.bitselect(f64x2.add(slopeA, slopeB), bentUnder, far),
    );
    const next = f64x2.sub(eA, step);
    const inside = v128.and(f64x2.ge(next, low), f64x2.le(next, high));
    const bent = f64x2.mul(slopeA, step);
    const bettered = f64x2.add(f64x2.sub(forceA, bent), f64x2.div(f64x2.mul(bent, bent), f64x2.mul(six, forceA)));
    const middle = f64x2.mul(half, f64x2.add(low, high));
    const following = v128.bitselect(next, middle, inside);
    // Done: forces nearly alike inside the bracket, or a bracket that cannot be halved any more.
    const small = v128.and(inside, f64x2.le(gap, f64x2.mul(lastDifference, forceA)));
    const stuck = v128.andnot(f64x2.eq(middle, eA), inside);
    const still = v128.andnot(open, v128.or(small, stuck));
    v128.store(outForce + at, v128.bitselect(v128.bitselect(bettered, forceA, inside), v128.load(outForce + at), open));
    v128.store(scratch + SHARE + at, v128.bitselect(following, eA, open));
    v128.store(scratch + LOW + at, low);
    v128.store(scratch + HIGH + at, high);
    v128.store(scratch + OPEN + at, still);
    anyOpen = v128.or(anyOpen, still);
  }
  return v128.any_true(anyOpen);
}

function finishPairs(
  common: f64,
  extra: usize,
  columnForce: usize,
  outA: usize,
  outB: usize,
  scratch: usize,
  size: usize,
): void {
  const zero = f64x2.splat(0.0);
  for (let at: usize = 0; at < size; at += 16) {
    const force = v128.load(columnForce + at);
    const excess = v128.load(scratch + EXCESS + at);
    const eA = v128.load(scratch + SHARE + at);
    const playA = v128.load(outA + at);
    const playB = v128.load(outB + at);
    const c = give(common, extra, at);
    const carries = f64x2.gt(excess, zero);
    const x = f64x2.add(playA, eA);
    const y = f64x2.add(playB, f64x2.sub(f64x2.sub(excess, eA), f64x2.mul(c, force)));
    v128.store(outA + at, v128.bitselect(x, playA, carries));
    v128.store(outB + at, v128.bitselect(y, playB, carries));
  }
}

/** 1 where any of the forces is above its limit. */
export function anyAbove(force: usize, limit: usize, count: i32): i32 {
  const whole = (<usize>(count >> 1)) << 4;
  for (let at: usize = 0; at < whole; at += 16) {
    if (v128.any_true(f64x2.gt(v128.load(force + at), v128.load(limit + at)))) return 1;
  }
  if ((count & 1) !== 0 && load<f64>(force + whole) > load<f64>(limit + whole)) return 1;
  return 0;
}

/** Signed preload, play left, class and the flag of bind by pressure. */
export function settlePairs(
  offset: usize,
  columnForce: usize,
  columnWA: usize,
  columnWB: usize,
  columnXA: usize,
  columnXB: usize,
  distanceA: usize,
  distanceB: usize,
  limitA: usize,
  limitB: usize,
  lowN: f64,
  highN: f64,
  bindN: f64,
  pressureLimited: i32,
  pressureFlag: i32,
  preload: usize,
  play: usize,
  outcome: usize,
  flags: usize,
  count: i32,
): void {
  const zero = f64x2.splat(0.0);
  const half = f64x2.splat(0.5);
  const lowest = f64x2.splat(lowN);
  const highest = f64x2.splat(highN);
  const binding = f64x2.splat(bindN);
  const least = f64x2.splat(-bindN);
  const sign = f64x2.splat(-0.0);
  for (let at: usize = 0, end = bytes(count); at < end; at += 16) {
    const delta = v128.load(offset + at);
    const force = v128.load(columnForce + at);
    const wA = v128.load(columnWA + at);
    const wB = v128.load(columnWB + at);
    const signed = v128.xor(force, v128.and(v128.and(sign, f64x2.lt(delta, zero)), f64x2.gt(force, zero)));
    v128.store(preload + at, signed);
    const isFree = f64x2.eq(force, zero);
    if (v128.any_true(isFree)) {
      const playA = halfPlay(wA);
      const playB = halfPlay(wB);
      const d = f64x2.mul(half, delta);
      const forward = f64x2.pmin(f64x2.sub(playA, d), f64x2.add(playB, d));
      const backward = f64x2.pmin(f64x2.sub(playB, d), f64x2.add(playA, d));
      v128.store(play + at, v128.and(f64x2.pmax(zero, f64x2.add(forward, backward)), isFree));
    } else {
      v128.store(play + at, zero);
    }
    let bind = v128.or(f64x2.ge(signed, binding), f64x2.le(signed, least));
    if (pressureLimited !== 0) {
      const pressed = v128.or(
        isPressed(v128.load(columnXA + at), wA, v128.load(distanceA + at), v128.load(limitA + at)),
        isPressed(v128.load(columnXB + at), wB, v128.load(distanceB + at), v128.load(limitB + at)),
      );
      const raised = i64x2.bitmask(pressed);
      if (raised !== 0) {
        raise(flags, at, raised, pressureFlag);
        bind = v128.or(bind, pressed);
      }
    }
    let code = i64x2.splat(4);
    code = v128.bitselect(i64x2.splat(3), code, f64x2.le(signed, highest));
    code = v128.bitselect(i64x2.splat(2), code, f64x2.lt(signed, lowest));
    code = v128.bitselect(i64x2.splat(1), code, f64x2.eq(signed, zero));
    code = v128.andnot(code, f64x2.lt(signed, zero));
    code = v128.bitselect(i64x2.splat(5), code, bind);
    store<u16>(outcome + (at >> 3), i16x8.extract_lane_u(code, 0) | (i16x8.extract_lane_u(code, 4) << 8));
  }
}
