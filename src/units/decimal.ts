/**
 * Decimal numbers exactly as written. A drawing says `60 +0.010/-0.005`: the limits are 60.010 and 59.995, and they are worked out in
 * decimal and rounded to a double once, so that `12 um` is the same double as `0.012` and not a neighbour of it.
 */

/** value = digits · 10^exponent */
export interface Decimal {
  readonly digits: bigint;
  readonly exponent: number;
}

/** Longest run of digits and largest exponent that a quantity may be written with; past them it is not a measurement. */
const MOST_DIGITS = 60;
const LARGEST_EXPONENT = 300;

const DECIMAL_TEXT = /^([+-]?)(\d*)(?:\.(\d*))?(?:[eE]([+-]?\d{1,6}))?$/;

/** Reads `-12.50e-3`; null when the text is not a decimal number (or is absurdly long). */
export function parseDecimal(text: string): Decimal | null {
  const match = DECIMAL_TEXT.exec(text);
  if (match === null) return null;
  const whole = match[2];
  const fraction = match[3] ?? "";
  if (whole === "" && fraction === "") return null;
  if (whole.length + fraction.length > MOST_DIGITS) return null;
  const exponent = Number(match[4] ?? "0") - fraction.length;
  if (Math.abs(exponent) > LARGEST_EXPONENT) return null;
  const magnitude = BigInt(`${whole}${fraction}`);
  return { digits: match[1] === "-" ? -magnitude : magnitude, exponent };
}

/** The decimal that prints like the double, e.g. 0.1 is 1/10 and not the binary neighbour it is stored as. */
export function decimalOf(value: number): Decimal | null {
  return Number.isFinite(value) ? parseDecimal(String(value)) : null;
}

/** a + b, exactly. */
export function addDecimals(a: Decimal, b: Decimal): Decimal {
  const exponent = Math.min(a.exponent, b.exponent);
  return { digits: scaledTo(a, exponent) + scaledTo(b, exponent), exponent };
}

/** −a. */
export function negateDecimal(a: Decimal): Decimal {
  return { digits: -a.digits, exponent: a.exponent };
}

/** a·b, exactly. */
export function multiplyDecimals(a: Decimal, b: Decimal): Decimal {
  return { digits: a.digits * b.digits, exponent: a.exponent + b.exponent };
}

/** The nearest double. Zero never comes out as −0. */
export function decimalToNumber(a: Decimal): number {
  return a.digits === 0n ? 0 : Number(`${a.digits}e${a.exponent}`);
}

/** −1, 0 or 1. */
export function compareDecimals(a: Decimal, b: Decimal): number {
  const difference = addDecimals(a, negateDecimal(b)).digits;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

function scaledTo(a: Decimal, exponent: number): bigint {
  return a.digits * 10n ** BigInt(a.exponent - exponent);
}
