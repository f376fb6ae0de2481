/** The state of a loaded pair in a form to read, and its stiffness. */
import { InternalError } from "../errors.ts";
import { fillBallLoads } from "./ball-row.ts";
import { type PairShaft, PairShaftSolver } from "./pair-shaft.ts";
import { isRigid, pathForceN } from "./preload-path.ts";
import { factorise, substitute } from "./small-cholesky.ts";

export interface BearingState {
  /** Force of the shaft on the inner ring along x, y, z, N. */
  readonly axialForceN: number;
  readonly radialYForceN: number;
  readonly radialZForceN: number;
  /** Moment of the shaft on the inner ring about y and z, N·mm. */
  readonly momentYNmm: number;
  readonly momentZNmm: number;
  /** Q of every ball, N. */
  readonly ballLoadsN: Float64Array;
  /** α of every ball, rad, signed as the axial displacement. */
  readonly contactAnglesRad: Float64Array;
}

export interface PairSolution {
  /** Displacement of the shaft at the middle between the ball planes. */
  readonly axialMm: number;
  readonly radialYMm: number;
  readonly radialZMm: number;
  readonly tiltYRad: number;
  readonly tiltZRad: number;
  /** Force in the preload path, N; for a rigid path the mean of what both bearings carry inwards. */
  readonly preloadN: number;
  readonly a: BearingState;
  readonly b: BearingState;
  /** 5×5 stiffness of the shaft at that point, row by row, N/mm, N and N·mm. */
  readonly stiffness: Float64Array;
  readonly residualRatio: number;
  readonly steps: number;
}

/**
 * Equilibrium of a pair under an external load on the shaft.
 *
 * @param load five components at the middle between the ball planes, N and N·mm
 * @throws InternalError where no equilibrium to 1e-9 was found
 */
export function solvePairShaft(
  pair: PairShaft,
  load: Float64Array,
  solver: PairShaftSolver = new PairShaftSolver(),
): PairSolution {
  if (!solver.solve(pair, load)) {
    throw new InternalError(`no equilibrium of the pair: residual ${solver.residualRatio} after ${solver.steps} steps`);
  }
  const stiffness = new Float64Array(25);
  fillPairStiffness(solver.hessian, isRigid(pair.path), stiffness);
  const w = pair.path.shareARatio;
  const carried = pair.arrangementSign * (w * solver.forceA[0] - (1 - w) * solver.forceB[0]);
  return {
    axialMm: solver.state[0],
    radialYMm: solver.state[1],
    radialZMm: solver.state[2],
    tiltYRad: solver.state[3],
    tiltZRad: solver.state[4],
    preloadN: isRigid(pair.path) ? carried : pathForceN(pair.path, solver.state[5]),
    a: bearingState(pair.a, solver.displacementA, solver.forceA),
    b: bearingState(pair.b, solver.displacementB, solver.forceB),
    stiffness,
    residualRatio: solver.residualRatio,
    steps: solver.steps,
  };
}

function bearingState(row: PairShaft["a"], displacement: Float64Array, force: Float64Array): BearingState {
  const ballLoadsN = new Float64Array(row.ballCount);
  const contactAnglesRad = new Float64Array(row.ballCount);
  fillBallLoads(row, displacement, ballLoadsN, contactAnglesRad);
  return {
    axialForceN: force[0],
    radialYForceN: force[1],
    radialZForceN: force[2],
    momentYNmm: force[3],
    momentZNmm: force[4],
    ballLoadsN,
    contactAnglesRad,
  };
}

/**
 * 5×5 stiffness of the shaft from the solver's 6×6, the give of the preload path following freely.
 *
 * K = H_qq − H_qg·H_gg⁻¹·H_gq. Allocates nothing.
 *
 * @param hessian 6×6, lower triangle, from `PairShaftSolver`
 * @param rigid whether the path has no give
 * @param stiffness filled with 25 values, symmetric
 */
export function fillPairStiffness(hessian: Float64Array, rigid: boolean, stiffness: Float64Array): void {
  const own = hessian[35];
  for (let row = 0; row < 5; row++) {
    for (let column = 0; column <= row; column++) {
      const taken = rigid || own <= 0 ? 0 : (hessian[30 + row] * hessian[30 + column]) / own;
      const value = hessian[row * 6 + column] - taken;
      stiffness[row * 5 + column] = value;
      stiffness[column * 5 + row] = value;
    }
  }
}

/** Stiffness against a single force or moment with everything else free to follow, at the middle between the ball planes. */
export interface PairStiffnesses {
  readonly axialNPerMm: number;
  readonly radialYNPerMm: number;
  readonly radialZNPerMm: number;
  readonly tiltYNmmPerRad: number;
  readonly tiltZNmmPerRad: number;
}

const REFERENCE_FLOOR = 1e-12;

/**
 * Load over movement in its own direction for each degree of freedom: 1/(K⁻¹)ᵢᵢ of the 5×5 stiffness.
 *
 * Coupling is kept: a bearing out of line with its load tilts or slides and feels softer than Kᵢᵢ.
 *
 * @returns all 0 where the shaft has a free movement left
 */
export function pairStiffnesses(stiffness: Float64Array): PairStiffnesses {
  const factor = Float64Array.from(stiffness);
  const floors = new Float64Array(5);
  for (let i = 0; i < 5; i++) floors[i] = Math.max(Number.MIN_VALUE, REFERENCE_FLOOR * stiffness[i * 6]);
  const values = [0, 0, 0, 0, 0];
  if (factorise(factor, 5, 5, floors)) {
    const column = new Float64Array(5);
    for (let i = 0; i < 5; i++) {
      column.fill(0);
      column[i] = 1;
      substitute(factor, 5, 5, column);
      values[i] = 1 / column[i];
    }
  }
  return {
    axialNPerMm: values[0],
    radialYNPerMm: values[1],
    radialZNPerMm: values[2],
    tiltYNmmPerRad: values[3],
    tiltZNmmPerRad: values[4],
  };
}
