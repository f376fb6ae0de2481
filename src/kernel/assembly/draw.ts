// Uniforms and their transforms. Addresses are bytes in the memory; columns hold an even number of elements.

const EXPONENT_OF_ONE: i64 = 0x3ff0000000000000;
const FRACTION: i64 = 0x000fffffffffffff;
/** The top six bits of the fraction: which cell of the octave. */
const CELL: i64 = 0x000fc00000000000;
/** The middle of a cell of the octave 1 … 2. */
const CELL_MIDDLE: i64 = 0x3ff0200000000000;
/** Bytes in front of the row of 2⁻⁶⁴ were the table to begin at an exponent of 0: 959 octaves of 64 rows of 64 bytes. */
const ROWS_BEFORE: i32 = 959 << 12;

/**
 * Four streams of xoshiro128++, one a lane, each into its own column: u = (k + ½)/2⁵², k the top 26 bits of one draw over
 * those of the next. Put together as the fraction of a double in 1 … 2, which is exact, as the plain kernel's product is.
 *
 * @param state four words of four lanes
 */
export function fillUniforms(state: usize, a: usize, b: usize, c: usize, d: usize, count: i32): void {
  let s0 = v128.load(state);
  let s1 = v128.load(state, 16);
  let s2 = v128.load(state, 32);
  let s3 = v128.load(state, 48);
  const one = i64x2.splat(EXPONENT_OF_ONE);
  const two = f64x2.splat(1.0);
  const half = f64x2.splat(1.1102230246251565e-16);
  for (let at: usize = 0, end = (<usize>((count + 1) >> 1)) << 4; at < end; at += 16) {
    let low01 = i64x2.splat(0);
    let low23 = low01;
    let high01 = low01;
    let high23 = low01;
    for (let half2 = 0; half2 < 2; half2++) {
      let sum = i32x4.add(s0, s3);
      const top = i32x4.shr_u(i32x4.add(v128.or(i32x4.shl(sum, 7), i32x4.shr_u(sum, 25)), s0), 6);
      let shifted = i32x4.shl(s1, 9);
      s2 = v128.xor(s2, s0);
      s3 = v128.xor(s3, s1);
      s1 = v128.xor(s1, s2);
      s0 = v128.xor(s0, s3);
      s2 = v128.xor(s2, shifted);
      s3 = v128.or(i32x4.shl(s3, 11), i32x4.shr_u(s3, 21));
      sum = i32x4.add(s0, s3);
      const bottom = i32x4.shr_u(i32x4.add(v128.or(i32x4.shl(sum, 7), i32x4.shr_u(sum, 25)), s0), 6);
      shifted = i32x4.shl(s1, 9);
      s2 = v128.xor(s2, s0);
      s3 = v128.xor(s3, s1);
      s1 = v128.xor(s1, s2);
      s0 = v128.xor(s0, s3);
      s2 = v128.xor(s2, shifted);
      s3 = v128.or(i32x4.shl(s3, 11), i32x4.shr_u(s3, 21));
      const low = v128.or(one, v128.or(i64x2.shl(i64x2.extend_low_i32x4_u(top), 26), i64x2.extend_low_i32x4_u(bottom)));
      const high = v128.or(
        one,
        v128.or(i64x2.shl(i64x2.extend_high_i32x4_u(top), 26), i64x2.extend_high_i32x4_u(bottom)),
      );
      if (half2 === 0) {
        low01 = low;
        low23 = high;
      } else {
        high01 = low;
        high23 = high;
      }
    }
    // Two samples of a stream stand in two vectors: put them beside one another.
    v128.store(a + at, f64x2.add(f64x2.sub(v128.shuffle<u64>(low01, high01, 0, 2), two), half));
    v128.store(b + at, f64x2.add(f64x2.sub(v128.shuffle<u64>(low01, high01, 1, 3), two), half));
    v128.store(c + at, f64x2.add(f64x2.sub(v128.shuffle<u64>(low23, high23, 0, 2), two), half));
    v128.store(d + at, f64x2.add(f64x2.sub(v128.shuffle<u64>(low23, high23, 1, 3), two), half));
  }
}

/** Uniforms to values of a uniform distribution, in place. */
export function transformUniform(column: usize, count: i32, low: f64, width: f64, high: f64): void {
  const start = f64x2.splat(low);
  const span = f64x2.splat(width);
  const end = f64x2.splat(high);
  for (let at = column, last = column + ((<usize>((count + 1) >> 1)) << 4); at < last; at += 16) {
    v128.store(at, f64x2.pmin(f64x2.add(start, f64x2.mul(span, v128.load(at))), end));
  }
}

/**
 * Uniforms to values of a normal distribution cut at its limits, in place. Meaning of the constants and layout of the
 * table: see the plain kernel and the table of normal scores.
 */
export function transformNormal(
  column: usize,
  count: i32,
  table: usize,
  mean: f64,
  sd: f64,
  low: f64,
  high: f64,
  below: f64,
  above: f64,
  mass: f64,
): void {
  const base = table - <usize>ROWS_BEFORE;
  const middle = f64x2.splat(mean);
  const scale = f64x2.splat(sd);
  const least = f64x2.splat(low);
  const most = f64x2.splat(high);
  const cutBelow = f64x2.splat(below);
  const cutAbove = f64x2.splat(above);
  const share = f64x2.splat(mass);
  const one = f64x2.splat(1.0);
  const centre = f64x2.splat(0.5);
  const least64 = f64x2.splat(5.421010862427522e-20);
  const fraction = i64x2.splat(FRACTION);
  const exponentOfOne = i64x2.splat(EXPONENT_OF_ONE);
  const cell = i64x2.splat(CELL);
  const cellMiddle = i64x2.splat(CELL_MIDDLE);
  const sign = f64x2.splat(-0.0);
  for (let at = column, last = column + ((<usize>((count + 1) >> 1)) << 4); at < last; at += 16) {
    const u = v128.load(at);
    const p = f64x2.add(cutBelow, f64x2.mul(u, share));
    const rest = f64x2.add(cutAbove, f64x2.mul(f64x2.sub(one, u), share));
    const isLower = f64x2.le(p, centre);
    // Raised to the table's beginning: only a lane beyond `count`, which holds no uniform, can be below it.
    const v = f64x2.pmax(least64, v128.bitselect(p, rest, isLower));
    const t = f64x2.sub(v128.or(v128.and(v, fraction), exponentOfOne), v128.or(v128.and(v, cell), cellMiddle));
    const t2 = f64x2.mul(t, t);
    // Exponent and cell side by side are the number of the row, times 64 bytes.
    const rowA = base + <usize>(<i32>(i64x2.extract_lane(v, 0) >>> 40) & -64);
    const rowB = base + <usize>(<i32>(i64x2.extract_lane(v, 1) >>> 40) & -64);
    const squareA = v128.shuffle<u64>(t2, t2, 0, 0);
    const squareB = v128.shuffle<u64>(t2, t2, 1, 1);
    const a = f64x2.add(
      v128.load(rowA),
      f64x2.mul(squareA, f64x2.add(v128.load(rowA, 16), f64x2.mul(squareA, v128.load(rowA, 32)))),
    );
    const b = f64x2.add(
      v128.load(rowB),
      f64x2.mul(squareB, f64x2.add(v128.load(rowB, 16), f64x2.mul(squareB, v128.load(rowB, 32)))),
    );
    const z = f64x2.add(v128.shuffle<u64>(a, b, 0, 2), f64x2.mul(t, v128.shuffle<u64>(a, b, 1, 3)));
    const signed = v128.xor(z, v128.andnot(sign, isLower));
    const x = f64x2.add(middle, f64x2.mul(scale, signed));
    v128.store(at, f64x2.pmin(f64x2.pmax(x, least), most));
  }
}
