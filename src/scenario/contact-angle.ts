import { InputError } from "../errors.ts";
import { CONTACT_ANGLE_SPREAD } from "./assumptions.ts";
import { type DrawnValue, readDrawn, THREE_SIGMA_WORDS, withinLimits } from "./drawn.ts";
import type { Drawn } from "./schema-drawn.ts";
import type { Origin } from "./types.ts";
import { usualRange } from "./words.ts";

const DEGREE_RAD = Math.PI / 180;
const LOWEST_DEG = 10;
const HIGHEST_DEG = 45;

/**
 * Free contact angle of an angular-contact bearing. An angle without a tolerance gets the usual spread, which is an
 * assumption.
 */
export function readContactAngle(written: Drawn, path: string): { value: DrawnValue; origin: Origin; source: string } {
  const value = readDrawn(written, { dimension: "angle", path, options: { low: 0, openLow: true, high: Math.PI / 3 } });
  const { distribution } = value;
  if (distribution.kind !== "constant") return { value, origin: "given", source: value.how };
  const half = CONTACT_ANGLE_SPREAD.halfWidthRad;
  const spread = withinLimits(distribution.value - half, distribution.value + half);
  return {
    value: { ...value, distribution: spread },
    origin: "assumption",
    source: `${CONTACT_ANGLE_SPREAD.why}; ${THREE_SIGMA_WORDS}`,
  };
}

/** Middle of the free contact angle, which ratings go by, rad. */
export function nominalAngleRad(written: Drawn, path: string): number {
  const { value } = readContactAngle(written, path);
  const { low, high } = usualRange(value.distribution);
  const angleRad = 0.5 * (low + high);
  const degrees = angleRad / DEGREE_RAD;
  if (!(degrees > LOWEST_DEG - 0.001 && degrees < HIGHEST_DEG + 0.001)) {
    throw new InputError({
      code: "out-of-range",
      path,
      expected: `a nominal contact angle from ${LOWEST_DEG} to ${HIGHEST_DEG} deg; usual are 15, 25 and 40 deg`,
      got: `${Number(degrees.toFixed(3))} deg`,
    });
  }
  return angleRad;
}
