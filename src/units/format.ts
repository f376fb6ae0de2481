/** Quantities in words, for the terminal and the report. Internal units in; the minus sign is U+2212 and the micro sign U+00B5. */

const MINUS = "−";
const NARROW_SPACE = "\u202f";

/** Fixed decimals, trailing zeros kept, −0 printed as 0, thousands in threes past 9999. */
export function formatFixed(value: number, decimals: number): string {
  if (Number.isNaN(value)) return "–";
  if (!Number.isFinite(value)) return value < 0 ? `${MINUS}∞` : "∞";
  const text = Math.abs(value).toFixed(decimals);
  const isZero = Number(text) === 0;
  const [whole, fraction] = text.split(".");
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+(?!\d))/g, NARROW_SPACE) : whole;
  return `${value < 0 && !isZero ? MINUS : ""}${grouped}${fraction === undefined ? "" : `.${fraction}`}`;
}

/**
 * Rounded to significant digits, without an exponent between 1e-4 and 1e7: 0.01235, 12.3, 18 700. Trailing zeros carry meaning and stay:
 * 2 at three digits prints as 2.00. Digits past the asked ones in a large whole number are zeros.
 */
export function formatSignificant(value: number, digits = 3): string {
  if (value === 0 || !Number.isFinite(value)) return formatFixed(value, 0);
  const scientific = Math.abs(value).toExponential(digits - 1);
  const exponent = Number(scientific.slice(scientific.indexOf("e") + 1));
  const sign = value < 0 ? MINUS : "";
  if (exponent < -4 || exponent >= 7) {
    const mantissa = scientific.slice(0, scientific.indexOf("e"));
    return `${sign}${mantissa}·10${superscript(exponent)}`;
  }
  return sign + formatFixed(Number(scientific), Math.max(0, digits - 1 - exponent));
}

/** `60.000 mm`: micrometre digits below 100 mm, hundredths above 1000 mm. */
export function formatLength(valueMm: number, decimals?: number): string {
  const size = Math.abs(valueMm);
  return `${formatFixed(valueMm, decimals ?? (size < 1000 ? 3 : 2))} mm`;
}

/** `12.5 µm` from millimetres: tenths below 100 µm, whole above. */
export function formatMicrometres(valueMm: number, decimals?: number): string {
  const valueUm = valueMm * 1000;
  return `${formatFixed(valueUm, decimals ?? decimalsBelow(valueUm, 100))} µm`;
}

/** `49.8 N`, `1 250 N`, `17.8 kN`. */
export function formatForce(valueN: number): string {
  const size = Math.abs(valueN);
  return size >= 10_000
    ? `${formatSignificant(valueN / 1000, 3)} kN`
    : `${formatFixed(valueN, decimalsBelow(valueN, 100))} N`;
}

/** `80 °C`, `21.5 °C`: a tenth only where there is one. */
export function formatTemperature(valueC: number): string {
  return `${formatFixed(valueC, isWhole(valueC, 0.05) ? 0 : 1)} °C`;
}

/** `14 K`, a difference of temperatures. */
export function formatTemperatureDifference(valueK: number): string {
  return `${formatFixed(valueK, isWhole(valueK, 0.05) ? 0 : 1)} K`;
}

/**
 * A share (0 to 1) as a percentage that never claims more than is known: 99.99 % and not 100 % for what is not all, ppm below 0.1 %.
 */
export function formatPercent(ratio: number, decimals?: number): string {
  if (Number.isNaN(ratio)) return "–";
  if (decimals !== undefined) return `${formatFixed(ratio * 100, decimals)} %`;
  if (ratio === 0 || ratio === 1) return `${ratio * 100} %`;
  const fromEnd = Math.min(Math.abs(ratio), Math.abs(1 - ratio));
  if (Math.abs(ratio) < 1e-3) return formatPpm(ratio);
  const places = fromEnd < 0.95e-5 ? 4 : fromEnd < 0.95e-4 ? 3 : fromEnd < 1e-2 ? 2 : 1;
  const text = formatFixed(ratio * 100, places);
  return ratio < 1 && Number(text) === 100 ? "> 99.9999 %" : `${text} %`;
}

/**
 * The ends of a range of shares, `27.55 %` and `27.58 %`: as alone, or with as many more decimals as it takes for the range to be at
 * least a step of the last one wide, so that its ends never read the same.
 */
export function formatPercentEnds(lowRatio: number, highRatio: number): readonly [low: string, high: string] {
  const widthRatio = highRatio - lowRatio;
  return [endText(lowRatio, widthRatio), endText(highRatio, widthRatio)];
}

/** Widths below this are the rounding of their ends. */
const LEAST_WIDTH = 1e-15;

function endText(ratio: number, widthRatio: number): string {
  const plain = formatPercent(ratio);
  if (!(widthRatio > LEAST_WIDTH) || ratio === 0 || ratio === 1) return plain;
  const isPpm = plain.endsWith("ppm");
  const scale = isPpm ? 1e6 : 100;
  const [, fraction = ""] = plain.replace(/\D+$/, "").split(".");
  let decimals = 0;
  for (let steps = widthRatio * scale; steps < 1 && decimals < MOST_DECIMALS; steps *= 10) decimals += 1;
  decimals = Math.max(decimals, fraction.length);
  return decimals === fraction.length ? plain : `${formatFixed(ratio * scale, decimals)} ${isPpm ? "ppm" : "%"}`;
}

/** As many as a double has of a per cent. */
const MOST_DECIMALS = 13;

/** `350 ppm`, `2.7 ppm`, `0.0012 ppm` from a share. */
export function formatPpm(ratio: number): string {
  const ppm = ratio * 1e6;
  if (ppm === 0) return "0 ppm";
  return `${Math.abs(ppm) >= 100 ? formatFixed(ppm, 0) : formatSignificant(ppm, 2)} ppm`;
}

/** `5 to 20 µm`: two ends in one unit, each printed by `format`; the unit is written once. */
export function formatInterval(low: number, high: number, format: (value: number) => string): string {
  const lowText = format(low);
  const highText = format(high);
  const unitOf = (text: string) => /[^\d.)]+$/.exec(text)?.[0] ?? "";
  const unit = unitOf(highText);
  const start = unit !== "" && lowText.endsWith(unit) ? lowText.slice(0, lowText.length - unit.length) : lowText;
  return `${start} to ${highText}`;
}

/** `60.000 +0.010/−0.005 mm` or, when both sides are the same, `60.000 ±0.010 mm`. */
export function formatTolerance(nominalMm: number, lowMm: number, highMm: number): string {
  const up = highMm - nominalMm;
  const down = lowMm - nominalMm;
  const signed = (value: number) =>
    Math.abs(value) < 5e-5 ? "0" : `${value > 0 ? "+" : ""}${trimmed(formatFixed(value, 4), 3)}`;
  const nominal = trimmed(formatFixed(nominalMm, 4), 3);
  if (Math.abs(up + down) < 5e-5 && up > 0) return `${nominal} ±${trimmed(formatFixed(up, 4), 3)} mm`;
  return `${nominal} ${signed(up)}/${signed(down)} mm`;
}

function decimalsBelow(value: number, bound: number): number {
  return Math.abs(value) < bound ? 1 : 0;
}

function isWhole(value: number, slack: number): boolean {
  return Math.abs(value - Math.round(value)) < slack;
}

/** Drops trailing zeros down to `least` decimals. */
function trimmed(text: string, least: number): string {
  const point = text.indexOf(".");
  let end = text.length;
  while (end > point + 1 + least && text[end - 1] === "0") end--;
  return text.slice(0, end);
}

function superscript(exponent: number): string {
  return [...String(exponent)].map((c) => (c === "-" ? "⁻" : "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(c)])).join("");
}
