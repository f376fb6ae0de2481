/** The classes of a unit in one state, exactly one each, and the flags that hold beside any class (model of outcomes). */

export const OUTCOMES = ["reversed", "play", "light", "target", "heavy", "bind"] as const;
export type Outcome = (typeof OUTCOMES)[number];

export const REVERSED = 0;
export const PLAY = 1;
export const LIGHT = 2;
export const TARGET = 3;
export const HEAVY = 4;
export const BIND = 5;

/** Flags as bits of one number per unit and state. */
export const FLAGS = [
  "inner-seat-lost-a",
  "inner-seat-lost-b",
  "outer-seat-lost-a",
  "outer-seat-lost-b",
  "ring-walk",
  "clamp-exceeded",
  "bind-by-pressure",
  "spring-solid",
  "spring-stuck",
  "thermal-runaway",
] as const;
export type Flag = (typeof FLAGS)[number];

export const INNER_SEAT_LOST_A = 1;
export const INNER_SEAT_LOST_B = 2;
export const OUTER_SEAT_LOST_A = 4;
export const OUTER_SEAT_LOST_B = 8;
export const RING_WALK = 16;
export const CLAMP_EXCEEDED = 32;
export const BIND_BY_PRESSURE = 64;
export const SPRING_SOLID = 128;
export const SPRING_STUCK = 256;
export const THERMAL_RUNAWAY = 512;

export interface OutcomeLimits {
  readonly lowN: number;
  readonly highN: number;
  readonly bindN: number;
}

/**
 * Class of one unit in one state.
 *
 * play: no preload; light: below `lowN`; target: `lowN` to `highN`, both ends included; heavy: above; bind: at or above
 * `bindN`, or at or above the limit of Hertz pressure; reversed: loaded the wrong way round.
 *
 * @param preloadN signed preload, N; negative when the opposite arrangement carries
 * @param pressureExceeded whether a ball passes the pressure limit of bind
 */
export function classify(preloadN: number, pressureExceeded: boolean, limits: OutcomeLimits): number {
  if (pressureExceeded || preloadN >= limits.bindN || preloadN <= -limits.bindN) return BIND;
  if (preloadN < 0) return REVERSED;
  if (preloadN === 0) return PLAY;
  if (preloadN < limits.lowN) return LIGHT;
  return preloadN <= limits.highN ? TARGET : HEAVY;
}
