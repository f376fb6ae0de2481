/** How moments, a mode or readings become a distribution. */
import { InputError } from "../errors.ts";
import { log, log1p } from "../numeric/elementary.ts";
import type { Distribution } from "./types.ts";

/** Weight of the mode against the two ends in the three-point estimate. */
const PERT_WEIGHT = 4;

/**
 * Beta distribution on low … high with the given mean and standard deviation. With m = (mean − low)/w, v = (sd/w)², w = high − low:
 * α + β = m(1 − m)/v − 1, α = m·(α + β). Throws `InputError` where no such distribution exists (v ≥ m(1 − m)).
 */
export function skewedFromMoments(low: number, high: number, mean: number, sd: number, path = ""): Distribution {
  requireInside(mean, low, high, `${path}.mean`, "a mean between the limits");
  const width = high - low;
  const m = (mean - low) / width;
  const v = (sd / width) * (sd / width);
  const most = Math.sqrt(m * (1 - m)) * width;
  if (!(sd > 0 && sd < most)) {
    const expected = `a standard deviation above 0 and below ${Number(most.toPrecision(6))}`;
    throw new InputError({ code: "out-of-range", path: `${path}.sd`, expected, got: String(sd) });
  }
  const sum = (m * (1 - m)) / v - 1;
  return { kind: "skewed", low, high, alpha: m * sum, beta: (1 - m) * sum };
}

/**
 * Beta distribution on low … high with the given mode, in the three-point form: α = 1 + 4·(mode − low)/w, β = 1 + 4·(high − mode)/w, so that
 * the mean is (low + 4·mode + high)/6.
 *
 * Source: D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar, Operations Research 7 (1959) 646 (from memory).
 */
export function skewedFromMode(low: number, high: number, mode: number, path = ""): Distribution {
  if (!(mode >= low && mode <= high && low < high)) {
    const expected = `a mode from ${low} to ${high}`;
    throw new InputError({ code: "out-of-range", path: `${path}.mode`, expected, got: String(mode) });
  }
  const share = (mode - low) / (high - low);
  return { kind: "skewed", low, high, alpha: 1 + PERT_WEIGHT * share, beta: 1 + PERT_WEIGHT * (1 - share) };
}

/**
 * Lognormal above `shift` with the given mean and standard deviation: s² = ln(1 + (sd/(mean − shift))²), m = ln(mean − shift) − s²/2.
 * Throws `InputError` where the mean is not above the shift or sd is not above 0.
 */
export function lognormalFromMoments(mean: number, sd: number, shift = 0, path = ""): Distribution {
  const above = mean - shift;
  if (!(above > 0)) {
    throw new InputError({
      code: "out-of-range",
      path: `${path}.mean`,
      expected: `a mean above ${shift}`,
      got: String(mean),
    });
  }
  if (!(sd > 0)) {
    const expected = "a standard deviation above 0";
    throw new InputError({ code: "out-of-range", path: `${path}.sd`, expected, got: String(sd) });
  }
  const logVariance = log1p((sd / above) * (sd / above));
  return { kind: "lognormal", logMean: log(above) - 0.5 * logVariance, logSd: Math.sqrt(logVariance), shift };
}

/**
 * What n repeated readings x_i say of the quantity itself: mean x̄, scale s/√n, n − 1 degrees of freedom, s² = Σ(x_i − x̄)²/(n − 1).
 * Source: JCGM 101:2008, 6.4.9.
 */
export function fromReadings(readings: readonly number[], path = ""): Distribution {
  const n = readings.length;
  if (n < 2) throw new InputError({ code: "missing", path, expected: "at least 2 readings", got: String(n) });
  const first = readings[0];
  const mean = first + readings.reduce((sum, x) => sum + (x - first), 0) / n;
  const squares = readings.reduce((sum, x) => sum + (x - mean) * (x - mean), 0);
  if (squares === 0) return { kind: "constant", value: first };
  return { kind: "student-t", mean, scale: Math.sqrt(squares / (n - 1) / n), degreesOfFreedom: n - 1 };
}

function requireInside(value: number, low: number, high: number, path: string, expected: string): void {
  if (value > low && value < high) return;
  throw new InputError({
    code: "out-of-range",
    path,
    expected: `${expected} (${low} and ${high})`,
    got: String(value),
  });
}
