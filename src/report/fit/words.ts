import type { InternalUnit } from "../../scenario/types.ts";
import type { FitResult } from "../../studies/fit/result.ts";
import { formatFixed, formatLength } from "../../units/format.ts";
import { celsius, NOTHING, newtons, significant } from "../words.ts";

export const FAMILY_NAMES: Readonly<Record<FitResult["choice"], string>> = {
  normal: "normal",
  "truncated-normal": "truncated normal",
  skewed: "skewed (beta on the limits)",
  lognormal: "lognormal",
  empirical: "as measured",
};

/** A value of the quantity: a length with the tenth of a micrometre. */
export function valueText(value: number, unit: InternalUnit): string {
  if (!Number.isFinite(value)) return NOTHING;
  if (unit === "mm")
    return (Math.abs(value) >= 0.5 ? formatLength(value, 4) : `${formatFixed(value * 1000, 2)} µm`).replaceAll(
      " ",
      "\u00a0",
    );
  if (unit === "N") return newtons(value);
  if (unit === "degC") return celsius(value);
  return `${significant(value, 5)}${unit === "1" ? "" : `\u00a0${unit}`}`;
}

/** A difference or spread of the quantity. */
export function widthText(value: number, unit: InternalUnit): string {
  if (!Number.isFinite(value)) return NOTHING;
  if (unit === "mm") return `${formatFixed(value * 1000, 2)}\u00a0µm`;
  return `${significant(value)}${unit === "1" ? "" : `\u00a0${unit === "degC" ? "K" : unit}`}`;
}

export const RULE_WORDS = {
  "beyond-limits": "beyond a control limit",
  "one-side": "nine or more in a row on one side of the mean",
  trend: "six or more in a row rising or falling",
  "two-of-three": "two of three beyond two standard deviations",
  "four-of-five": "four of five beyond one standard deviation",
  range: "a jump between neighbours beyond its limit",
} as const;
