import { InputError, type ProblemCode } from "../errors.ts";

/** Refuse anything but a finite number inside the limits; `expected` says them in words with the unit. */
export function requireBetween(
  value: number,
  low: number,
  high: number,
  path: string,
  expected: string,
  code: ProblemCode = "out-of-range",
): void {
  if (!(value >= low && value <= high)) {
    throw new InputError({ code, path, expected, got: String(value) });
  }
}

/** Refuse anything but a finite number above zero. */
export function requirePositive(value: number, path: string, unit: string): void {
  requireBetween(value, Number.MIN_VALUE, Number.MAX_VALUE, path, `a number above 0 ${unit}`.trim());
}

/** Refuse NaN and the infinities. */
export function requireFinite(value: number, path: string, unit: string): void {
  requireBetween(value, -Number.MAX_VALUE, Number.MAX_VALUE, path, `a finite number ${unit}`.trim());
}

/** Refuse anything but a whole number of at least `low`. */
export function requireCount(value: number, low: number, path: string): void {
  if (!Number.isInteger(value) || value < low) {
    throw new InputError({
      code: "out-of-range",
      path,
      expected: `a whole number of at least ${low}`,
      got: String(value),
    });
  }
}
