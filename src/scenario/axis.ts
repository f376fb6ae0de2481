import { InputError } from "../errors.ts";
import type { VariableScenario } from "./source.ts";

/** A parameter gone through in steps. */
export interface Axis {
  readonly path: string;
  /** Unit of the numbers as written; null where the values are names. */
  readonly unit: string | null;
  readonly values: readonly AxisValue[];
  /** Spread that every value carries, such as `±6 degC`; empty without one. */
  readonly kept: string;
  /** Whether the quantity has a spread in the scenario that the sweep takes away. */
  readonly dropsSpread: boolean;
}

export interface AxisValue {
  readonly text: string;
  readonly number: number | null;
}

const MOST_VALUES = 1000;
const NUMBER = String.raw`[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?`;
const RANGE = new RegExp(
  String.raw`^(${NUMBER})\s*(?:\.\.|…|\bto\b)\s*(${NUMBER})\s*(?:±\s*(${NUMBER}))?\s*([^\d±]*?)\s*/\s*(\d+)$`,
  "i",
);
const QUANTITY = new RegExp(String.raw`^(${NUMBER})\s*(?:±\s*(${NUMBER}))?\s*([^\d±]*)$`, "i");

/**
 * Reads `states.hot.housing=60..140 degC/9`, or a list such as `seats.housing.material=grey-iron,aluminium-6061`.
 *
 * A number takes the place of the nominal only: where the scenario says `110 ±6 degC`, the ±6 degC stays, unless the sweep
 * says a tolerance of its own (`60..140 ±2 degC/9`; `±0` for none).
 *
 * @throws InputError usage, out-of-range
 */
export function parseAxis(text: string, option: string, source: VariableScenario): Axis {
  const cut = text.indexOf("=");
  const path = text.slice(0, Math.max(cut, 0)).trim();
  const written = text.slice(cut + 1).trim();
  const refuse = (expected: string): InputError => new InputError({ code: "usage", path: option, expected, got: text });
  const example = 'a sweep such as "states.hot.housing=60..140 degC/9" or "bearings.both.clearanceGroup=CN,C3,C4"';
  if (path === "" || written === "") throw refuse(example);
  const range = RANGE.exec(written);
  if (range !== null) {
    const [, low, high, tolerance, unit, steps] = range;
    const count = Number(steps);
    if (!(count >= 2 && count <= MOST_VALUES)) throw refuse(`2 to ${MOST_VALUES} values behind the stroke`);
    if (Number(low) === Number(high)) throw refuse("two different ends");
    const step = Math.abs(Number(high) - Number(low)) / (count - 1);
    const numbers = Array.from({ length: count }, (_, place) =>
      rounded(Number(low) + ((Number(high) - Number(low)) * place) / (count - 1), step),
    );
    return numericAxis(source, path, numbers, unit.trim(), tolerance);
  }
  if (/\/\s*\d+$/.test(written) && /\.\./.test(written)) throw refuse(example);
  const items = written.split(/\s*,\s*/).filter((item) => item !== "");
  if (items.length > MOST_VALUES) throw refuse(`at most ${MOST_VALUES} values`);
  const read = items.map((item) => QUANTITY.exec(item));
  const units = new Set(read.map((match) => match?.[3].trim() ?? ""));
  const isNumeric = read.every((match) => match !== null && match[2] === undefined) && units.size === 1;
  if (isNumeric && items.length > 1) {
    return numericAxis(
      source,
      path,
      read.map((match) => Number(match![1])),
      [...units][0],
      undefined,
    );
  }
  return {
    path,
    unit: null,
    values: items.map((item) => ({ text: item, number: null })),
    kept: "",
    dropsSpread: false,
  };
}

/** Text that stands in the scenario for a number of an axis. */
export function axisText({ unit, kept }: Pick<Axis, "unit" | "kept">, number: number): string {
  const tail = unit === null || unit === "" ? "" : ` ${unit}`;
  return kept === "" ? `${tidy(number)}${tail}` : `${tidy(number)} ${kept}`;
}

function numericAxis(
  source: VariableScenario,
  path: string,
  numbers: readonly number[],
  unit: string,
  tolerance: string | undefined,
): Axis {
  const existing = source.at(path);
  const spread = typeof existing === "string" ? /±\s*(.+)$/.exec(existing)?.[1].trim() : undefined;
  const own = tolerance === undefined ? undefined : Number(tolerance) === 0 ? "" : `${tolerance} ${unit}`.trim();
  const width = own ?? spread ?? "";
  const kept = width === "" ? "" : `±${width}`;
  const isVarying =
    (typeof existing === "object" && existing !== null) ||
    (typeof existing === "string" && /[a-zA-Z]\d|\.\.|[+-]\s*[\d.]+\s*\//.test(existing));
  return {
    path,
    unit,
    kept,
    dropsSpread: kept === "" && tolerance === undefined && isVarying,
    values: numbers.map((number) => ({ text: axisText({ unit, kept }, number), number })),
  };
}

/** To a hundredth of the step or better: the value itself is rounded, not only its text. */
function rounded(value: number, step: number): number {
  let decimals = 0;
  for (let scaled = step; scaled < 100 && decimals < 12; scaled *= 10) decimals += 1;
  return Number(value.toFixed(decimals));
}

function tidy(value: number): number {
  return Number(value.toPrecision(12));
}
