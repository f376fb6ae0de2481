/** The classes of a unit in one state, exactly one each, and the flags that hold beside any class (model of outcomes). */

export const OUTCOMES = ["reversed", "play", "light", "target", "heavy", "bind"] as const;
export type Outcome = (typeof OUTCOMES)[number];

export {
  BIND,
  classify,
  HEAVY,
  LIGHT,
  type OutcomeLimits,
  PLAY,
  REVERSED,
  TARGET,
} from "../kernel/outcomes.ts";

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
