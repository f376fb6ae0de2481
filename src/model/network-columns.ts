import { ZONES } from "../scenario/types.ts";

/** Scratch of a heat balance over a block. */
export interface NetworkColumns {
  /** Temperature rise over 20 °C of every body without friction, K; and its answer to a watt in the balls of a and of b, K/W. */
  readonly baseK: readonly Float64Array[];
  readonly perHeatA: readonly Float64Array[];
  readonly perHeatB: readonly Float64Array[];
  /** Viscous torque of each bearing, N·mm, and watts per N·mm. */
  readonly viscousA: Float64Array;
  readonly viscousB: Float64Array;
  readonly wattsPerNmm: Float64Array;
  /** Friction heat at work, W, and the share of it that arises in bearing a. */
  readonly heatW: Float64Array;
  readonly shareA: Float64Array;
  /** Largest heat that is known to make more, with by how much; and the smallest that makes less. NaN where not known. */
  readonly lowW: Float64Array;
  readonly lowExcessW: Float64Array;
  readonly highW: Float64Array;
  readonly highExcessW: Float64Array;
  /** 0 at work, 1 settled, 2 run away. */
  readonly fate: Uint8Array;
  /** What the states before have left behind, to be put back before each trial. */
  readonly slipMm: Float64Array;
}

export const AT_WORK = 0;
export const SETTLED = 1;
export const RUN_AWAY = 2;

/** Room for the heat balances of a block of `size` units. */
export function createNetworkColumns(size: number): NetworkColumns {
  const column = () => new Float64Array(size);
  const columns = () => Array.from({ length: ZONES.length }, column);
  return {
    baseK: columns(),
    perHeatA: columns(),
    perHeatB: columns(),
    viscousA: column(),
    viscousB: column(),
    wattsPerNmm: column(),
    heatW: column(),
    shareA: column(),
    lowW: column(),
    lowExcessW: column(),
    highW: column(),
    highExcessW: column(),
    fate: new Uint8Array(size),
    slipMm: column(),
  };
}
