/** The classes of a unit in one state, exactly one each, by number. */

export const REVERSED = 0;
export const PLAY = 1;
export const LIGHT = 2;
export const TARGET = 3;
export const HEAVY = 4;
export const BIND = 5;

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
