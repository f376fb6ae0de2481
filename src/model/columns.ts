import type { Kernel } from "../kernel/kernel.ts";
import { PLAIN_KERNEL } from "../kernel/plain.ts";
import { createPairColumns, type PairColumns } from "./contact.ts";
import type { ModelPlan } from "./plan.ts";

/** Results of one state over a block of samples, one column a quantity. */
export interface StateColumns {
  /** Offset at temperature with clamp and stand-outs, before any ring slides further, mm. */
  readonly offsetMm: Float64Array;
  readonly clearanceAMm: Float64Array;
  readonly clearanceBMm: Float64Array;
  /** Signed: negative when the opposite arrangement carries; 0 while there is play. N. */
  readonly preloadN: Float64Array;
  /** Axial play of the shaft, end to end, mm; 0 under preload. */
  readonly playMm: Float64Array;
  readonly outcome: Uint8Array;
  readonly flags: Uint16Array;
}

/** Constants of one bearing per sample, the same in every state. */
export interface BearingColumns {
  /** Groove-centre distance A, mm. */
  readonly grooveDistanceMm: Float64Array;
  /** Z·K, N/mm^1.5. */
  readonly stiffness: Float64Array;
  /** Contact deflection at the pressure limit of bind, mm; Infinity without one. */
  readonly limitDeflectionMm: Float64Array;
}

/** Everything a worker needs to evaluate blocks, allocated once. */
export interface Workspace {
  /** The loops that work on these columns, and that they were allocated by. */
  readonly kernel: Kernel;
  readonly size: number;
  readonly bearings: readonly [BearingColumns, BearingColumns];
  readonly states: readonly StateColumns[];
  /** The bench again after rings have walked; null when none can. */
  readonly afterService: StateColumns | null;
  /** Offset from the drawn dimensions alone at 20 °C: no clamp, no stand-out, mm. */
  readonly machinedOffsetMm: Float64Array;
  /** Temperature rise over 20 °C of each zone in the state at work, K. */
  readonly zoneRiseK: Float64Array[];
  /** What `zoneRiseK` points into. */
  readonly riseColumns: readonly Float64Array[];
  /** Largest preload the rings hold in the state at work: by clamp and by friction, N. */
  readonly clampHoldN: Float64Array;
  readonly frictionHoldN: Float64Array;
  /** How far rings have slid so far, mm. */
  readonly slipMm: Float64Array;
  /** What the pair solver is given in the state at work, and its solution. */
  readonly pairs: PairColumns;
}

export function createWorkspace(plan: ModelPlan, size: number, kernel: Kernel = PLAIN_KERNEL): Workspace {
  const column = () => kernel.column(size);
  const bearing = (): BearingColumns => ({
    grooveDistanceMm: column(),
    stiffness: column(),
    limitDeflectionMm: column(),
  });
  const bearings = [bearing(), bearing()] as const;
  const pairs = createPairColumns(kernel, size, bearings[0], bearings[1]);
  pairs.complianceMmPerN.fill(plan.complianceMmPerN);
  if (!plan.pressureLimited)
    for (const { limitDeflectionMm } of bearings) limitDeflectionMm.fill(Number.POSITIVE_INFINITY);
  return {
    kernel,
    size,
    bearings,
    states: plan.states.map(() => createStateColumns(kernel, size)),
    afterService: plan.canWalk ? createStateColumns(kernel, size) : null,
    machinedOffsetMm: column(),
    zoneRiseK: Array.from({ length: plan.states[0].zones.length }, column),
    riseColumns: Array.from({ length: plan.states[0].zones.length }, column),
    clampHoldN: column(),
    frictionHoldN: column(),
    slipMm: column(),
    pairs,
  };
}

function createStateColumns(kernel: Kernel, size: number): StateColumns {
  const column = () => kernel.column(size);
  return {
    offsetMm: column(),
    clearanceAMm: column(),
    clearanceBMm: column(),
    preloadN: column(),
    playMm: column(),
    outcome: kernel.bytes(size),
    flags: kernel.words(size),
  };
}
