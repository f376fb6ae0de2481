import { quantile } from "../distributions/index.ts";
import type { Distribution } from "../distributions/types.ts";
import type { InternalUnit } from "./types.ts";

/** Below this a length in mm reads better in micrometres. */
const MICROMETRES_BELOW_MM = 0.2;

/** Probability beyond ±3 sigma on one side of a normal: the range that a person would call its limits. */
const THREE_SIGMA_TAIL = 0.0013498980316301035;

const UNIT_WORDS: Record<InternalUnit, string> = {
  mm: "mm",
  N: "N",
  "N/mm": "N/mm",
  degC: "°C",
  K: "K",
  "1": "",
  MPa: "MPa",
  "N.mm": "N·mm",
  W: "W",
  "W/K": "W/K",
  "mm2/s": "mm²/s",
  "1/min": "1/min",
  rad: "rad",
  "N.mm/rad": "N·mm/rad",
  h: "h",
};

const FAMILY_WORDS: Record<Distribution["kind"], string> = {
  constant: "fixed",
  normal: "normal",
  "truncated-normal": "truncated normal",
  uniform: "uniform",
  triangular: "triangular",
  trapezoidal: "trapezoidal",
  skewed: "skewed",
  lognormal: "lognormal",
  "student-t": "Student's t",
  arcsine: "arcsine",
  empirical: "as measured",
};

/** One value as a person reads it: `12 µm`, `60.05 mm`, `−5 °C`. */
export function valueWords(value: number, unit: InternalUnit): string {
  return rangeWords(value, value, unit);
}

/** Two values with their unit once: `5–20 µm`; a negative end is set apart by "to". */
export function rangeWords(low: number, high: number, unit: InternalUnit): string {
  if (unit === "rad") return rangeWords((low * 180) / Math.PI, (high * 180) / Math.PI, "1").concat("°");
  const largest = Math.max(Math.abs(low), Math.abs(high));
  const small = unit === "mm" && largest > 0 && largest < MICROMETRES_BELOW_MM;
  const name = small ? "µm" : UNIT_WORDS[unit];
  const text = (value: number) => numberWords(small ? value * 1000 : value, small ? 2 : unit === "N" ? 1 : 5);
  const numbers = low === high ? text(low) : `${text(low)}${low < 0 || high < 0 ? " to " : "–"}${text(high)}`;
  return name === "" ? numbers : `${numbers} ${name}`;
}

/** A distribution as a person reads it: `5–20 µm, truncated normal`; the range is that of ±3 sigma where there is no limit. */
export function distributionWords(distribution: Distribution, unit: InternalUnit): string {
  if (distribution.kind === "constant") return valueWords(distribution.value, unit);
  const { low, high } = usualRange(distribution);
  return `${rangeWords(low, high, unit)}, ${FAMILY_WORDS[distribution.kind]}`;
}

/** Limits of a distribution, or where 99.73 % of it lies when a side has none; NaN for a value that was refused. */
export function usualRange(distribution: Distribution): { low: number; high: number } {
  switch (distribution.kind) {
    case "constant":
      return { low: distribution.value, high: distribution.value };
    case "normal":
    case "lognormal":
    case "student-t":
      return { low: quantile(distribution, THREE_SIGMA_TAIL), high: quantile(distribution, 1 - THREE_SIGMA_TAIL) };
    case "empirical":
      return { low: distribution.values[0], high: distribution.values[distribution.values.length - 1] };
    default:
      return { low: distribution.low, high: distribution.high };
  }
}

/** At most `decimals` decimals, no trailing zeros, a real minus sign. */
function numberWords(value: number, decimals: number): string {
  if (Number.isNaN(value)) return "?";
  const text = Number(value.toFixed(decimals)).toString();
  return text === "-0" ? "0" : text.replace("-", "−");
}
