/** How limits on a drawing become a distribution. */
import { InputError } from "../errors.ts";
import type { Distribution } from "./types.ts";

/** Limits stand this many standard deviations from the middle when nothing is known of the process (assumption). */
export const ASSUMED_SIGMAS = 3;

export interface LimitsSpecification {
  readonly low: number;
  readonly high: number;
  /** (high − low)/(6·sd) */
  readonly cp?: number;
  /** Distance of the mean to the nearer limit over 3·sd; at most Cp. */
  readonly cpk?: number;
  /** The limit that the mean is shifted towards where Cpk is below Cp. */
  readonly shift?: "low" | "high";
  /** Parts outside the limits are sorted out, so that the distribution ends there. Without a capability this is assumed. */
  readonly inspected?: boolean;
}

/**
 * Limits and, where known, the capability of the process:
 *
 *     sd = (high − low)/(6·Cp),   mean = middle ± (Cp − Cpk)·3·sd
 *
 * - Nothing known: truncated normal, centred, limits at ±3 sd. `sd` is that of the normal before it is cut; what is left has 0.98658 of it.
 * - Cp alone: centred. Cpk alone: centred with Cp = Cpk. Cpk below Cp: shifted to the named side.
 * - With a capability the distribution is normal, and truncated only where `inspected` says so.
 * - Equal limits give a constant.
 *
 * Throws `InputError` for reversed limits, a capability of 0 or less, Cpk above Cp, or a shift without its side.
 * Source: ISO 22514-2 (definitions of the indices), from memory.
 */
export function fromLimits(specification: LimitsSpecification, path = ""): Distribution {
  const { low, high, shift } = specification;
  if (!(low <= high)) {
    throw new InputError({
      code: "reversed-limits",
      path,
      expected: "a low limit below the high limit",
      got: `${low} to ${high}`,
      hint: `Did you mean ${high} to ${low}?`,
    });
  }
  if (low === high) return { kind: "constant", value: low };
  const middle = low + 0.5 * (high - low);
  if (specification.cp === undefined && specification.cpk === undefined) {
    const sd = (high - low) / (2 * ASSUMED_SIGMAS);
    return specification.inspected === false
      ? { kind: "normal", mean: middle, sd }
      : { kind: "truncated-normal", mean: middle, sd, low, high };
  }
  const cp = capability(specification.cp ?? specification.cpk, `${path}.Cp`);
  const cpk = capability(specification.cpk ?? cp, `${path}.Cpk`);
  if (cpk > cp) {
    throw new InputError({
      code: "conflict",
      path: `${path}.Cpk`,
      expected: `a Cpk of at most Cp (${cp})`,
      got: `${cpk}`,
      hint: "Cpk is Cp less the shift of the mean, so it is never the greater one",
    });
  }
  if (cpk < cp && shift === undefined) {
    throw new InputError({
      code: "missing",
      path: `${path}.shift`,
      expected: "the side that the mean is shifted to: low or high",
      hint: "Cpk is below Cp, so the process does not run in the middle",
    });
  }
  const sd = (high - low) / (6 * cp);
  const mean = middle + (shift === "low" ? -1 : 1) * (cp - cpk) * 3 * sd;
  return specification.inspected ? { kind: "truncated-normal", mean, sd, low, high } : { kind: "normal", mean, sd };
}

function capability(value: number | undefined, path: string): number {
  if (value !== undefined && value > 0 && value <= 100) return value;
  throw new InputError({
    code: "out-of-range",
    path,
    expected: "a capability above 0 and up to 100",
    got: String(value),
  });
}
