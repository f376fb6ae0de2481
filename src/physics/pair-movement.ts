/** Loads on the shaft, and how a point that it carries moves. Origin in the middle between the ball planes, as the pair. */
import { InternalError } from "../errors.ts";
import { requirePositive } from "./guards.ts";
import type { PairShaft, PairShaftSolver } from "./pair-shaft.ts";

/** A point carried by the shaft: x along it from the middle of the pair towards b, y and z from the axis, mm. */
export interface ShaftPoint {
  readonly alongMm: number;
  readonly yMm: number;
  readonly zMm: number;
}

export interface PointForce {
  readonly axialN: number;
  readonly yN: number;
  readonly zN: number;
}

/**
 * Add a force at a point to the five components of a shaft load, M = r × F. The turning moment about x is left out: balls
 * do not resist it.
 *
 * @param load five components, N and N·mm, changed in place
 */
export function addPointForce(load: Float64Array, force: PointForce, at: ShaftPoint): void {
  load[0] += force.axialN;
  load[1] += force.yN;
  load[2] += force.zN;
  load[3] += at.zMm * force.axialN - at.alongMm * force.zN;
  load[4] += at.alongMm * force.yN - at.yMm * force.axialN;
}

/** Movement of a point for a displacement of the shaft, d + tilt × r: along x, y, z, mm. */
export function pointMovementMm(shaft: Float64Array, at: ShaftPoint): readonly [number, number, number] {
  return [
    shaft[0] + shaft[3] * at.zMm - shaft[4] * at.yMm,
    shaft[1] + shaft[4] * at.alongMm,
    shaft[2] - shaft[3] * at.alongMm,
  ];
}

/**
 * Movement of a point when a load is added to what the shaft already carries.
 *
 * @param resting five components of the load that is there all the time
 * @param added five components of the load that comes on
 * @returns movement along x, y, z, mm
 * @throws InternalError where no equilibrium is found
 */
export function movementUnderLoadMm(
  solver: PairShaftSolver,
  pair: PairShaft,
  resting: Float64Array,
  added: Float64Array,
  at: ShaftPoint,
): readonly [number, number, number] {
  const before = positionUnder(solver, pair, resting, at);
  const after = positionUnder(
    solver,
    pair,
    resting.map((value, i) => value + added[i]),
    at,
  );
  return [after[0] - before[0], after[1] - before[1], after[2] - before[2]];
}

/** Load that a play is felt with, N: its elastic part stays near 1 nm for bearings of any usual size. */
const MEASURING_LOAD_N = 1e-5;

/**
 * Axial play of a rim: the way a point at a radius moves along the shaft from end to end when it is pushed to and fro there.
 *
 * Solved as the movement under ± a very small axial force at the point, tilting included; at radius 0 it is the axial play of
 * the pair. A preloaded pair gives the (tiny) elastic movement.
 *
 * @param radiusMm distance of the point from the axis, 0 or more
 * @param alongMm position along the shaft from the middle of the pair
 * @returns mm, end to end
 *
 * Accuracy: 0.01 µm, by the elastic give under the measuring load.
 */
export function playAtRadiusMm(
  solver: PairShaftSolver,
  pair: PairShaft,
  radiusMm: number,
  alongMm: number,
  measuringLoadN = MEASURING_LOAD_N,
): number {
  requirePositive(measuringLoadN, "measuringLoadN", "N");
  const at = { alongMm, yMm: radiusMm, zMm: 0 };
  const ends = [1, -1].map((sense) => {
    const load = new Float64Array(5);
    addPointForce(load, { axialN: sense * measuringLoadN, yN: 0, zN: 0 }, at);
    return positionUnder(solver, pair, load, at)[0];
  });
  return ends[0] - ends[1];
}

function positionUnder(
  solver: PairShaftSolver,
  pair: PairShaft,
  load: Float64Array,
  at: ShaftPoint,
): readonly [number, number, number] {
  if (!solver.solve(pair, load)) {
    throw new InternalError(`no equilibrium of the pair: residual ${solver.residualRatio} after ${solver.steps} steps`);
  }
  return pointMovementMm(solver.state, at);
}
