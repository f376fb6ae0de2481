/**
 * Unit text to the factor that takes a value to the internal unit. js-quantities knows the units and their dimensions; its factors are
 * doubles, some rounded (`lbf`, `psi`), so they are turned back into the decimal they stand for, and the rounded ones are stated here.
 */
import Qty from "js-quantities/esm";
import { type Decimal, decimalToNumber, multiplyDecimals, parseDecimal } from "./decimal.ts";
import { DIMENSIONS, type Dimension } from "./dimension.ts";

/** internal = value · multiplier / divisor, exact up to the last rounding; `inexact` is a plain factor where no short decimal stands behind it. */
export type UnitFactor = { readonly multiplier: Decimal; readonly divisor: Decimal } | { readonly inexact: number };

const ONE: Decimal = { digits: 1n, exponent: 0 };

/** Spellings of this trade in those of the library. */
const SPELLINGS: Readonly<Record<string, string>> = {
  K: "degK",
  kelvin: "degK",
  "°C": "degC",
  "°": "deg",
  Nm: "N*m",
  Nmm: "N*mm",
  kNm: "kN*m",
  micron: "um",
  microns: "um",
  thou: "mil",
  hours: "h",
  hr: "h",
};

/** Revolutions count as one, so that `rpm` is 1/min. */
const SPEED_SPELLINGS: Readonly<Record<string, string>> = {
  rpm: "1/min",
  "r/min": "1/min",
  "rev/min": "1/min",
  "min^-1": "1/min",
  "rev/s": "1/s",
};

/**
 * Units whose definition is a decimal that the library rounds: its unit, and the exact multiplier to it.
 * Pound-force 0.45359237 kg · 9.80665 m/s² (international pound of 1959, standard gravity of the 3rd CGPM, 1901); inch 25.4 mm (1959).
 */
const EXACT: Readonly<Record<string, { unit: string; multiplier: string; divisor: string }>> = {
  lbf: { unit: "N", multiplier: "4.4482216152605", divisor: "1" },
  kgf: { unit: "N", multiplier: "9.80665", divisor: "1" },
  psi: { unit: "N/mm^2", multiplier: "4.4482216152605", divisor: "645.16" },
  ksi: { unit: "N/mm^2", multiplier: "4448.2216152605", divisor: "645.16" },
};

const known = new Map<string, UnitFactor | "unknown" | "other-dimension">();

/** The factor of `unit` for a quantity of `dimension`, or why there is none. */
export function unitFactor(unit: string, dimension: Dimension): UnitFactor | "unknown" | "other-dimension" {
  const key = `${dimension}|${unit}`;
  const cached = known.get(key);
  if (cached !== undefined) return cached;
  const found = findFactor(tidyUnit(unit), dimension);
  if (known.size < 1000) known.set(key, found);
  return found;
}

/** True when the text is a unit of any kind, right or wrong here. */
export function isUnit(unit: string): boolean {
  const tidy = tidyUnit(unit);
  if (/^(deg[CFKR]|K|°[CF]|%|‰|ppm|rpm)$/.test(tidy) || tidy in EXACT || tidy in SPEED_SPELLINGS) return true;
  const spelled = librarySpelling(tidy);
  return spelled !== null && ask(spelled.text) !== null;
}

/** One spelling for the many ways of typing: micro signs, middle dots, superscripts, degree signs, minus signs. */
export function tidyUnit(unit: string): string {
  return unit
    .trim()
    .replace(/[µμ]/g, "u")
    .replace(/℃/g, "°C")
    .replace(/^deg(?:rees?)?\s*([CFK])$/, "deg$1")
    .replace(/[−–]/g, "-")
    .replace(/⁻/g, "^-")
    .replace(/¹/g, "1")
    .replace(/²/g, "2")
    .replace(/³/g, "3")
    .replace(/\s*([/*·⋅.])\s*/g, "$1")
    .replace(/\s+/g, " ");
}

function findFactor(unit: string, dimension: Dimension): UnitFactor | "unknown" | "other-dimension" {
  if (dimension === "ratio") {
    const exponent = { "": 0, "1": 0, "%": -2, "‰": -3, ppm: -6 }[unit];
    if (exponent !== undefined) return { multiplier: { digits: 1n, exponent }, divisor: ONE };
    return isUnit(unit) ? "other-dimension" : "unknown";
  }
  const internal = DIMENSIONS[dimension].libraryUnit;
  if (internal === "") return isUnit(unit) ? "other-dimension" : "unknown";
  if (dimension === "angle" && (unit === "deg" || unit === "°")) return { inexact: Math.PI / 180 };
  const text = dimension === "speed" ? (SPEED_SPELLINGS[unit] ?? unit) : unit;
  const spelled = librarySpelling(text);
  const asked = spelled === null ? null : ask(spelled.text);
  if (spelled === null || asked === null) return isUnit(unit) ? "other-dimension" : "unknown";
  const target = Qty(1, internal);
  if (!asked.isCompatible(target) || (dimension === "temperature difference" && unit !== "K" && unit !== "mK")) {
    return "other-dimension";
  }
  const factor = exactFactor(asked.baseScalar / target.baseScalar);
  if ("inexact" in factor) {
    return { inexact: (factor.inexact * decimalToNumber(spelled.multiplier)) / decimalToNumber(spelled.divisor) };
  }
  return {
    multiplier: multiplyDecimals(factor.multiplier, spelled.multiplier),
    divisor: multiplyDecimals(factor.divisor, spelled.divisor),
  };
}

interface Spelled {
  readonly text: string;
  readonly multiplier: Decimal;
  readonly divisor: Decimal;
}

/** `um/m/K`, `W/(m·K)`, `N.mm`, `mm2`, `K^-1` → the library's one-slash form, exact definitions taken out; null when it is not unit text. */
function librarySpelling(tidy: string): Spelled | null {
  if (!/^[A-Za-z%°1]/.test(tidy) && !tidy.startsWith("/")) return null;
  const above: string[] = [];
  const below: string[] = [];
  let multiplier = ONE;
  let divisor = ONE;
  let inBrackets = false;
  let underSlash = false;
  const token = /([/*·⋅. ()])|([A-Za-z%°]+|1)(?:\^?(-?[1-4]))?/y;
  while (token.lastIndex < tidy.length) {
    const match = token.exec(tidy);
    if (match === null) return null;
    const [, sign, name, powerText] = match;
    if (sign === "/") underSlash = true;
    else if (sign === "(") inBrackets = true;
    else if (sign === ")") inBrackets = false;
    else if (sign !== undefined) underSlash = underSlash && inBrackets;
    else {
      if (name === "1") continue;
      const power = Number(powerText ?? "1");
      const down = underSlash !== power < 0;
      const exact = EXACT[name];
      if (exact !== undefined) {
        if (power !== 1 && power !== -1) return null;
        const up = parseDecimal(exact.multiplier) ?? ONE;
        const under = parseDecimal(exact.divisor) ?? ONE;
        multiplier = multiplyDecimals(multiplier, down ? under : up);
        divisor = multiplyDecimals(divisor, down ? up : under);
      }
      // A product such as N*mm, or a quotient such as the N/mm^2 behind psi, joins on the right sides.
      const [top, bottom] = (exact?.unit ?? SPELLINGS[name] ?? name).split("/");
      const size = Math.abs(power);
      (down ? below : above).push(raised(top, size));
      if (bottom !== undefined) (down ? above : below).push(raised(bottom, size));
    }
  }
  const top = above.length === 0 ? "1" : above.join("*");
  return { text: below.length === 0 ? top : `${top}/${below.join("*")}`, multiplier, divisor };
}

function raised(unit: string, power: number): string {
  return power === 1 || unit.includes("*") ? unit : `${unit}^${power}`;
}

function ask(text: string): ReturnType<typeof Qty> | null {
  try {
    return Qty(1, text);
  } catch {
    return null;
  }
}

/** The short decimal (or the reciprocal of one) that a double factor stands for. */
function exactFactor(factor: number): UnitFactor {
  const multiplier = shortDecimal(factor);
  if (multiplier !== null) return { multiplier, divisor: ONE };
  const divisor = shortDecimal(1 / factor);
  if (divisor !== null) return { multiplier: ONE, divisor };
  return { inexact: factor };
}

function shortDecimal(value: number): Decimal | null {
  const text = value.toExponential(9);
  const near = Number(text);
  return Math.abs(near - value) <= 4e-16 * Math.abs(value) * 4 ? parseDecimal(text) : null;
}
