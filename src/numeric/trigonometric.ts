/**
 * sin, cos and tan that give the same bits in every engine. Error below 1 ulp. Single letters follow the source.
 *
 * Ported from fdlibm (https://www.netlib.org/fdlibm), whose notice reads:
 *
 *   Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
 *   Developed at SunPro, a Sun Microsystems, Inc. business.
 *   Permission to use, copy, modify, and distribute this software is freely granted, provided that this notice is
 *   preserved.
 *
 * The reduction of arguments past 1.6 million is our own: exact integer arithmetic on the bits of 2/pi.
 */
import { highWord, topHalf } from "./bits.ts";

const S1 = -0.16666666666666632;
const S2 = 0.00833333333332249;
const S3 = -0.0001984126982985795;
const S4 = 2.7557313707070068e-6;
const S5 = -2.5050760253406863e-8;
const S6 = 1.58969099521155e-10;
const C1 = 0.0416666666666666;
const C2 = -0.001388888888887411;
const C3 = 2.480158728947673e-5;
const C4 = -2.7557314351390663e-7;
const C5 = 2.087572321298175e-9;
const C6 = -1.1359647557788195e-11;
const T0 = 0.3333333333333341;
const T1 = 0.13333333333320124;
const T2 = 0.05396825397622605;
const T3 = 0.021869488294859542;
const T4 = 0.0088632398235993;
const T5 = 0.0035920791075913124;
const T6 = 0.0014562094543252903;
const T7 = 0.0005880412408202641;
const T8 = 0.0002464631348184699;
const T9 = 7.817944429395571e-5;
const T10 = 7.140724913826082e-5;
const T11 = -1.8558637485527546e-5;
const T12 = 2.590730518636337e-5;
const QUARTER_PI = 0.7853981633974483;
const QUARTER_PI_LOW = 3.061616997868383e-17;
const HALF_PI = 1.5707963267948966;
const HALF_PI_LOW = 6.123233995736766e-17;
const TWO_OVER_PI = 0.6366197723675814;
// pi/2 in three parts of 33 bits, each with the rest after it.
const HALF_PI_1 = 1.5707963267341256;
const HALF_PI_1_TAIL = 6.077100506506192e-11;
const HALF_PI_2 = 6.077100506303966e-11;
const HALF_PI_2_TAIL = 2.0222662487959506e-21;
const HALF_PI_3 = 2.0222662487111665e-21;
const HALF_PI_3_TAIL = 8.4784276603689e-32;

/** The first 1216 bits of 2/pi after the point: enough for the largest double. */
const TWO_OVER_PI_BITS = BigInt(
  "0x" +
    "a2f9836e4e441529fc2757d1f534ddc0db6295993c439041fe5163abdebbc561b7246e3a424dd2e006492eea09d1921c" +
    "fe1deb1cb129a73ee88235f52ebb4484e99c7026b45f7e413991d639835339f49c845f8bbdf9283b1ff897ffde05980f" +
    "ef2f118b5a0a6d1f6d367ecf27cb09b74f463f669e5fea2d7527bac7ebe5f17b3d0739f78a5292ea6bfb5fb11f8d5d08" +
    "56033046fc7b6bab",
);
const TWO_OVER_PI_LENGTH = 1216n;

/** The remainder of the last reduction in two parts, |remainder| <= pi/4; the function returns the quadrant. */
let remainder = 0;
let remainderTail = 0;

function reduce(x: number): number {
  const magnitude = x < 0 ? -x : x;
  if (magnitude > 1647099) return reduceLarge(x);
  const n = Math.floor(magnitude * TWO_OVER_PI + 0.5);
  let r = magnitude - n * HALF_PI_1;
  let w = n * HALF_PI_1_TAIL;
  const exponent = highWord(magnitude) >> 20;
  let y = r - w;
  if (exponent - ((highWord(y) >> 20) & 0x7ff) > 16) {
    let t = r;
    w = n * HALF_PI_2;
    r = t - w;
    w = n * HALF_PI_2_TAIL - (t - r - w);
    y = r - w;
    if (exponent - ((highWord(y) >> 20) & 0x7ff) > 49) {
      t = r;
      w = n * HALF_PI_3;
      r = t - w;
      w = n * HALF_PI_3_TAIL - (t - r - w);
      y = r - w;
    }
  }
  const tail = r - y - w;
  remainder = x < 0 ? -y : y;
  remainderTail = x < 0 ? -tail : tail;
  return (x < 0 ? -n : n) & 3;
}

/** x·2/pi from the integer mantissa of x and the bits of 2/pi, exactly, then its fraction times pi/2 in two parts. */
function reduceLarge(x: number): number {
  const magnitude = Math.abs(x);
  const exponent = (highWord(magnitude) >> 20) - 1075;
  let mantissa = magnitude;
  for (let left = exponent; left !== 0; left += left > 0 ? -1 : 1) mantissa = left > 0 ? mantissa / 2 : mantissa * 2;
  const product = (BigInt(mantissa) * TWO_OVER_PI_BITS) << BigInt(Math.max(exponent, 0));
  const length = TWO_OVER_PI_LENGTH + BigInt(Math.max(-exponent, 0));
  let quadrant = Number((product >> length) & 3n);
  // 160 bits of the fraction keep 100 of them even in the closest case of a double to a multiple of pi/2.
  let fraction = (product >> (length - 160n)) & ((1n << 160n) - 1n);
  let sign = 1;
  if (fraction >> 159n) {
    fraction = (1n << 160n) - fraction;
    quadrant = (quadrant + 1) & 3;
    sign = -1;
  }
  const drop = BigInt(Math.max(fraction.toString(2).length - 53, 0));
  const top = fraction >> drop;
  const scale = 1 / Number(1n << 160n);
  const high = Number(top << drop) * scale;
  const low = Number(fraction - (top << drop)) * scale;
  // (high + low)·pi/2 with the product of the leading parts split exactly (Dekker).
  const highTop = topHalf(high);
  const piTop = topHalf(HALF_PI);
  const product1 = high * HALF_PI;
  const error =
    highTop * piTop -
    product1 +
    highTop * (HALF_PI - piTop) +
    (high - highTop) * piTop +
    (high - highTop) * (HALF_PI - piTop);
  const rest = error + high * HALF_PI_LOW + low * HALF_PI;
  const value = product1 + rest;
  const tail = product1 - value + rest;
  remainder = x < 0 ? -sign * value : sign * value;
  remainderTail = x < 0 ? -sign * tail : sign * tail;
  return x < 0 ? -quadrant & 3 : quadrant;
}

function kernelSin(x: number, y: number): number {
  const z = x * x;
  const v = z * x;
  const r = S2 + z * (S3 + z * (S4 + z * (S5 + z * S6)));
  return x - (z * (0.5 * y - v * r) - y - v * S1);
}

function kernelCos(x: number, y: number): number {
  const z = x * x;
  const s = z * z;
  const r = z * (C1 + z * (C2 + z * C3)) + s * s * (C4 + z * (C5 + z * C6));
  const half = 0.5 * z;
  const w = 1 - half;
  return w + (1 - w - half + (z * r - x * y));
}

/** tan(x + y) when `odd` is false, -1/tan(x + y) when it is true. */
function kernelTan(start: number, startTail: number, odd: boolean): number {
  let x = start;
  let y = startTail;
  const large = Math.abs(start) >= 0.67434;
  if (large) {
    if (start < 0) {
      x = -x;
      y = -y;
    }
    x = QUARTER_PI - x + (QUARTER_PI_LOW - y);
    y = 0;
  }
  const z = x * x;
  const w = z * z;
  let r = T1 + w * (T3 + w * (T5 + w * (T7 + w * (T9 + w * T11))));
  const v = z * (T2 + w * (T4 + w * (T6 + w * (T8 + w * (T10 + w * T12)))));
  const s = z * x;
  r = y + z * (s * (r + v) + y);
  r += T0 * s;
  const sum = x + r;
  if (large) {
    const one = odd ? -1 : 1;
    return (start < 0 ? -1 : 1) * (one - 2 * (x - ((sum * sum) / (sum + one) - r)));
  }
  if (!odd) return sum;
  // -1/(x + r) to full precision.
  const top = topHalf(sum);
  const rest = r - (top - x);
  const a = -1 / sum;
  const t = topHalf(a);
  return t + a * (1 + t * top + t * rest);
}

/** The sine of an angle in rad. NaN for an infinite one. */
export function sin(x: number): number {
  const magnitude = x < 0 ? -x : x;
  if (magnitude <= QUARTER_PI) return magnitude < 7.450580596923828e-9 ? x : kernelSin(x, 0);
  if (x - x !== 0) return Number.NaN;
  const quadrant = reduce(x);
  const value = (quadrant & 1) === 0 ? kernelSin(remainder, remainderTail) : kernelCos(remainder, remainderTail);
  return (quadrant & 2) === 0 ? value : -value;
}

/** The cosine of an angle in rad. NaN for an infinite one. */
export function cos(x: number): number {
  const magnitude = x < 0 ? -x : x;
  if (magnitude <= QUARTER_PI) return kernelCos(magnitude, 0);
  if (x - x !== 0) return Number.NaN;
  const quadrant = reduce(x);
  const value = (quadrant & 1) === 0 ? kernelCos(remainder, remainderTail) : kernelSin(remainder, remainderTail);
  return ((quadrant + 1) & 2) === 0 ? value : -value;
}

/** The tangent of an angle in rad. NaN for an infinite one. */
export function tan(x: number): number {
  const magnitude = x < 0 ? -x : x;
  if (magnitude <= QUARTER_PI) return magnitude < 7.450580596923828e-9 ? x : kernelTan(x, 0, false);
  if (x - x !== 0) return Number.NaN;
  const quadrant = reduce(x);
  return kernelTan(remainder, remainderTail, (quadrant & 1) === 1);
}
