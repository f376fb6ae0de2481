/** The number at the front of a quantity, in the ways that people type it. */
import { InputError } from "../errors.ts";
import { type Decimal, multiplyDecimals, parseDecimal } from "./decimal.ts";

export interface NumberAndRest {
  readonly value: Decimal;
  /** The number as typed, tidied. */
  readonly numberText: string;
  /** What follows it, trimmed. */
  readonly rest: string;
}

const NUMBER = /^([+-]?\s*(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)(?:\s*[x×*·]?\s*10\^([+-]?\d{1,3}))?\s*/;

/** One kind of minus, plus-minus and space. */
export function tidySigns(text: string): string {
  return text
    .replace(/[\u00a0\u2007\u2009\u202f]/g, " ")
    .replace(/\u2212/g, "-")
    .replace(/\+\s*\/\s*-(?=\s*[\d.])/g, "±")
    .replace(/\+-(?=\s*[\d.])/g, "±")
    .trim();
}

/** Splits `12.5 um` into 12.5 and `um`; null when no number stands in front. Refuses a decimal comma. */
export function splitNumber(text: string, path: string, expected: string): NumberAndRest | null {
  refuseComma(text, path, expected);
  const superscripts = text.replace(/10([⁺⁻]?[⁰¹²³⁴-⁹]+)/g, (_, power: string) => `10^${plainDigits(power)}`);
  const match = NUMBER.exec(superscripts);
  if (match === null) return null;
  const numberText = match[1].replace(/\s+/g, "");
  const mantissa = parseDecimal(numberText);
  if (mantissa === null) return null;
  const power = match[2] === undefined ? 0 : Number(match[2]);
  const value = multiplyDecimals(mantissa, { digits: 1n, exponent: power });
  return { value, numberText, rest: superscripts.slice(match[0].length).trim() };
}

/** A decimal comma would otherwise be read as the end of the number. */
export function refuseComma(text: string, path: string, expected: string): void {
  if (!/\d,\d/.test(text)) return;
  const hint = /\d,\d{3}(?!\d)/.test(text)
    ? "Write a decimal point and no thousands separator"
    : `Write a decimal point: ${text.replace(/(\d),(\d)/g, "$1.$2")}`;
  throw new InputError({ code: "syntax", path, expected, got: text, hint });
}

const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

function plainDigits(text: string): string {
  return [...text].map((c) => (c === "⁻" ? "-" : c === "⁺" ? "+" : String(SUPERSCRIPTS.indexOf(c)))).join("");
}
