/**
 * pow, cbrt and hypot that give the same bits in every engine. Single letters follow the source.
 *
 * pow (error below 0.7 ulp) and cbrt (below 0.7 ulp):
 * Ported from fdlibm (https://www.netlib.org/fdlibm), whose notice reads:
 *
 *   Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
 *   Developed at SunPro, a Sun Microsystems, Inc. business.
 *   Permission to use, copy, modify, and distribute this software is freely granted, provided that this notice is
 *   preserved.
 *
 * cbrt with the later polynomial of FreeBSD's msun (optimised by Bruce D. Evans), under the same notice.
 * hypot (error below 1 ulp): C. F. Borges, "An improved algorithm for hypot(a, b)", 2019, arXiv 1904.09481.
 */
import { highWord, powerOfTwo, topHalf } from "./bits.ts";

const DP_HIGH = 0.5849624872207642;
const DP_LOW = 1.350039202129749e-8;
const L1 = 0.5999999999999946;
const L2 = 0.4285714285785502;
const L3 = 0.33333332981837743;
const L4 = 0.272728123808534;
const L5 = 0.23066074577556175;
const L6 = 0.20697501780033842;
const P1 = 0.16666666666666602;
const P2 = -0.0027777777777015593;
const P3 = 6.613756321437934e-5;
const P4 = -1.6533902205465252e-6;
const P5 = 4.1381367970572385e-8;
const LN2 = Math.LN2;
const LN2_HIGH = 0.6931471824645996;
const LN2_LOW = -1.904654299957768e-9;
const OVERFLOW_TAIL = 8.008566259537294e-17;
// 2/(3 ln 2), whole and in two parts.
const CP = 0.9617966939259756;
const CP_HIGH = 0.9617967009544373;
const CP_LOW = -7.028461650952758e-9;
const INVERSE_LN2 = Math.LOG2E;
const INVERSE_LN2_HIGH = 1.4426950216293335;
const INVERSE_LN2_LOW = 1.9259629911266175e-8;
// 1/cbrt(r) about r = 1.
const C0 = 1.87595182427177;
const C1 = -1.8849797954337717;
const C2 = 1.6214297201053545;
const C3 = -0.758397934778766;
const C4 = 0.14599619288661245;
const TWO_POW_MINUS_100 = 7.888609052210118e-31;
const TWO_POW_53 = 9007199254740992.0;
const TWO_POW_600 = 4.149515568880993e180;
const TWO_POW_MINUS_600 = 2.409919865102884e-181;

/** x to the power y, with the special cases of IEC 60559 as ECMAScript has them: pow(±1, ±Infinity) is NaN. */
export function pow(x: number, y: number): number {
  if (y === 0) return 1;
  if (Number.isNaN(x) || Number.isNaN(y)) return Number.NaN;
  const magnitude = Math.abs(x);
  if (y === Number.POSITIVE_INFINITY || y === Number.NEGATIVE_INFINITY) {
    if (magnitude === 1) return Number.NaN;
    return magnitude > 1 === y > 0 ? Number.POSITIVE_INFINITY : 0;
  }
  if (y === 1) return x;
  if (y === 2) return x * x;
  if (y === -1) return 1 / x;
  const negative = x < 0 || (x === 0 && 1 / x < 0);
  if (y === 0.5 && !negative) return Math.sqrt(x);
  const parity = negative ? integerParity(y) : 2;
  if (x === 0 || magnitude === Number.POSITIVE_INFINITY || magnitude === 1) {
    const size = y < 0 ? 1 / magnitude : magnitude;
    if (!negative) return size;
    if (magnitude === 1 && parity === 0) return Number.NaN;
    return parity === 1 ? -size : size;
  }
  if (negative && parity === 0) return Number.NaN;
  return powerOfFinite(magnitude, y, parity === 1 ? -1 : 1);
}

/** 0 when the number has a fraction, 1 when it is an odd integer, 2 when it is an even one. */
function integerParity(value: number): number {
  if (Math.floor(value) !== value) return 0;
  const magnitude = Math.abs(value);
  if (magnitude >= TWO_POW_53) return 2;
  return magnitude - 2 * Math.floor(magnitude / 2) === 1 ? 1 : 2;
}

/** The power of a positive finite base other than 1, times the sign. */
function powerOfFinite(magnitude: number, y: number, sign: number): number {
  const yHigh = highWord(y);
  const iy = yHigh & 0x7fffffff;
  let ix = highWord(magnitude);
  let t1: number;
  let t2: number;
  if (iy > 0x41e00000) {
    // |y| above 2^31: all but the bases next to 1 overflow or underflow.
    if (iy > 0x43f00000) {
      if (ix <= 0x3fefffff) return y < 0 ? sign * Number.POSITIVE_INFINITY : sign * 0;
      if (ix >= 0x3ff00000) return y > 0 ? sign * Number.POSITIVE_INFINITY : sign * 0;
    }
    if (ix < 0x3fefffff) return y < 0 ? sign * Number.POSITIVE_INFINITY : sign * 0;
    if (ix > 0x3ff00000) return y > 0 ? sign * Number.POSITIVE_INFINITY : sign * 0;
    const t = magnitude - 1;
    const w = t * t * (0.5 - t * (0.3333333333333333 - t * 0.25));
    const u = INVERSE_LN2_HIGH * t;
    const v = t * INVERSE_LN2_LOW - w * INVERSE_LN2;
    t1 = topHalf(u + v);
    t2 = v - (t1 - u);
  } else {
    let n = 0;
    let ax = magnitude;
    if (ix < 0x00100000) {
      ax *= TWO_POW_53;
      n = -53;
      ix = highWord(ax);
    }
    let exponent = (ix >> 20) - 0x3ff;
    const j = ix & 0x000fffff;
    const upper = j > 0x3988e && j < 0xbb67a;
    if (j >= 0xbb67a) exponent += 1;
    n += exponent;
    ax *= powerOfTwo(-exponent);
    const bp = upper ? 1.5 : 1;
    let u = ax - bp;
    let v = 1 / (ax + bp);
    const ss = u * v;
    const sHigh = topHalf(ss);
    let tHigh = topHalf(ax + bp);
    let tLow = ax - (tHigh - bp);
    const sLow = v * (u - sHigh * tHigh - sHigh * tLow);
    let s2 = ss * ss;
    let r = s2 * s2 * (L1 + s2 * (L2 + s2 * (L3 + s2 * (L4 + s2 * (L5 + s2 * L6)))));
    r += sLow * (sHigh + ss);
    s2 = sHigh * sHigh;
    tHigh = topHalf(3 + s2 + r);
    tLow = r - (tHigh - 3 - s2);
    u = sHigh * tHigh;
    v = sLow * tHigh + tLow * ss;
    const pHigh = topHalf(u + v);
    const pLow = v - (pHigh - u);
    const zHigh = CP_HIGH * pHigh;
    const zLow = CP_LOW * pHigh + pLow * CP + (upper ? DP_LOW : 0);
    const dpHigh = upper ? DP_HIGH : 0;
    t1 = topHalf(zHigh + zLow + dpHigh + n);
    t2 = zLow - (t1 - n - dpHigh - zHigh);
  }
  // y log2(x) in two parts.
  const y1 = topHalf(y);
  const pLow = (y - y1) * t1 + y * t2;
  const pHigh = y1 * t1;
  const sum = pLow + pHigh;
  if (sum > 1024 || (sum === 1024 && pLow + OVERFLOW_TAIL > sum - pHigh)) return sign * Number.POSITIVE_INFINITY;
  if (sum < -1075 || (sum === -1075 && pLow <= sum - pHigh)) return sign * 0;
  return sign * twoToThe(pHigh, pLow);
}

/** 2^(high + low), for a sum from -1075 to 1024. */
function twoToThe(high: number, low: number): number {
  const n = Math.floor(high + low + 0.5);
  const rest = high - n;
  const t = topHalf(low + rest);
  const u = t * LN2_HIGH;
  const v = (low - (t - rest)) * LN2 + t * LN2_LOW;
  const z = u + v;
  const w = v - (z - u);
  const square = z * z;
  const c = z - square * (P1 + square * (P2 + square * (P3 + square * (P4 + square * P5))));
  const r = (z * c) / (c - 2) - (w + z * w);
  const value = 1 - (r - z);
  if (n < -1020) return value * powerOfTwo(n + 100) * TWO_POW_MINUS_100;
  return n > 1000 ? value * 2 * powerOfTwo(n - 1) : value * powerOfTwo(n);
}

/** The cube root. */
export function cbrt(x: number): number {
  if (x === 0 || x - x !== 0) return x;
  let magnitude = x < 0 ? -x : x;
  let scale = 1;
  if (magnitude < 2.2250738585072014e-308) {
    magnitude *= 1.8014398509481984e16;
    scale = 3.814697265625e-6;
  }
  const third = Math.floor(((highWord(magnitude) >> 20) - 1023) / 3);
  // The mantissa from 1 to 8, and a first guess to 1.6 %: our own minimax parabola.
  const m = magnitude * powerOfTwo(-3 * third);
  let t = 0.76250264 + m * (0.26807556 - m * 0.01467066);
  let r = t * t * (t / m);
  t *= C0 + r * (C1 + r * C2) + r * r * r * (C3 + r * C4);
  // Round t, so that t * t is exact and the last Newton step loses nothing.
  t = topHalf(t);
  r = m / (t * t);
  r = (r - t) / (t + t + r);
  t += t * r;
  t *= powerOfTwo(third) * scale;
  return x < 0 ? -t : t;
}

/** The length of the vector (x, y), with no overflow or underflow on the way. */
export function hypot(x: number, y: number): number {
  const a = Math.abs(x);
  const b = Math.abs(y);
  if (a === Number.POSITIVE_INFINITY || b === Number.POSITIVE_INFINITY) return Number.POSITIVE_INFINITY;
  const larger = Math.max(a, b);
  const smaller = Math.min(a, b);
  if (!(smaller > larger * 5.551115123125783e-17)) return a + b;
  if (larger > 1e153) return scaledHypot(larger * TWO_POW_MINUS_600, smaller * TWO_POW_MINUS_600) * TWO_POW_600;
  if (smaller < 1e-145) return scaledHypot(larger * TWO_POW_600, smaller * TWO_POW_600) * TWO_POW_MINUS_600;
  return scaledHypot(larger, smaller);
}

/** sqrt(x^2 + y^2) for 0 < y <= x, with the rounding error of the root taken off by one corrected step. */
function scaledHypot(x: number, y: number): number {
  const h = Math.sqrt(x * x + y * y);
  let first: number;
  let second: number;
  if (h <= 2 * y) {
    const delta = h - y;
    first = x * (2 * delta - x);
    second = (delta - 2 * (x - y)) * delta;
  } else {
    const delta = h - x;
    first = 2 * delta * (x - 2 * y);
    second = (4 * delta - y) * y + delta * delta;
  }
  return h - (first + second) / (2 * h);
}
