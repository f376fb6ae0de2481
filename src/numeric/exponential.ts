/**
 * exp, expm1, log and log1p that give the same bits in every engine: the built-in ones differ in the last bit between
 * engines. Error below 1 ulp. Single letters follow the source.
 *
 * Ported from fdlibm (https://www.netlib.org/fdlibm), whose notice reads:
 *
 *   Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
 *   Developed at SunPro, a Sun Microsystems, Inc. business.
 *   Permission to use, copy, modify, and distribute this software is freely granted, provided that this notice is
 *   preserved.
 */
import { highWord, powerOfTwo } from "./bits.ts";

const LN2_HIGH = 0.6931471803691238;
const LN2_LOW = 1.9082149292705877e-10;
const INVERSE_LN2 = Math.LOG2E;
const LARGEST_EXPONENT = 709.782712893384;
const SMALLEST_EXPONENT = -745.1332191019411;
const TWO_POW_54 = 1.8014398509481984e16;

// The polynomial of the remainder of exp on [0, ln2/2].
const P1 = 0.16666666666666602;
const P2 = -0.0027777777777015593;
const P3 = 6.613756321437934e-5;
const P4 = -1.6533902205465252e-6;
const P5 = 4.1381367970572385e-8;

// The polynomial of expm1.
const Q1 = -0.03333333333333313;
const Q2 = 0.0015873015872548146;
const Q3 = -7.93650757867488e-5;
const Q4 = 4.008217827329362e-6;
const Q5 = -2.0109921818362437e-7;

// The polynomial of log and log1p.
const L1 = 0.6666666666666735;
const L2 = 0.3999999999940942;
const L3 = 0.2857142874366239;
const L4 = 0.22222198432149784;
const L5 = 0.1818357216161805;
const L6 = 0.15313837699209373;
const L7 = 0.14798198605116586;

/** e^x. Overflows to Infinity above 709.78, underflows to 0 below -745.13. */
export function exp(x: number): number {
  const magnitude = x < 0 ? -x : x;
  if (!(magnitude <= 708)) {
    if (Number.isNaN(x)) return x;
    if (x > LARGEST_EXPONENT) return Number.POSITIVE_INFINITY;
    if (x < SMALLEST_EXPONENT) return 0;
  }
  if (magnitude < 3.725290298461914e-9) return 1 + x;
  let k = 0;
  let high = x;
  let low = 0;
  let r = x;
  if (magnitude > 0.34657359027997264) {
    k = magnitude < 1.0397207708399179 ? (x < 0 ? -1 : 1) : (INVERSE_LN2 * x + (x < 0 ? -0.5 : 0.5)) | 0;
    high = x - k * LN2_HIGH;
    low = k * LN2_LOW;
    r = high - low;
  }
  const t = r * r;
  const c = r - t * (P1 + t * (P2 + t * (P3 + t * (P4 + t * P5))));
  if (k === 0) return 1 - ((r * c) / (c - 2) - r);
  const y = 1 - (low - (r * c) / (2 - c) - high);
  if (k >= -1021) return k === 1024 ? y * 2 * 8.98846567431158e307 : y * powerOfTwo(k);
  return y * powerOfTwo(k + 1000) * 9.332636185032189e-302;
}

/** e^x - 1, accurate where x is small. */
export function expm1(x: number): number {
  if (Number.isNaN(x)) return x;
  if (x > LARGEST_EXPONENT) return Number.POSITIVE_INFINITY;
  if (x < -38.816242111356935) return -1;
  const magnitude = x < 0 ? -x : x;
  if (magnitude < 5.551115123125783e-17) return x;
  let k = 0;
  let r = x;
  let correction = 0;
  if (magnitude > 0.34657359027997264) {
    k = magnitude < 1.0397207708399179 ? (x < 0 ? -1 : 1) : (INVERSE_LN2 * x + (x < 0 ? -0.5 : 0.5)) | 0;
    const high = x - k * LN2_HIGH;
    const low = k * LN2_LOW;
    r = high - low;
    correction = high - r - low;
  }
  const half = 0.5 * r;
  const hxs = r * half;
  const r1 = 1 + hxs * (Q1 + hxs * (Q2 + hxs * (Q3 + hxs * (Q4 + hxs * Q5))));
  let t = 3 - r1 * half;
  let e = hxs * ((r1 - t) / (6 - r * t));
  if (k === 0) return r - (r * e - hxs);
  e = r * (e - correction) - correction;
  e -= hxs;
  if (k === -1) return 0.5 * (r - e) - 0.5;
  if (k === 1) return r < -0.25 ? -2 * (e - (r + 0.5)) : 1 + 2 * (r - e);
  if (k <= -2 || k > 56) {
    const y = 1 - (e - r);
    return (k === 1024 ? y * 2 * 8.98846567431158e307 : y * powerOfTwo(k)) - 1;
  }
  if (k < 20) {
    t = 1 - powerOfTwo(-k);
    return (t - (e - r)) * powerOfTwo(k);
  }
  t = powerOfTwo(-k);
  return (r - (e + t) + 1) * powerOfTwo(k);
}

/** The natural logarithm. -Infinity at 0, NaN below it. */
export function log(x: number): number {
  let high = highWord(x);
  let k = 0;
  let normal = x;
  if (high < 0x00100000) {
    if (x === 0) return Number.NEGATIVE_INFINITY;
    if (high < 0) return Number.NaN;
    k = -54;
    normal = x * TWO_POW_54;
    high = highWord(normal);
  }
  if (high >= 0x7ff00000) return x;
  let exponent = (high >> 20) - 1023;
  high &= 0x000fffff;
  // Bring the mantissa to sqrt(1/2) .. sqrt(2).
  exponent += ((high + 0x95f64) & 0x100000) >> 20;
  k += exponent;
  const f = normal * powerOfTwo(-exponent) - 1;
  if ((0x000fffff & (2 + high)) < 3) {
    if (f === 0) return k === 0 ? 0 : k * LN2_HIGH + k * LN2_LOW;
    const tail = f * f * (0.5 - 0.3333333333333333 * f);
    return k === 0 ? f - tail : k * LN2_HIGH - (tail - k * LN2_LOW - f);
  }
  const s = f / (2 + f);
  const z = s * s;
  const w = z * z;
  const r = z * (L1 + w * (L3 + w * (L5 + w * L7))) + w * (L2 + w * (L4 + w * L6));
  if (((high - 0x6147a) | (0x6b851 - high)) > 0) {
    const halfSquare = 0.5 * f * f;
    return k === 0
      ? f - (halfSquare - s * (halfSquare + r))
      : k * LN2_HIGH - (halfSquare - (s * (halfSquare + r) + k * LN2_LOW) - f);
  }
  return k === 0 ? f - s * (f - r) : k * LN2_HIGH - (s * (f - r) - k * LN2_LOW - f);
}

/** ln(1 + x), accurate where x is small. -Infinity at -1, NaN below it. */
export function log1p(x: number): number {
  if (!(x > -1)) return x === -1 ? Number.NEGATIVE_INFINITY : Number.NaN;
  if (x === Number.POSITIVE_INFINITY) return x;
  const magnitude = x < 0 ? -x : x;
  if (magnitude < 1.862645149230957e-9) return magnitude < 5.551115123125783e-17 ? x : x - x * x * 0.5;
  let k = 0;
  let f = x;
  let correction = 0;
  let high = 1;
  if (x <= -0.2928932188134524 || x >= 0.41421356237309503) {
    let u = x;
    if (x < 9007199254740992.0) {
      u = 1 + x;
      high = highWord(u);
      k = (high >> 20) - 1023;
      correction = (k > 0 ? 1 - (u - x) : x - (u - 1)) / u;
    } else {
      high = highWord(u);
      k = (high >> 20) - 1023;
    }
    high &= 0x000fffff;
    if (high >= 0x6a09e) {
      k += 1;
      high = (0x00100000 - high) >> 2;
    }
    f = u * powerOfTwo(-k) - 1;
  }
  const halfSquare = 0.5 * f * f;
  if (high === 0) {
    if (f === 0) return k === 0 ? 0 : k * LN2_HIGH + (correction + k * LN2_LOW);
    const tail = halfSquare * (1 - 0.6666666666666666 * f);
    return k === 0 ? f - tail : k * LN2_HIGH - (tail - (k * LN2_LOW + correction) - f);
  }
  const s = f / (2 + f);
  const z = s * s;
  const r = z * (L1 + z * (L2 + z * (L3 + z * (L4 + z * (L5 + z * (L6 + z * L7))))));
  return k === 0
    ? f - (halfSquare - s * (halfSquare + r))
    : k * LN2_HIGH - (halfSquare - (s * (halfSquare + r) + (k * LN2_LOW + correction)) - f);
}
