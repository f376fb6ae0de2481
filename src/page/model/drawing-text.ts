/**
 * A quantity with limits as text, taken apart so that a slider can move it: `32.000 ±0.006`, `60 +0.010/-0.005`,
 * `110 ±6 degC`. Worked in whole steps of the last decimal, so that what is written stays as tidy as on a drawing.
 */
export interface DrawingText {
  readonly nominal: number;
  /** Upper and lower deviation, in the unit of the text; equal and opposite for ±. */
  readonly upper: number;
  readonly lower: number;
  readonly unit: string;
}

const NUMBER = String.raw`\d+(?:\.\d+)?|\.\d+`;
/** Units that quantities with limits have in a scenario. Anything else behind a number, such as a fit code, is none. */
const UNITS = String.raw`(?:mm|[uµμ]m|m|degC|°C|K|deg|rad|k?N|N\/mm|N[.·]m{1,2}|W|W\/K|mm2\/s|rpm|1\/min|[MG]Pa)`;
const SYMMETRIC = new RegExp(String.raw`^\s*([-−+]?(?:${NUMBER}))\s*(?:±|\+\/?-)\s*(${NUMBER})\s*(${UNITS})?\s*$`);
const APART = new RegExp(
  String.raw`^\s*([-−+]?(?:${NUMBER}))\s*\+(${NUMBER})\s*\/\s*([-−+]?(?:${NUMBER}))\s*(${UNITS})?\s*$`,
);
const PLAIN = new RegExp(String.raw`^\s*([-−+]?(?:${NUMBER}))\s*(${UNITS})?\s*$`);

/** Null for anything that is not a nominal with limits around it: a fit code, a range, a distribution. */
export function readDrawingText(value: unknown): DrawingText | null {
  const text = typeof value === "number" ? String(value) : value;
  if (typeof text !== "string") return null;
  const number = (part: string) => Number(part.replace("−", "-"));
  const symmetric = SYMMETRIC.exec(text);
  if (symmetric !== null) {
    const half = number(symmetric[2]!);
    return { nominal: number(symmetric[1]!), upper: half, lower: -half, unit: (symmetric[3] ?? "").trim() };
  }
  const apart = APART.exec(text);
  if (apart !== null) {
    return {
      nominal: number(apart[1]!),
      upper: number(apart[2]!),
      lower: number(apart[3]!),
      unit: (apart[4] ?? "").trim(),
    };
  }
  const plain = PLAIN.exec(text);
  return plain === null ? null : { nominal: number(plain[1]!), upper: 0, lower: 0, unit: (plain[2] ?? "").trim() };
}

/** The text again, in as few decimals as tell the steps apart. */
export function writeDrawingText({ nominal, upper, lower, unit }: DrawingText): string {
  const ending = unit === "" ? "" : ` ${unit}`;
  if (upper === 0 && lower === 0) return `${tidy(nominal)}${ending}`;
  if (Math.abs(upper + lower) < 1e-9) return `${tidy(nominal)} ±${tidy(upper)}${ending}`;
  const below = lower > 0 ? `+${tidy(lower)}` : tidy(lower);
  return `${tidy(nominal)} +${tidy(upper)}/${below}${ending}`;
}

/** Decimals that sums of steps leave behind are none: six are more than any drawing has. */
export function tidy(value: number): string {
  const text = value.toFixed(6).replace(/\.?0+$/, "");
  return text === "-0" ? "0" : text;
}

/** How far and in what steps a slider moves a quantity of a unit. */
export interface Travel {
  readonly low: number;
  readonly high: number;
  readonly step: number;
}

/** Travel of the nominal around what the file says. */
export function nominalTravel({ nominal, unit }: DrawingText): Travel {
  const about = (half: number, step: number, least = Number.NEGATIVE_INFINITY): Travel => ({
    low: Math.max(least, nominal - half),
    high: nominal + half,
    step,
  });
  if (unit === "" || unit === "mm") return about(0.06, 0.001);
  if (/^[uµμ]m$/.test(unit)) return about(40, 0.5);
  if (/^(?:degC|°C)$/.test(unit)) return about(60, 1, -270);
  if (unit === "K") return about(25, 0.5);
  const step = 10 ** Math.floor(Math.log10(Math.max(Math.abs(nominal), 1e-3)) - 1);
  return { low: 0, high: Math.max(2 * nominal, 10 * step), step };
}

/** Travel of the tolerance: half the distance of the limits. */
export function toleranceTravel(text: DrawingText): Travel {
  const half = halfWidth(text);
  if (text.unit === "" || text.unit === "mm") return { low: 0.0005, high: Math.max(0.03, 3 * half), step: 0.0005 };
  const step = 10 ** Math.floor(Math.log10(Math.max(half, 1e-3)) - 1);
  return { low: step, high: 3 * half, step };
}

export function halfWidth({ upper, lower }: DrawingText): number {
  return (upper - lower) / 2;
}

/** Limits so wide, about the same middle for ±, else in the proportion that they had. */
export function withHalfWidth(text: DrawingText, half: number): DrawingText {
  const old = halfWidth(text);
  if (old === 0 || Math.abs(text.upper + text.lower) < 1e-9) return { ...text, upper: half, lower: -half };
  return { ...text, upper: (text.upper * half) / old, lower: (text.lower * half) / old };
}
