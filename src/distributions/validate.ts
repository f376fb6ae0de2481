/** Whether a distribution given as data is one. */
import { InputError, type Problem, type ProblemCode } from "../errors.ts";
import { massBetween } from "./normal.ts";
import { compareWithSecondOpinion } from "./second-opinion.ts";
import type { Distribution } from "./types.ts";

/** Least share of a normal that must lie between its limits for a truncated one to be drawn. */
const LEAST_MASS = 1e-250;

/** Shapes past which a beta or Student distribution is a misprint, and its inverse no longer held to 1e-10. */
const SHAPE_RANGE = { low: 0.05, high: 1e7 };

/**
 * Throws an `InputError` that lists everything wrong with the parameters; `path` is the address of the distribution in the input. A valid one
 * whose quantiles an independent library contradicts is a fault of the program (`InternalError`).
 */
export function validateDistribution(d: Distribution, path: string): void {
  const problems = notNumbers(d, path);
  if (problems.length === 0) problems.push(...faultsOf(d, path));
  if (problems.length > 0) throw new InputError(problems);
  compareWithSecondOpinion(d);
}

function notNumbers(d: Distribution, path: string): Problem[] {
  const values = d.kind === "empirical" ? d.values.map((v, i) => [String(i), v] as const) : Object.entries(d).slice();
  return values
    .filter(([key, value]) => key !== "kind" && !Number.isFinite(value))
    .map(([key, value]) => fault("wrong-type", `${path}.${key}`, "a finite number", value as number));
}

function faultsOf(d: Distribution, path: string): Problem[] {
  switch (d.kind) {
    case "constant":
      return [];
    case "normal":
      return positive(d.sd, `${path}.sd`, "a standard deviation above 0");
    case "truncated-normal": {
      const problems = [
        ...positive(d.sd, `${path}.sd`, "a standard deviation above 0"),
        ...ordered(d.low, d.high, path),
      ];
      if (problems.length > 0) return problems;
      return massBetween((d.low - d.mean) / d.sd, (d.high - d.mean) / d.sd) >= LEAST_MASS
        ? []
        : [
            {
              code: "impossible-geometry",
              path,
              expected: "limits within reach of the mean",
              got: `mean ${d.mean}, sd ${d.sd}, limits ${d.low} to ${d.high}`,
              hint: "Nothing of the distribution lies between the limits: check the mean and the standard deviation",
            },
          ];
    }
    case "uniform":
    case "arcsine":
      return ordered(d.low, d.high, path);
    case "triangular":
      return [...ordered(d.low, d.high, path), ...inside(d.mode, d.low, d.high, `${path}.mode`, "a mode")];
    case "trapezoidal":
      return [
        ...ordered(d.low, d.high, path),
        ...inside(d.shoulderLow, d.low, d.high, `${path}.shoulderLow`, "a shoulder"),
        ...inside(d.shoulderHigh, d.low, d.high, `${path}.shoulderHigh`, "a shoulder"),
        ...(d.shoulderLow > d.shoulderHigh
          ? [fault("reversed-limits", `${path}.shoulderLow`, `at most shoulderHigh (${d.shoulderHigh})`, d.shoulderLow)]
          : []),
      ];
    case "skewed":
      return [
        ...ordered(d.low, d.high, path),
        ...shape(d.alpha, SHAPE_RANGE.low, `${path}.alpha`),
        ...shape(d.beta, SHAPE_RANGE.low, `${path}.beta`),
      ];
    case "lognormal":
      return positive(d.logSd, `${path}.logSd`, "a standard deviation of the logarithm above 0", 20);
    case "student-t":
      return [
        ...positive(d.scale, `${path}.scale`, "a scale above 0"),
        ...shape(d.degreesOfFreedom, 1, `${path}.degreesOfFreedom`),
      ];
    case "empirical":
      return empiricalFaults(d.values, path);
  }
}

function empiricalFaults(values: readonly number[], path: string): Problem[] {
  if (values.length < 2) {
    return [{ code: "missing", path, expected: "at least 2 measured values", got: `${values.length}` }];
  }
  const wrong = values.findIndex((value, i) => i > 0 && value < values[i - 1]);
  if (wrong > 0) return [fault("wrong-type", `${path}.${wrong}`, "measured values in rising order", values[wrong])];
  return values[0] === values[values.length - 1]
    ? [
        {
          code: "out-of-range",
          path,
          expected: "measured values that differ",
          got: `${values.length} times ${values[0]}`,
        },
      ]
    : [];
}

function positive(value: number, path: string, expected: string, most = Number.MAX_VALUE): Problem[] {
  if (value > 0 && value <= most) return [];
  return [fault("out-of-range", path, most === Number.MAX_VALUE ? expected : `${expected}, at most ${most}`, value)];
}

function ordered(low: number, high: number, path: string): Problem[] {
  if (low < high) return [];
  const expected = `a low limit below the high limit (${high})`;
  return [fault("reversed-limits", `${path}.low`, expected, low)];
}

function inside(value: number, low: number, high: number, path: string, what: string): Problem[] {
  return value >= low && value <= high ? [] : [fault("out-of-range", path, `${what} from ${low} to ${high}`, value)];
}

function shape(value: number, low: number, path: string): Problem[] {
  return value >= low && value <= SHAPE_RANGE.high
    ? []
    : [fault("out-of-range", path, `a number from ${low} to ${SHAPE_RANGE.high}`, value)];
}

function fault(code: ProblemCode, path: string, expected: string, got: number): Problem {
  return { code, path, expected, got: String(got) };
}
