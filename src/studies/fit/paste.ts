import { mean, standardDeviation } from "../../distributions/moments.ts";
import type { Distribution } from "../../distributions/types.ts";
import type { InternalUnit } from "../../scenario/types.ts";

/** Units in which a scenario is written. */
const WRITTEN: Partial<Record<InternalUnit, string>> = {
  mm: "mm",
  N: "N",
  degC: "degC",
  K: "K",
  "N/mm": "N/mm",
  "N.mm": "N.mm",
};

interface PasteRequest {
  readonly file: string;
  readonly column: string;
  readonly unit: InternalUnit;
  /** The fitted distribution that is recommended, or null. */
  readonly distribution: Distribution | null;
  /** Share of the variance that a lot has in common, where lots were told apart. */
  readonly batchShareRatio: number | null;
  /** Standard deviation of the gauge, or null. */
  readonly gaugeSd: number | null;
}

/** What stands in a scenario in place of a quantity: the measured values by their file, and the fitted distribution. */
export function pasteLines(request: PasteRequest): { empirical: string; fitted: string | null } {
  const { file, column, distribution, batchShareRatio, gaugeSd, unit } = request;
  const share = batchShareRatio === null ? "" : `, batchShare: ${Number(batchShareRatio.toFixed(3))}`;
  const gauge = gaugeSd === null ? "" : `, gaugeSd: ${widthText(gaugeSd, unit)}`;
  const empirical = `{ measuredFile: ${quoted(file)}, column: ${quoted(column)}${gauge}${share} }`;
  return { empirical, fitted: distribution === null ? null : fitted(distribution, unit, share) };
}

function fitted(distribution: Distribution, unit: InternalUnit, share: string): string | null {
  const at = (value: number) => valueText(value, unit);
  const width = (value: number) => widthText(value, unit);
  const moments = () => `mean: ${at(mean(distribution))}, sd: ${width(standardDeviation(distribution))}`;
  switch (distribution.kind) {
    case "normal":
      return `{ normal: { mean: ${at(distribution.mean)}, sd: ${width(distribution.sd)} }${share} }`;
    case "truncated-normal": {
      const { mean: middle, sd, low, high } = distribution;
      return `{ truncatedNormal: { mean: ${at(middle)}, sd: ${width(sd)}, low: ${at(low)}, high: ${at(high)} }${share} }`;
    }
    case "skewed":
      return `{ skewed: { low: ${at(distribution.low)}, high: ${at(distribution.high)}, ${moments()} }${share} }`;
    case "lognormal":
      return `{ lognormal: { ${moments()}, above: ${at(distribution.shift)} }${share} }`;
    default:
      return null;
  }
}

/** To a tenth of a nanometre, or seven digits: far below what any gauge shows. */
function valueText(value: number, unit: InternalUnit): string {
  const name = WRITTEN[unit];
  return `${unit === "mm" ? Number(value.toFixed(7)) : Number(value.toPrecision(7))}${name === undefined ? "" : ` ${name}`}`;
}

function widthText(value: number, unit: InternalUnit): string {
  if (unit === "mm") return `${Number((1000 * value).toPrecision(4))} um`;
  const name = unit === "degC" ? "K" : WRITTEN[unit];
  return `${Number(value.toPrecision(4))}${name === undefined ? "" : ` ${name}`}`;
}

/** A YAML text: plain where that is safe inside braces, else in double quotes. */
function quoted(text: string): string {
  return /^[A-Za-z_./][\w ./-]*$/.test(text) && !/ $/.test(text) && !/^(true|false|null|yes|no|on|off)$/i.test(text)
    ? text
    : JSON.stringify(text);
}
