/** A quantity with its unit, as a person writes it, to the internal unit. */
import { InputError, type ProblemCode } from "../errors.ts";
import { addDecimals, type Decimal, decimalOf, decimalToNumber, multiplyDecimals, parseDecimal } from "./decimal.ts";
import { ABSOLUTE_ZERO_C, DIMENSIONS, type Dimension } from "./dimension.ts";
import { splitNumber, tidySigns } from "./number.ts";
import { isUnit, tidyUnit, unitFactor } from "./unit.ts";

export interface QuantityOptions {
  /** Unit of a number without one (drawing dimensions: `mm`); without it such a number is refused. */
  readonly bareUnit?: string;
  /** Closed limits in the internal unit. */
  readonly low?: number;
  readonly high?: number;
  /** The low limit itself is excluded. */
  readonly openLow?: boolean;
}

/** Reads one quantity. Returns its value in the internal unit of the dimension (see `DIMENSIONS`), rounded to a double once. */
export function parseQuantity(
  text: string | number,
  dimension: Dimension,
  path: string,
  options: QuantityOptions = {},
): number {
  const written = String(text);
  const expected = describeExpected(dimension, options);
  const refuse = refusal(path, expected, written);
  if (typeof text === "number" && decimalOf(text) === null) throw refuse("wrong-type");
  const split = splitNumber(tidySigns(written), path, expected);
  if (split === null) throw refuse("syntax", hintForUnreadable(tidySigns(written)));
  const unit = requireUnit(split.rest, dimension, options, refuse, split.numberText);
  const value = convertDecimal(split.value, unit, dimension, path, expected, written);
  checkRange(value, dimension, path, options, written, split.value);
  return value;
}

/** Makes the error for one place in the input. */
export type Refusal = (code: ProblemCode, hint?: string) => InputError;

/** Makes the errors of one value: what and where it is is said once. */
export function refusal(path: string, expected: string, got: string): Refusal {
  return (code, hint) => new InputError({ code, path, expected, got, hint });
}

/** `a length from 0 to 150 um`, or `a length such as 12 um` without limits. */
export function describeExpected(dimension: Dimension, options: QuantityOptions = {}): string {
  const { article, example } = DIMENSIONS[dimension];
  const { low, high, openLow } = options;
  if (low === undefined && high === undefined) return `${article} such as ${example}`;
  const unit = rangeUnit(dimension, Math.max(Math.abs(low ?? 0), Math.abs(high ?? 0)));
  const show = (value: number) => `${Number((value / unit.size).toPrecision(12))}`;
  const tail = unit.name === "" ? "" : ` ${unit.name}`;
  if (high === undefined) return `${article} ${openLow ? "above" : "of at least"} ${show(low ?? 0)}${tail}`;
  if (low === undefined) return `${article} of at most ${show(high)}${tail}`;
  return `${article} ${openLow ? "above" : "from"} ${show(low)} ${openLow ? "and up " : ""}to ${show(high)}${tail}`;
}

/** The unit that stands there, or the one for a bare number; refuses where neither does. */
export function requireUnit(
  unit: string,
  dimension: Dimension,
  options: QuantityOptions,
  refuse: Refusal,
  numberText: string,
): string {
  if (unit !== "" || dimension === "ratio" || dimension === "money") return unit;
  if (options.bareUnit !== undefined) return options.bareUnit;
  const value = parseDecimal(numberText);
  const fitting = value === null ? [] : unitsInRange(value, dimension, options);
  const units = fitting.length > 0 ? fitting : DIMENSIONS[dimension].usual;
  throw refuse("wrong-unit", `A unit is missing: write "${units.map((u) => `${numberText} ${u}`).join('" or "')}"`);
}

/** value·unit in the internal unit; refuses a unit that is unknown or of another kind. */
export function convertDecimal(
  value: Decimal,
  unit: string,
  dimension: Dimension,
  path: string,
  expected: string,
  written: string,
): number {
  const result = convertAny(value, unit, dimension, refusal(path, expected, written));
  const { greatest, internalUnit, article } = DIMENSIONS[dimension];
  if (!(Math.abs(result) <= greatest)) {
    const most = `${article} of at most ${greatest} ${internalUnit === "1" ? "" : internalUnit}`.trim();
    throw new InputError({ code: "out-of-range", path, expected: most, got: written });
  }
  return result;
}

function convertAny(value: Decimal, unit: string, dimension: Dimension, refuse: Refusal): number {
  if (dimension === "temperature") return convertTemperature(value, unit, refuse);
  return dimension === "money" ? decimalToNumber(value) : convertByFactor(value, unit, dimension, refuse);
}

/**
 * @param value in the internal unit of the dimension
 * @param written as the author wrote it, for the message
 * @param number as written without its unit: units are proposed in which it would be in range
 * @throws InputError outside the range, or below absolute zero
 */
export function checkRange(
  value: number,
  dimension: Dimension,
  path: string,
  options: QuantityOptions,
  written: string,
  number?: Decimal,
): void {
  if (inRange(value, options) && !(dimension === "temperature" && value < ABSOLUTE_ZERO_C)) return;
  const expected =
    dimension === "temperature" && value < ABSOLUTE_ZERO_C
      ? "a temperature above absolute zero (-273.15 degC)"
      : describeExpected(dimension, options);
  const units = number === undefined ? [] : unitsInRange(number, dimension, options);
  const hint = units.length === 0 ? undefined : `Did you mean ${Number(decimalToNumber(number!))} ${units[0]}?`;
  throw new InputError({ code: "out-of-range", path, expected, got: written, hint });
}

function convertByFactor(value: Decimal, unit: string, dimension: Dimension, refuse: Refusal): number {
  const factor = unitFactor(unit, dimension);
  if (factor === "unknown") throw refuse("wrong-unit", hintForUnit(unit, dimension));
  if (factor === "other-dimension") throw refuse("wrong-unit", hintForOtherDimension(unit, dimension));
  if ("inexact" in factor) return decimalToNumber(value) * factor.inexact;
  const product = decimalToNumber(multiplyDecimals(value, factor.multiplier));
  return factor.divisor.digits === 1n && factor.divisor.exponent === 0
    ? product
    : product / decimalToNumber(factor.divisor);
}

const KELVIN_OFFSET: Decimal = { digits: -27315n, exponent: -2 };
const FAHRENHEIT_OFFSET: Decimal = { digits: -32n, exponent: 0 };

function convertTemperature(value: Decimal, unit: string, refuse: Refusal): number {
  switch (tidyUnit(unit)) {
    case "degC":
    case "°C":
      return decimalToNumber(value);
    case "K":
    case "degK":
      return decimalToNumber(addDecimals(value, KELVIN_OFFSET));
    case "degF":
    case "°F":
      return decimalToNumber(multiplyDecimals(addDecimals(value, FAHRENHEIT_OFFSET), { digits: 5n, exponent: 0 })) / 9;
    case "C":
    case "c":
      throw refuse("wrong-unit", "C is the coulomb: write degC");
    case "F":
      throw refuse("wrong-unit", "F is the farad: write degF");
    default:
      throw refuse("wrong-unit", isUnit(unit) ? hintForOtherDimension(unit, "temperature") : undefined);
  }
}

function inRange(value: number, options: QuantityOptions): boolean {
  const { low, high, openLow } = options;
  return (low === undefined || (openLow ? value > low : value >= low)) && (high === undefined || value <= high);
}

/** Usual units of the dimension with which the same number would be accepted. Empty when there are no limits to tell by. */
function unitsInRange(value: Decimal, dimension: Dimension, options: QuantityOptions): string[] {
  if (options.low === undefined && options.high === undefined) return [];
  const expected = describeExpected(dimension);
  return DIMENSIONS[dimension].usual.filter((unit) => {
    const converted = convertAny(value, unit, dimension, refusal("", expected, ""));
    return inRange(converted, options) && !(dimension === "temperature" && converted < ABSOLUTE_ZERO_C);
  });
}

/** The usual unit in which the limits of a range are best read. */
function rangeUnit(dimension: Dimension, size: number): { name: string; size: number } {
  const { internalUnit } = DIMENSIONS[dimension];
  if (dimension === "ratio") return { name: "", size: 1 };
  if (dimension === "length" && size < 1) return { name: "um", size: 1e-3 };
  if (dimension === "pressure" && size >= 20_000) return { name: "GPa", size: 1e3 };
  if (dimension === "angle") return { name: "deg", size: Math.PI / 180 };
  return { name: internalUnit, size: 1 };
}

function hintForOtherDimension(unit: string, dimension: Dimension): string | undefined {
  const tidy = tidyUnit(unit);
  if (dimension === "temperature difference" && /^(degC|°C|degF|°F)$/.test(tidy)) {
    return "A temperature difference is written in K, e.g. 5 K";
  }
  if (dimension === "temperature") return "Write degC or K";
  if (/^(degC|°C|K)$/.test(tidy)) return "This is a temperature";
  return `Units that fit: ${DIMENSIONS[dimension].usual.join(", ")}`;
}

/** The same letters in another case, where that is a unit that fits (`UM`, `mpa`, `kn`). */
function hintForUnit(unit: string, dimension: Dimension): string | undefined {
  const lower = tidyUnit(unit).toLowerCase();
  const near = DIMENSIONS[dimension].usual.find((candidate) => candidate.toLowerCase() === lower);
  if (near !== undefined) return `Did you mean ${near}?`;
  return dimension === "ratio"
    ? "Write a plain number or %"
    : `Units that fit: ${DIMENSIONS[dimension].usual.join(", ")}`;
}

function hintForUnreadable(text: string): string | undefined {
  if (/±|\.\.|\bto\b|\+.*\//.test(text)) return "One value is expected here, without a tolerance or range";
  if (/^[A-Za-z°%µμ]/.test(text)) return "The number comes first, then its unit";
  return undefined;
}
