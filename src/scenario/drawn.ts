import {
  fromLimits,
  fromReadings,
  lognormalFromMoments,
  skewedFromMode,
  skewedFromMoments,
  validateDistribution,
} from "../distributions/index.ts";
import type { Distribution } from "../distributions/types.ts";
import { InputError } from "../errors.ts";
import type { Dimension } from "../units/dimension.ts";
import { parseQuantity, type QuantityOptions } from "../units/quantity.ts";
import { parseToleranced } from "../units/tolerance.ts";
import { type Drawn, type DrawnObject, FAMILY_KEYS, type Quantity } from "./schema-drawn.ts";

/** What may stand at a place, and how to read it. */
export interface DrawnRequest {
  readonly dimension: Dimension;
  /** Address in the file, for problems. */
  readonly path: string;
  readonly options?: QuantityOptions;
  /** Limits of an ISO 286 code; without it codes are refused. */
  readonly code?: (
    nominal: number,
    code: string,
  ) => { readonly low: number; readonly high: number; readonly source: string };
}

/** A drawn quantity with how it came about. */
export interface DrawnValue {
  readonly distribution: Distribution;
  readonly batchShare: number;
  /** In words: `limits as drawn, taken as ±3 sigma of a truncated normal`. */
  readonly how: string;
  /** The nominal size where one was written. */
  readonly nominal: number | null;
  /** ISO 286 code where one was written. */
  readonly code: string | null;
}

export const THREE_SIGMA_WORDS = "limits taken as ±3 sigma of a truncated normal (assumption)";

/** Limits as they are drawn when nothing is known of the process: the program's assumption. */
export function withinLimits(low: number, high: number): Distribution {
  return low === high ? { kind: "constant", value: low } : fromLimits({ low, high });
}

/**
 * Reads a quantity that may vary: a text as on a drawing, or an object that names a distribution.
 *
 * @throws InputError for anything that cannot be read or is no distribution
 */
export function readDrawn(entry: Drawn, request: DrawnRequest): DrawnValue {
  if (typeof entry !== "object") return readText(entry, request, {});
  const family = familyOf(entry, request.path);
  const batchShare = entry.batchShare ?? 0;
  if (!(batchShare >= 0 && batchShare <= 1)) {
    throw new InputError({
      code: "out-of-range",
      path: `${request.path}.batchShare`,
      expected: "a share from 0 to 1",
      got: String(batchShare),
    });
  }
  const value =
    family === "limits" ? readText(entry.limits as string, at(request, "limits"), entry) : readFamily(entry, request);
  validateDistribution(value.distribution, `${request.path}.${family}`);
  return { ...value, batchShare };
}

function readText(text: string | number, request: DrawnRequest, object: DrawnObject): DrawnValue {
  const toleranced = parseToleranced(text, request.dimension, request.path, request.options);
  const rest = { batchShare: 0, nominal: toleranced.kind === "range" ? null : toleranced.nominal, code: null };
  if (toleranced.kind === "plain") {
    if (object.limits !== undefined && hasCapability(object)) {
      throw new InputError({ code: "conflict", path: request.path, expected: "two limits", got: String(text) });
    }
    return { ...rest, distribution: { kind: "constant", value: toleranced.nominal }, how: "one value, no spread" };
  }
  if (toleranced.kind === "code") {
    if (request.code === undefined) {
      throw new InputError({
        code: "wrong-type",
        path: request.path,
        expected: "limits such as 60 ±0.01",
        got: String(text),
        hint: "ISO 286 codes are for diameters and lengths only",
      });
    }
    const limits = request.code(toleranced.nominal, toleranced.code);
    return {
      ...rest,
      code: toleranced.code,
      distribution: spread(limits.low, limits.high, object, request.path),
      how: `${limits.source}; ${capabilityWords(object)}`,
    };
  }
  const { low, high } = toleranced;
  return { ...rest, distribution: spread(low, high, object, request.path), how: capabilityWords(object) };
}

function spread(low: number, high: number, object: DrawnObject, path: string): Distribution {
  if (!hasCapability(object)) return withinLimits(low, high);
  const { Cp, Cpk, shift, inspected } = object;
  if (shift !== undefined && Cpk === undefined) {
    throw new InputError({ code: "missing", path: `${path}.Cpk`, expected: "a Cpk beside shift", got: "nothing" });
  }
  return fromLimits({ low, high, cp: Cp, cpk: Cpk, shift, inspected }, path);
}

function hasCapability(object: DrawnObject): boolean {
  const { Cp, Cpk, shift, inspected } = object;
  return Cp !== undefined || Cpk !== undefined || shift !== undefined || inspected !== undefined;
}

function capabilityWords({ Cp, Cpk, shift, inspected }: DrawnObject): string {
  if (Cp === undefined && Cpk === undefined) {
    return inspected === false ? "limits taken as ±3 sigma of a normal that goes on past them" : THREE_SIGMA_WORDS;
  }
  const figures = [Cp === undefined ? "" : `Cp ${Cp}`, Cpk === undefined ? "" : `Cpk ${Cpk}`].filter(
    (text) => text !== "",
  );
  return `limits with ${figures.join(", ")}${shift === undefined ? "" : `, shifted ${shift}`}${inspected === true ? ", inspected" : ""}`;
}

/** The one family that an object names. */
function familyOf(entry: DrawnObject, path: string) {
  const named = FAMILY_KEYS.filter((key) => entry[key] !== undefined);
  if (named.length !== 1) {
    throw new InputError({
      code: named.length === 0 ? "missing" : "conflict",
      path,
      expected: `exactly one of ${FAMILY_KEYS.join(", ")}`,
      got: named.length === 0 ? "none of them" : named.join(" and "),
    });
  }
  const belongs = { column: "measuredFile", from: "measured", gaugeSd: "measured" } as const;
  for (const key of ["column", "from", "gaugeSd"] as const) {
    const isMeasured = named[0] === "measured" || named[0] === "measuredFile";
    if (entry[key] !== undefined && !isMeasured) {
      throw new InputError({
        code: "conflict",
        path: `${path}.${key}`,
        expected: `${key} only beside ${belongs[key]}`,
        got: `${key} beside ${named[0]}`,
      });
    }
  }
  if (named[0] !== "limits" && hasCapability(entry)) {
    const key = (["Cp", "Cpk", "shift", "inspected"] as const).find((name) => entry[name] !== undefined);
    throw new InputError({
      code: "conflict",
      path: `${path}.${key}`,
      expected: "Cp, Cpk, shift and inspected only beside limits",
      got: `${key} beside ${named[0]}`,
    });
  }
  return named[0];
}

/** Families whose figures are written out. */
function readFamily(entry: DrawnObject, request: DrawnRequest): DrawnValue {
  const how = { batchShare: 0, nominal: null, code: null };
  const read = (family: string, key: string, value: Quantity) => readPart(value, request, `${family}.${key}`);
  const readSd = (family: string, value: Quantity, key = "sd") => readWidth(value, request, `${family}.${key}`);
  const ends = (family: string, { low, high }: { low: Quantity; high: Quantity }) => ({
    low: read(family, "low", low),
    high: read(family, "high", high),
  });

  if (entry.normal) {
    const { mean, sd } = entry.normal;
    const distribution = { kind: "normal", mean: read("normal", "mean", mean), sd: readSd("normal", sd) } as const;
    return { ...how, distribution, how: "normal as given" };
  }
  if (entry.truncatedNormal) {
    const { mean, sd, low, high } = entry.truncatedNormal;
    const family = "truncatedNormal";
    const moments = { mean: read(family, "mean", mean), sd: readSd(family, sd) };
    const distribution = { kind: "truncated-normal", ...moments, ...ends(family, { low, high }) } as const;
    return { ...how, distribution, how: "truncated normal as given" };
  }
  if (entry.uniform) {
    return { ...how, distribution: { kind: "uniform", ...ends("uniform", entry.uniform) }, how: "uniform as given" };
  }
  if (entry.arcsine) {
    return { ...how, distribution: { kind: "arcsine", ...ends("arcsine", entry.arcsine) }, how: "arcsine as given" };
  }
  if (entry.triangular) {
    const mode = read("triangular", "mode", entry.triangular.mode);
    const distribution = { kind: "triangular", ...ends("triangular", entry.triangular), mode } as const;
    return { ...how, distribution, how: "triangular as given" };
  }
  if (entry.trapezoidal) {
    const shoulderLow = read("trapezoidal", "shoulderLow", entry.trapezoidal.shoulderLow);
    const shoulderHigh = read("trapezoidal", "shoulderHigh", entry.trapezoidal.shoulderHigh);
    const limits = ends("trapezoidal", entry.trapezoidal);
    return {
      ...how,
      distribution: { kind: "trapezoidal", ...limits, shoulderLow, shoulderHigh },
      how: "trapezoidal as given",
    };
  }
  if (entry.skewed) {
    const { mode, mean, sd } = entry.skewed;
    const limits = ends("skewed", entry.skewed);
    const path = `${request.path}.skewed`;
    if (mode !== undefined && mean === undefined && sd === undefined) {
      const distribution = skewedFromMode(limits.low, limits.high, read("skewed", "mode", mode), path);
      return { ...how, distribution, how: "skewed as given (beta with the given mode)" };
    }
    if (mode === undefined && mean !== undefined && sd !== undefined) {
      const moments = { mean: read("skewed", "mean", mean), sd: readSd("skewed", sd) };
      const distribution = skewedFromMoments(limits.low, limits.high, moments.mean, moments.sd, path);
      return { ...how, distribution, how: "skewed as given (beta with the given mean and sd)" };
    }
    throw new InputError({ code: "conflict", path, expected: "either mode, or mean and sd" });
  }
  if (entry.lognormal) {
    const { mean, sd, above } = entry.lognormal;
    const shift = above === undefined ? 0 : read("lognormal", "above", above);
    const moments = { mean: read("lognormal", "mean", mean), sd: readSd("lognormal", sd) };
    const distribution = lognormalFromMoments(moments.mean, moments.sd, shift, `${request.path}.lognormal`);
    return { ...how, distribution, how: "lognormal as given" };
  }
  if (entry.meanOf) {
    const { mean, standardUncertainty, readings } = entry.meanOf;
    return {
      ...how,
      distribution: {
        kind: "student-t",
        mean: read("meanOf", "mean", mean),
        scale: readSd("meanOf", standardUncertainty, "standardUncertainty"),
        degreesOfFreedom: readings - 1,
      },
      how: `mean of ${readings} readings (JCGM 101:2008, 6.4.9)`,
    };
  }
  if (entry.readings) {
    const values = entry.readings.map((value, index) => read("readings", String(index), value));
    const distribution = fromReadings(values, `${request.path}.readings`);
    return { ...how, distribution, how: `mean of ${values.length} readings (JCGM 101:2008, 6.4.9)` };
  }
  if (entry.measuredFile !== undefined) {
    throw new InputError({
      code: "not-supported",
      path: `${request.path}.measuredFile`,
      expected: "the measured values themselves: no files can be read here",
      got: "a file",
    });
  }
  const measured = (entry.measured ?? []).map((value, index) => read("measured", String(index), value));
  const gaugeSd = entry.gaugeSd === undefined ? 0 : readWidth(entry.gaugeSd, request, "gaugeSd");
  const values = withoutGauge(measured, gaugeSd, request.path).sort((a, b) => a - b);
  const origin = [
    `measured on ${values.length} parts`,
    entry.from ?? "",
    gaugeSd > 0 ? "the gauge's spread taken out" : "",
  ];
  const words = origin.filter((part) => part !== "").join("; ");
  return { ...how, distribution: { kind: "empirical", values }, how: words };
}

/**
 * Readings, one a part, drawn towards their mean until their variance is that of the parts: s_part² = s_read² − s_gauge².
 *
 * @throws InputError where the gauge's spread is as large as all that was read
 */
function withoutGauge(values: readonly number[], gaugeSd: number, path: string): number[] {
  if (gaugeSd === 0 || values.length < 2) return [...values];
  const mean = values[0] + values.reduce((sum, x) => sum + (x - values[0]), 0) / values.length;
  const variance = values.reduce((sum, x) => sum + (x - mean) * (x - mean), 0) / (values.length - 1);
  if (!(variance > gaugeSd * gaugeSd)) {
    throw new InputError({
      code: "conflict",
      path: `${path}.gaugeSd`,
      expected: `less than the spread of the readings, ${Number((1000 * Math.sqrt(variance)).toPrecision(3))}e-3`,
      got: `${Number((1000 * gaugeSd).toPrecision(3))}e-3`,
      hint: "The gauge hides the parts' own spread: give one value, or measure with a better gauge",
    });
  }
  const factor = Math.sqrt(1 - (gaugeSd * gaugeSd) / variance);
  return values.map((value) => mean + factor * (value - mean));
}

function readPart(value: Quantity, request: DrawnRequest, key: string): number {
  return parseQuantity(value, request.dimension, `${request.path}.${key}`, request.options);
}

/** A spread has the quantity's dimension without its range; that of a temperature is a difference. */
function readWidth(value: Quantity, request: DrawnRequest, key: string): number {
  const dimension = request.dimension === "temperature" ? "temperature difference" : request.dimension;
  const bareUnit = request.options?.bareUnit;
  return parseQuantity(value, dimension, `${request.path}.${key}`, { bareUnit, low: 0, openLow: true });
}

function at(request: DrawnRequest, key: string): DrawnRequest {
  return { ...request, path: `${request.path}.${key}` };
}
