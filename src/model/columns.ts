import type { Kernel } from "../kernel/kernel.ts";
import { PLAIN_KERNEL } from "../kernel/plain.ts";
import { ZONES } from "../scenario/types.ts";
import { createPairColumns, type PairColumns } from "./contact.ts";
import { createNetworkColumns, type NetworkColumns } from "./network-columns.ts";
import type { BearingPlan, ModelPlan } from "./plan.ts";
import { createSpringColumns, type SpringColumns } from "./spring-columns.ts";

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
  /** 1 where the class is on target and every requirement known of all units is met. */
  readonly good: Uint8Array;
  /** One bit a requirement that is met, by its place in the scenario. */
  readonly met: Uint16Array;
  /** Width of the gap and its change from the bench, mm; empty without a gap. */
  readonly gapMm: Float64Array;
  readonly movementMm: Float64Array;
  /** Temperature of every zone, °C, and friction heat of both bearings, W, where a heat balance gives them; else empty. */
  readonly zoneC: readonly Float64Array[];
  readonly frictionHeatW: Float64Array;
  /** Offset of the pair as it stands: after rings have slid, and less what a stuck spring is pressed by, mm; empty unless asked for. */
  readonly effectiveMm: Float64Array;
}

/** Constants of one bearing per sample, the same in every state. */
export interface BearingColumns {
  /** Groove-centre distance A, mm. */
  readonly grooveDistanceMm: Float64Array;
  /** Z·K, N/mm^1.5. */
  readonly stiffness: Float64Array;
  /** Contact deflection at the pressure limit of bind, mm; Infinity without one. */
  readonly limitDeflectionMm: Float64Array;
  /** Free radial clearance and stand-out, mm: the drawn columns, or those that follow from a contact angle. */
  freeClearanceMm: Float64Array;
  standOutMm: Float64Array;
  /** Where the latter are kept; empty for a deep-groove bearing. */
  readonly ownClearanceMm: Float64Array;
  readonly ownStandOutMm: Float64Array;
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
  /** Offset that the solver is given, with its sign, mm. */
  readonly signedMm: Float64Array;
  /** What an adjuster or a shim adds to the machined offset of a unit, mm. */
  readonly adjustmentMm: Float64Array;
  readonly spring: SpringColumns | null;
  readonly network: NetworkColumns | null;
}

/**
 * Columns for blocks of at most `size` units.
 *
 * @param kernel whose memory they lie in, and that fills them
 */
export function createWorkspace(plan: ModelPlan, size: number, kernel: Kernel = PLAIN_KERNEL): Workspace {
  const column = () => kernel.column(size);
  const none = kernel.column(0);
  const bearing = ({ isAngularContact }: BearingPlan): BearingColumns => ({
    grooveDistanceMm: column(),
    stiffness: column(),
    limitDeflectionMm: column(),
    freeClearanceMm: none,
    standOutMm: none,
    ownClearanceMm: isAngularContact ? column() : none,
    ownStandOutMm: isAngularContact ? column() : none,
  });
  const bearings = [bearing(plan.bearings[0]), bearing(plan.bearings[1])] as const;
  const pairs = createPairColumns(kernel, size, bearings[0], bearings[1], plan.spring !== null);
  if (!plan.pressureLimited)
    for (const { limitDeflectionMm } of bearings) limitDeflectionMm.fill(Number.POSITIVE_INFINITY);
  return {
    kernel,
    size,
    bearings,
    states: plan.states.map((state) => createStateColumns(kernel, plan, size, state.network !== null)),
    afterService: plan.canWalk ? createStateColumns(kernel, plan, size, plan.states[0].network !== null) : null,
    machinedOffsetMm: column(),
    zoneRiseK: Array.from({ length: plan.states[0].zones.length }, column),
    riseColumns: Array.from({ length: plan.states[0].zones.length }, column),
    clampHoldN: column(),
    frictionHoldN: column(),
    slipMm: column(),
    pairs,
    signedMm: column(),
    adjustmentMm: column(),
    spring: plan.spring === null ? null : createSpringColumns(size),
    network: plan.states.some((state) => state.network !== null) ? createNetworkColumns(size) : null,
  };
}

function createStateColumns(kernel: Kernel, plan: ModelPlan, size: number, hasNetwork: boolean): StateColumns {
  const column = () => kernel.column(size);
  const none = kernel.column(0);
  return {
    offsetMm: column(),
    clearanceAMm: column(),
    clearanceBMm: column(),
    preloadN: column(),
    playMm: column(),
    outcome: kernel.bytes(size),
    flags: kernel.words(size),
    good: kernel.bytes(size),
    met: kernel.words(size),
    gapMm: plan.gap === null ? none : column(),
    movementMm: plan.gap === null ? none : column(),
    zoneC: hasNetwork ? Array.from({ length: ZONES.length }, column) : [],
    frictionHeatW: hasNetwork ? column() : none,
    effectiveMm: plan.keepsEffective ? column() : none,
  };
}
