// Sums, extremes and counts over columns. Sums run in four lanes, sample i in lane i mod 4, as the plain moments do.

/** All ones in the lanes of a pair at `place` that lie before `count`. */
function within(place: i32, count: i32): v128 {
  return i64x2(place < count ? -1 : 0, place + 1 < count ? -1 : 0);
}

/** (l0 + l2) + (l1 + l3) of the four lanes. */
function total(even: v128, odd: v128): f64 {
  const sum = f64x2.add(even, odd);
  return f64x2.extract_lane(sum, 0) + f64x2.extract_lane(sum, 1);
}

/**
 * Writes to `out`: the rough mean; sums of the first to fourth power of the deviation from it; least and greatest.
 *
 * @param count 1 or more
 */
export function moments(values: usize, count: i32, out: usize): void {
  const first = f64x2.splat(load<f64>(values));
  const zero = f64x2.splat(0.0);
  const whole = count & -4;
  let sumEven = zero;
  let sumOdd = zero;
  let leastEven = first;
  let leastOdd = first;
  let mostEven = first;
  let mostOdd = first;
  let at = values;
  for (let place = 0; place < count; place += 4, at += 32) {
    let even = v128.load(at);
    let odd = v128.load(at, 16);
    if (place >= whole) {
      even = v128.bitselect(even, first, within(place, count));
      odd = v128.bitselect(odd, first, within(place + 2, count));
    }
    sumEven = f64x2.add(sumEven, f64x2.sub(even, first));
    sumOdd = f64x2.add(sumOdd, f64x2.sub(odd, first));
    leastEven = f64x2.pmin(leastEven, even);
    leastOdd = f64x2.pmin(leastOdd, odd);
    mostEven = f64x2.pmax(mostEven, even);
    mostOdd = f64x2.pmax(mostOdd, odd);
  }
  const rough = load<f64>(values) + total(sumEven, sumOdd) / <f64>count;
  const centre = f64x2.splat(rough);
  let s1Even = zero;
  let s1Odd = zero;
  let s2Even = zero;
  let s2Odd = zero;
  let s3Even = zero;
  let s3Odd = zero;
  let s4Even = zero;
  let s4Odd = zero;
  at = values;
  for (let place = 0; place < count; place += 4, at += 32) {
    let even = f64x2.sub(v128.load(at), centre);
    let odd = f64x2.sub(v128.load(at, 16), centre);
    if (place >= whole) {
      even = v128.and(even, within(place, count));
      odd = v128.and(odd, within(place + 2, count));
    }
    const squareEven = f64x2.mul(even, even);
    const squareOdd = f64x2.mul(odd, odd);
    s1Even = f64x2.add(s1Even, even);
    s1Odd = f64x2.add(s1Odd, odd);
    s2Even = f64x2.add(s2Even, squareEven);
    s2Odd = f64x2.add(s2Odd, squareOdd);
    s3Even = f64x2.add(s3Even, f64x2.mul(squareEven, even));
    s3Odd = f64x2.add(s3Odd, f64x2.mul(squareOdd, odd));
    s4Even = f64x2.add(s4Even, f64x2.mul(squareEven, squareEven));
    s4Odd = f64x2.add(s4Odd, f64x2.mul(squareOdd, squareOdd));
  }
  const least = f64x2.pmin(leastEven, leastOdd);
  const most = f64x2.pmax(mostEven, mostOdd);
  const least0 = f64x2.extract_lane(least, 0);
  const least1 = f64x2.extract_lane(least, 1);
  const most0 = f64x2.extract_lane(most, 0);
  const most1 = f64x2.extract_lane(most, 1);
  store<f64>(out, rough);
  store<f64>(out, total(s1Even, s1Odd), 8);
  store<f64>(out, total(s2Even, s2Odd), 16);
  store<f64>(out, total(s3Even, s3Odd), 24);
  store<f64>(out, total(s4Even, s4Odd), 32);
  // biome-ignore lint/complexity/useMathMinMax: the sign of a zero is to be that of the plain moments
  store<f64>(out, least1 < least0 ? least1 : least0, 40);
  // biome-ignore lint/complexity/useMathMinMax: the sign of a zero is to be that of the plain moments
  store<f64>(out, most0 < most1 ? most1 : most0, 48);
}

function countOne(slot: usize): void {
  store<f64>(slot, load<f64>(slot) + 1.0);
}

/** Counts values that all lie between `low` and the end of the last bin. */
export function countEqualBins(values: usize, count: i32, low: f64, perUnit: f64, counts: usize, bins: i32): void {
  const start = f64x2.splat(low);
  const scale = f64x2.splat(perUnit);
  const last = i32x4.splat(bins - 1);
  const whole = count & -2;
  let at = values;
  for (let place = 0; place < whole; place += 2, at += 16) {
    const bin = i32x4.min_s(i32x4.trunc_sat_f64x2_s_zero(f64x2.mul(f64x2.sub(v128.load(at), start), scale)), last);
    countOne(counts + ((<usize>i32x4.extract_lane(bin, 0)) << 3));
    countOne(counts + ((<usize>i32x4.extract_lane(bin, 1)) << 3));
  }
  if (whole < count) {
    const bin = min<i32>(<i32>((load<f64>(at) - low) * perUnit), bins - 1);
    countOne(counts + ((<usize>bin) << 3));
  }
}

/**
 * Counts values over bins of 1/1024 of an octave, from the bin with key `lowKey`; copies those outside to `strays`.
 *
 * @returns how many were copied
 */
export function countLogBins(values: usize, count: i32, lowKey: i32, counts: usize, bins: i32, strays: usize): i32 {
  let stray = 0;
  for (let place = 0; place < count; place++) {
    const at = values + ((<usize>place) << 3);
    const key = <i32>(load<u32>(at, 4) >>> 10) - lowKey;
    if (<u32>key < <u32>bins) {
      countOne(counts + ((<usize>key) << 3));
    } else {
      store<f64>(strays + ((<usize>stray) << 3), load<f64>(at));
      stray++;
    }
  }
  return stray;
}

/** Copies the values whose byte is `code`, in order; says how many. */
export function pick(values: usize, bytes: usize, code: i32, out: usize, count: i32): i32 {
  let found = 0;
  const wanted = i8x16.splat(<i8>code);
  for (let place = 0; place < count; place += 16) {
    // Bytes beyond the count are read but never taken.
    let bits = i8x16.bitmask(i8x16.eq(v128.load(bytes + place), wanted));
    while (bits !== 0) {
      const k = place + ctz(bits);
      if (k >= count) break;
      store<f64>(out + ((<usize>found) << 3), load<f64>(values + ((<usize>k) << 3)));
      found++;
      bits &= bits - 1;
    }
  }
  return found;
}

/** How many of the bytes are `code`. */
export function countBytes(bytes: usize, code: i32, count: i32): i32 {
  const wanted = i8x16.splat(<i8>code);
  const whole = count & -16;
  let found = 0;
  let place = 0;
  for (; place < whole; place += 16) found += popcnt(i8x16.bitmask(i8x16.eq(v128.load(bytes + place), wanted)));
  for (; place < count; place++) found += <i32>(<i32>load<u8>(bytes + place) === code);
  return found;
}

/** All words or-ed together. */
export function orWords(words: usize, count: i32): i32 {
  let all = i64x2.splat(0);
  const whole = count & -8;
  let place = 0;
  for (; place < whole; place += 8) all = v128.or(all, v128.load(words + ((<usize>place) << 1)));
  let bits = i64x2.extract_lane(all, 0) | i64x2.extract_lane(all, 1);
  bits |= bits >>> 32;
  bits |= bits >>> 16;
  let result = <i32>(bits & 0xffff);
  for (; place < count; place++) result |= load<u16>(words + ((<usize>place) << 1));
  return result;
}

/** In how many words a bit is set. */
export function countBit(words: usize, bit: i32, count: i32): i32 {
  const wanted = i16x8.splat(<i16>bit);
  const none = i64x2.splat(0);
  const whole = count & -8;
  let found = 0;
  let place = 0;
  for (; place < whole; place += 8) {
    found += popcnt(i16x8.bitmask(i16x8.ne(v128.and(v128.load(words + ((<usize>place) << 1)), wanted), none)));
  }
  for (; place < count; place++) found += <i32>((load<u16>(words + ((<usize>place) << 1)) & bit) !== 0);
  return found;
}

/** out = 1 where the byte is `code`, else 0. */
export function equalBytes(out: usize, bytes: usize, code: i32, count: i32): void {
  const wanted = i8x16.splat(<i8>code);
  const one = i8x16.splat(1);
  const whole = count & -16;
  let place = 0;
  for (; place < whole; place += 16) {
    v128.store(out + place, v128.and(i8x16.eq(v128.load(bytes + place), wanted), one));
  }
  for (; place < count; place++) store<u8>(out + place, <u8>(<i32>load<u8>(bytes + place) === code));
}

/** pattern |= flag where the byte is 1; bytes are 0 or 1. */
export function raiseWhere(pattern: usize, bytes: usize, flag: i32, count: i32): void {
  const raised = i8x16.splat(<i8>flag);
  const one = i8x16.splat(1);
  const whole = count & -16;
  let place = 0;
  for (; place < whole; place += 16) {
    const set = v128.and(i8x16.eq(v128.load(bytes + place), one), raised);
    v128.store(pattern + place, v128.or(v128.load(pattern + place), set));
  }
  for (; place < count; place++) {
    if (load<u8>(bytes + place) === 1) store<u8>(pattern + place, load<u8>(pattern + place) | <u8>flag);
  }
}
