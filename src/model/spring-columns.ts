import { createLoosePairColumns, type PairColumns } from "./contact.ts";

/** Scratch and memory of a spring over a block. */
export interface SpringColumns {
  /** 1/k of the whole stack, mm/N, and its travel from free to solid, mm. */
  readonly perRateMmPerN: Float64Array;
  readonly travelMm: Float64Array;
  /** How far the spring is pressed: in the state at work, and in the last one in which its ring slid. */
  readonly giveMm: Float64Array;
  readonly lastGiveMm: Float64Array;
  /** 1 where the ring is stuck in the state at work. */
  readonly stuck: Uint8Array;
  /** The pair as it stood when the ring slid last: clearance terms, and shift of the offset from the machined one. */
  readonly lastWA: Float64Array;
  readonly lastWB: Float64Array;
  readonly lastShiftMm: Float64Array;
  /** Pairs whose spring is solid, picked out to be solved again, and where they came from. */
  readonly solid: PairColumns;
  readonly solidRow: Int32Array;
  /** One pair, for windows. */
  readonly single: PairColumns;
}

/** Room for the springs of a block of `size` units. */
export function createSpringColumns(size: number): SpringColumns {
  const column = () => new Float64Array(size);
  return {
    perRateMmPerN: column(),
    travelMm: column(),
    giveMm: column(),
    lastGiveMm: column(),
    stuck: new Uint8Array(size),
    lastWA: column(),
    lastWB: column(),
    lastShiftMm: column(),
    solid: createLoosePairColumns(size),
    solidRow: new Int32Array(size),
    single: createLoosePairColumns(1),
  };
}
