/** Tolerances as they stand on a drawing: `60.00 ±0.01`, `60 +0.010/-0.005`, `20 k5`, `5..20 um`, `100 N ±10 %`. */
import { addDecimals, compareDecimals, type Decimal, multiplyDecimals, negateDecimal } from "./decimal.ts";
import { DIMENSIONS, type Dimension } from "./dimension.ts";
import { refuseComma, splitNumber, tidySigns } from "./number.ts";
import {
  checkRange,
  convertDecimal,
  describeExpected,
  type QuantityOptions,
  type Refusal,
  refusal,
  requireUnit,
} from "./quantity.ts";
import { tidyUnit } from "./unit.ts";

export type Toleranced =
  | { readonly kind: "plain"; readonly nominal: number }
  | { readonly kind: "limits"; readonly nominal: number; readonly low: number; readonly high: number }
  /** `code` is an ISO 286 tolerance class such as `k5` or `J7`. */
  | { readonly kind: "code"; readonly nominal: number; readonly code: string }
  | { readonly kind: "range"; readonly low: number; readonly high: number };

/** Letters of the fundamental deviations of ISO 286-1 (i, l, o, q, w are not used) and a grade 01, 0, 1 … 18. */
const CODE =
  /^(?:[Øø⌀]\s*)?([\d.]+)\s*(mm)?\s*((?:js|cd|ef|fg|za|zb|zc|JS|CD|EF|FG|ZA|ZB|ZC|[a-hjkmnprstuvxyzA-HJKMNPRSTUVXYZ])(?:01|1[0-8]|\d))\s*(mm)?$/;

interface Part {
  readonly value: Decimal;
  readonly unit: string;
  readonly numberText: string;
}

/** Reads a quantity with or without a tolerance; all values in the internal unit. Limits in `options` hold for every value. */
export function parseToleranced(
  text: string | number,
  dimension: Dimension,
  path: string,
  options: QuantityOptions = {},
): Toleranced {
  const written = String(text);
  const expected = `${describeExpected(dimension, options)}, with or without a tolerance`;
  const refuse = refusal(path, expected, written);
  const tidy = tidySigns(written);
  const reader = new Reader(dimension, path, options, written, expected, refuse);

  refuseComma(tidy, path, expected);
  if (dimension === "length") {
    if (/[A-Za-z]\d+\s*\/\s*[A-Za-z]+\d+$/.test(tidy)) throw refuse("syntax", hintFor(tidy));
    const code = CODE.exec(tidy);
    if (code !== null)
      return { kind: "code", nominal: reader.single(`${code[1]} ${code[2] ?? code[4] ?? "mm"}`), code: code[3] };
  }
  const ends = tidy.split(/\s*(?:\.{2,3}|…|–|\bto\b)\s*/);
  if (ends.length === 2) return reader.range(ends[0], ends[1]);
  const plusMinus = tidy.split(/\s*±\s*/);
  if (plusMinus.length === 2) return reader.plusMinus(plusMinus[0], plusMinus[1]);
  if (ends.length > 2 || plusMinus.length > 2) throw refuse("syntax", hintFor(tidy));
  return reader.nominalAndDeviations(tidy);
}

/** A signed deviation with the unit that may follow it. */
const DEVIATION = String.raw`([+-]\s*[\d.]+(?:e[+-]?\d+)?|(?<![\d.])0(?:\.0*)?)\s*([^\d\s/+-][^\s+-]*?)?`;
const TWO_DEVIATIONS = new RegExp(
  `^(.*?[^\\s/])\\s*(?<=[\\d\\s]|[A-Za-z%°²³\\)])\\s*${DEVIATION}(?:\\s*/\\s*|\\s+)${DEVIATION}$`,
  "i",
);
const ONE_DEVIATION = new RegExp(`^(.*?[\\dA-Za-z%°])\\s+${DEVIATION}$`, "i");

class Reader {
  constructor(
    private readonly dimension: Dimension,
    private readonly path: string,
    private readonly options: QuantityOptions,
    private readonly written: string,
    private readonly expected: string,
    private readonly refuse: Refusal,
  ) {}

  single(text: string): number {
    const part = this.part(text);
    return this.value(part, this.unitOf(part));
  }

  range(lowText: string, highText: string): Toleranced {
    const low = this.part(lowText);
    const high = this.part(highText);
    const lowUnit = this.unitOf(low.unit === "" ? { ...low, unit: high.unit } : low);
    const highUnit = this.unitOf(high.unit === "" ? { ...high, unit: low.unit } : high);
    const lowValue = this.value(low, lowUnit);
    const highValue = this.value(high, highUnit);
    if (lowValue > highValue) {
      throw this.refuse("reversed-limits", `The low limit comes first: ${swapped(lowText, highText)}`);
    }
    return { kind: "range", low: lowValue, high: highValue };
  }

  plusMinus(nominalText: string, deviationText: string): Toleranced {
    const nominal = this.part(nominalText);
    const deviation = this.part(deviationText.replace(/^\+\s*/, ""));
    if (deviation.value.digits < 0n) throw this.refuse("syntax", "A ± tolerance is a positive number");
    return this.limits(nominal, { ...deviation, value: negateDecimal(deviation.value) }, deviation);
  }

  nominalAndDeviations(tidy: string): Toleranced {
    const two = TWO_DEVIATIONS.exec(tidy);
    if (two !== null && this.looksLikeNumber(two[1])) {
      const first = this.part(`${two[2]} ${two[3] ?? ""}`);
      const second = this.part(`${two[4]} ${two[5] ?? ""}`);
      const firstIsHigh = deviationOrder(two[2], two[4], first, second, this.refuse, tidy);
      return firstIsHigh
        ? this.limits(this.part(two[1]), second, first)
        : this.limits(this.part(two[1]), first, second);
    }
    const one = ONE_DEVIATION.exec(tidy);
    if (one !== null && this.looksLikeNumber(one[1])) {
      const other = one[2].startsWith("-") ? `0/${one[2]}` : `${one[2]}/0`;
      throw this.refuse(
        "syntax",
        `Write both limits: "${one[1]} ${other}", or "${one[1]} ±${one[2].replace(/[+-]\s*/, "")}"`,
      );
    }
    const part = splitNumber(tidy, this.path, this.expected);
    if (part === null || /[±/+]\s*[\d.]/.test(part.rest) || /^-\s*\d/.test(part.rest)) {
      throw this.refuse("syntax", hintFor(tidy));
    }
    return { kind: "plain", nominal: this.single(tidy) };
  }

  private looksLikeNumber(text: string): boolean {
    return splitNumber(text, this.path, this.expected) !== null;
  }

  private limits(nominal: Part, low: Part, high: Part): Toleranced {
    const lowUnit = low.unit === "" ? high.unit : low.unit;
    const highUnit = high.unit === "" ? low.unit : high.unit;
    const unit = this.unitOf({ ...nominal, unit: this.nominalUnit(nominal, highUnit) });
    return {
      kind: "limits",
      nominal: this.value(nominal, unit),
      low: this.shifted(nominal, unit, { ...low, unit: lowUnit }),
      high: this.shifted(nominal, unit, { ...high, unit: highUnit }),
    };
  }

  /** Its own unit, or the one at the end; where bare numbers are mm, `60 ±10 um` could mean two things and is refused. */
  private nominalUnit(nominal: Part, deviationUnit: string): string {
    if (nominal.unit !== "" || deviationUnit === "" || isPercent(deviationUnit, this.dimension)) return nominal.unit;
    const { bareUnit } = this.options;
    if (this.dimension === "temperature" && tidyUnit(deviationUnit) === "K") {
      throw this.refuse("wrong-unit", `Give the temperature its own unit: "${nominal.numberText} degC ± … K"`);
    }
    if (bareUnit === undefined || tidyUnit(deviationUnit) === tidyUnit(bareUnit)) return deviationUnit;
    const hint = `Give the nominal its own unit: "${nominal.numberText} ${bareUnit} …" or "${nominal.numberText} ${deviationUnit} …"`;
    throw this.refuse("wrong-unit", hint);
  }

  /** nominal + deviation, added in decimal when both stand in one unit so that 60 − 0.01 is the double 59.99. */
  private shifted(nominal: Part, unit: string, deviation: Part): number {
    if (isPercent(deviation.unit, this.dimension)) {
      const share = multiplyDecimals(deviation.value, { digits: 1n, exponent: -2 });
      return this.value(
        { ...nominal, value: addDecimals(nominal.value, multiplyDecimals(nominal.value, share)) },
        unit,
      );
    }
    if (this.sameScale(unit, deviation.unit)) {
      return this.value({ ...nominal, value: addDecimals(nominal.value, deviation.value) }, unit);
    }
    const kind = this.dimension === "temperature" ? "temperature difference" : this.dimension;
    const base = this.value(nominal, unit);
    const step = convertDecimal(deviation.value, deviation.unit, kind, this.path, this.expected, this.written);
    const sum = Number((base + step).toPrecision(15));
    checkRange(sum, this.dimension, this.path, this.options, this.written);
    return sum;
  }

  private sameScale(unit: string, deviationUnit: string): boolean {
    if (deviationUnit === "" || tidyUnit(deviationUnit) === tidyUnit(unit)) return true;
    const celsiusSized = /^(degC|°C|K)$/;
    return (
      this.dimension === "temperature" &&
      celsiusSized.test(tidyUnit(unit)) &&
      celsiusSized.test(tidyUnit(deviationUnit))
    );
  }

  private part(text: string): Part {
    const split = splitNumber(text.trim(), this.path, this.expected);
    if (split === null) throw this.refuse("syntax", hintFor(text));
    return { value: split.value, unit: split.rest, numberText: split.numberText };
  }

  private unitOf(part: Part): string {
    return requireUnit(part.unit, this.dimension, this.options, this.refuse, part.numberText);
  }

  private value(part: Part, unit: string): number {
    const value = convertDecimal(part.value, unit, this.dimension, this.path, this.expected, this.written);
    checkRange(value, this.dimension, this.path, this.options, this.written, part.value);
    return value;
  }
}

/** `±10 %` of a nominal in another unit; for a ratio a percentage is a value of its own. */
function isPercent(unit: string, dimension: Dimension): boolean {
  return unit === "%" && dimension !== "ratio" && DIMENSIONS[dimension].libraryUnit !== "";
}

/**
 * Whether the first deviation is the upper one. Either order is read when the signs differ; two deviations of one sign must stand
 * upper first, as on a drawing.
 */
function deviationOrder(
  firstText: string,
  secondText: string,
  first: Part,
  second: Part,
  refuse: Refusal,
  tidy: string,
): boolean {
  const order = compareDecimals(first.value, second.value);
  if (first.unit !== "" && second.unit !== "" && tidyUnit(first.unit) !== tidyUnit(second.unit)) {
    throw refuse("syntax", "Write both deviations in one unit");
  }
  if (firstText.startsWith("-") && secondText.startsWith("-") && order < 0) {
    throw refuse("reversed-limits", `The upper deviation comes first: ${secondText}/${firstText}`);
  }
  if (firstText.startsWith("+") && secondText.startsWith("+") && order < 0) {
    throw refuse("reversed-limits", `The upper deviation comes first: ${secondText}/${firstText}`);
  }
  if (order === 0 && first.value.digits !== 0n) {
    throw refuse("reversed-limits", `Both limits of "${tidy}" are the same`);
  }
  return order >= 0;
}

function swapped(lowText: string, highText: string): string {
  const low = lowText.replace(/[^\d.+-].*$/, "").trim();
  const unit = highText.replace(/^[+-]?[\d.]+\s*/, "");
  const high = highText.replace(/[^\d.+-].*$/, "").trim();
  return `${high}..${low} ${unit}`.trim();
}

function hintFor(text: string): string {
  if (/^[\d.]+\s*-\s*[\d.]+/.test(text)) return `For a range write ${text.replace(/\s*-\s*/, "..")}`;
  if (/\/.*[A-Za-z]\d/.test(text)) return "A fit such as H7/k6 is given one side at a time";
  return "Write 60.00 ±0.01, 60 +0.010/-0.005, 5..20 um or (lengths) 20 k5";
}
