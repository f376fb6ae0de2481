/**
 * asin, acos, atan and atan2 that give the same bits in every engine. Error below 1 ulp (atan2 below 2). Single letters
 * follow the source.
 *
 * Ported from fdlibm (https://www.netlib.org/fdlibm), whose notice reads:
 *
 *   Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
 *   Developed at SunPro, a Sun Microsystems, Inc. business.
 *   Permission to use, copy, modify, and distribute this software is freely granted, provided that this notice is
 *   preserved.
 */
import { topHalf } from "./bits.ts";

const HALF_PI = 1.5707963267948966;
const HALF_PI_LOW = 6.123233995736766e-17;
const QUARTER_PI = 0.7853981633974483;
const PI = Math.PI;
const PI_LOW = 1.2246467991473532e-16;

const P0 = 0.16666666666666666;
const P1 = -0.3255658186224009;
const P2 = 0.20121253213486293;
const P3 = -0.04005553450067941;
const P4 = 0.0007915349942898145;
const P5 = 3.479331075960212e-5;
const Q1 = -2.403394911734414;
const Q2 = 2.0209457602335057;
const Q3 = -0.6882839716054533;
const Q4 = 0.07703815055590194;

const A0 = 0.3333333333333293;
const A1 = -0.19999999999876483;
const A2 = 0.14285714272503466;
const A3 = -0.11111110405462356;
const A4 = 0.09090887133436507;
const A5 = -0.0769187620504483;
const A6 = 0.06661073137387531;
const A7 = -0.058335701337905735;
const A8 = 0.049768779946159324;
const A9 = -0.036531572744216916;
const A10 = 0.016285820115365782;

/** (asin(s) - s)/s as a function of t = s^2, t <= 1/4. */
function asinRatio(t: number): number {
  return (
    (t * (P0 + t * (P1 + t * (P2 + t * (P3 + t * (P4 + t * P5)))))) / (1 + t * (Q1 + t * (Q2 + t * (Q3 + t * Q4))))
  );
}

/** The arc sine in rad. NaN outside [-1, 1]. */
export function asin(x: number): number {
  const magnitude = x < 0 ? -x : x;
  if (!(magnitude <= 1)) return Number.NaN;
  if (magnitude === 1) return x * HALF_PI + x * HALF_PI_LOW;
  if (magnitude < 0.5) return magnitude < 7.450580596923828e-9 ? x : x + x * asinRatio(x * x);
  const t = (1 - magnitude) * 0.5;
  const r = asinRatio(t);
  const s = Math.sqrt(t);
  let angle: number;
  if (magnitude >= 0.975) {
    angle = HALF_PI - (2 * (s + s * r) - HALF_PI_LOW);
  } else {
    const top = topHalf(s);
    const rest = (t - top * top) / (s + top);
    const p = 2 * s * r - (HALF_PI_LOW - 2 * rest);
    angle = QUARTER_PI - (p - (QUARTER_PI - 2 * top));
  }
  return x < 0 ? -angle : angle;
}

/** The arc cosine in rad. NaN outside [-1, 1]. */
export function acos(x: number): number {
  const magnitude = x < 0 ? -x : x;
  if (!(magnitude <= 1)) return Number.NaN;
  if (magnitude === 1) return x > 0 ? 0 : PI + 2 * HALF_PI_LOW;
  if (magnitude < 0.5) {
    if (magnitude <= 6.938893903907228e-18) return HALF_PI + HALF_PI_LOW;
    return HALF_PI - (x - (HALF_PI_LOW - x * asinRatio(x * x)));
  }
  const z = (1 - magnitude) * 0.5;
  const s = Math.sqrt(z);
  const r = asinRatio(z);
  if (x < 0) return PI - 2 * (s + (r * s - HALF_PI_LOW));
  const top = topHalf(s);
  return 2 * (top + (r * s + (z - top * top) / (s + top)));
}

/** The arc tangent in rad. */
export function atan(x: number): number {
  const magnitude = x < 0 ? -x : x;
  if (Number.isNaN(x)) return x;
  if (magnitude >= 7.378697629483821e19) return x > 0 ? HALF_PI + HALF_PI_LOW : -HALF_PI - HALF_PI_LOW;
  if (magnitude < 0.4375) return magnitude < 7.450580596923828e-9 ? x : x - x * atanRatio(x);
  let high: number;
  let low: number;
  let r: number;
  if (magnitude < 0.6875) {
    high = 0.4636476090008061;
    low = 2.2698777452961687e-17;
    r = (2 * magnitude - 1) / (2 + magnitude);
  } else if (magnitude < 1.1875) {
    high = 0.7853981633974483;
    low = 3.061616997868383e-17;
    r = (magnitude - 1) / (magnitude + 1);
  } else if (magnitude < 2.4375) {
    high = 0.982793723247329;
    low = 1.3903311031230998e-17;
    r = (magnitude - 1.5) / (1 + 1.5 * magnitude);
  } else {
    high = HALF_PI;
    low = HALF_PI_LOW;
    r = -1 / magnitude;
  }
  const angle = high - (r * atanRatio(r) - low - r);
  return x < 0 ? -angle : angle;
}

/** 1 - atan(x)/x for |x| <= 7/16. */
function atanRatio(x: number): number {
  const z = x * x;
  const w = z * z;
  return (
    z * (A0 + w * (A2 + w * (A4 + w * (A6 + w * (A8 + w * A10))))) + w * (A1 + w * (A3 + w * (A5 + w * (A7 + w * A9))))
  );
}

/** The angle in rad, from -pi to pi, of the vector with the components x and y. */
export function atan2(y: number, x: number): number {
  if (Number.isNaN(x) || Number.isNaN(y)) return Number.NaN;
  if (x === 1) return atan(y);
  const yNegative = y < 0 || (y === 0 && 1 / y < 0);
  const xNegative = x < 0 || (x === 0 && 1 / x < 0);
  const ax = Math.abs(x);
  const ay = Math.abs(y);
  let angle: number;
  if (ay === 0) {
    angle = xNegative ? PI : 0;
  } else if (ax === 0) {
    angle = HALF_PI;
  } else if (ax === Number.POSITIVE_INFINITY) {
    const both = ay === Number.POSITIVE_INFINITY;
    angle = xNegative ? (both ? 3 * QUARTER_PI : PI) : both ? QUARTER_PI : 0;
  } else if (ay === Number.POSITIVE_INFINITY) {
    angle = HALF_PI;
  } else {
    const quotient = ay / ax;
    if (quotient > 1.152921504606847e18) {
      angle = HALF_PI + 0.5 * PI_LOW;
    } else {
      const z = xNegative && quotient < 8.673617379884035e-19 ? 0 : atan(quotient);
      angle = xNegative ? PI - (z - PI_LOW) : z;
    }
  }
  return yNegative ? -angle : angle;
}
