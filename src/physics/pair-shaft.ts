/**
 * A rigid shaft on two ball bearings, preloaded against one another, under external load.
 *
 * Axes as for one ball row, with their origin on the axis in the middle between the two ball planes: bearing a at −L/2,
 * b at +L/2. Unknowns are the five displacements of the shaft against the housing and, unless the preload path is rigid, the
 * give g of that path. With σ = +1 back-to-back and −1 face-to-face, w the share of a, e = δ − g:
 *
 *     axial at a: x + σ·w·e     at b: x − σ·(1 − w)·e     across at p: y + tilt_z·p,  z − tilt_y·p
 *
 * Equilibrium is the minimum of U_a + U_b + U_path − load·displacement, a convex function. Newton's method with the exact
 * stiffness finds it; where the stiffness is singular (balls out of contact) or a step does not lower the energy, the step is
 * shortened by adding a multiple of a reference stiffness (Levenberg–Marquardt), which converges from anywhere.
 *
 * Source: derivation from the ball row; the method from J. Nocedal and S. J. Wright, Numerical Optimization, ch. 10.
 */
import { halfAxialPlayMm } from "./axial-contact.ts";
import { type BallRow, evaluateBallRow } from "./ball-row.ts";
import { isRigid, type PreloadPath, pathEnergyNmm, pathForceN, pathStiffnessNPerMm } from "./preload-path.ts";
import { factorise, substitute } from "./small-cholesky.ts";

export interface PairShaft {
  /** +1 back-to-back (contact lines diverge towards the shaft), −1 face-to-face. */
  readonly arrangementSign: 1 | -1;
  /** L, distance of the two ball planes, mm, above 0. */
  readonly spanMm: number;
  readonly a: BallRow;
  readonly b: BallRow;
  readonly path: PreloadPath;
}

const WIDTH = 6;
const MAXIMUM_STEPS = 300;
/** Forces below this count as nothing, N: without load and preload there is no other measure for what is left unbalanced. */
const SMALLEST_FORCE_N = 1e-3;
/** Residual, relative to the largest force in the assembly, at which the search stops. */
const TOLERANCE_RATIO = 1e-11;

/** The solver with its work space: make one, use it for every sample. */
export class PairShaftSolver {
  /** Five displacements of the shaft, mm and rad, then the give of the path, mm. Solution, and start of a warm solve. */
  readonly state = new Float64Array(WIDTH);
  readonly displacementA = new Float64Array(5);
  readonly displacementB = new Float64Array(5);
  /** Force of the shaft on each inner ring, five components at that bearing, N and N·mm. */
  readonly forceA = new Float64Array(5);
  readonly forceB = new Float64Array(5);
  /** 6×6 stiffness of the whole at the solution (lower triangle and diagonal), the last row for the give. */
  readonly hessian = new Float64Array(WIDTH * WIDTH);
  /** Unbalanced force over the largest force in the assembly. */
  residualRatio = 0;
  steps = 0;

  readonly #stiffness = new Float64Array(25);
  readonly #gradient = new Float64Array(WIDTH);
  readonly #trialGradient = new Float64Array(WIDTH);
  readonly #trialHessian = new Float64Array(WIDTH * WIDTH);
  readonly #factor = new Float64Array(WIDTH * WIDTH);
  readonly #reference = new Float64Array(WIDTH);
  readonly #floors = new Float64Array(WIDTH);
  readonly #step = new Float64Array(WIDTH);
  readonly #trial = new Float64Array(WIDTH);
  readonly #scaledLoad = new Float64Array(5);
  #forceScaleN = 0;
  #grooveMm = 0;
  #pressedNPerMm = 0;

  /**
   * Find the equilibrium.
   *
   * @param load external force and moment on the shaft at the origin, five components, N and N·mm
   * @param warm start from `state` as it stands instead of from the bare preload
   * @returns whether the unbalanced force is below 1e-9 of the largest force in the assembly
   */
  solve(pair: PairShaft, load: Float64Array, warm = false): boolean {
    if (!warm) this.#start(pair);
    if (isRigid(pair.path)) this.state[5] = 0;
    return this.#minimise(pair, load) || this.#descend(pair, load);
  }

  /**
   * Come down from a load so high that many balls carry: a tiny load across a wide play has a nearly flat energy with many
   * kinks, and from above the balls in contact are already the right ones.
   */
  #descend(pair: PairShaft, load: Float64Array): boolean {
    const { a, b } = pair;
    const armMm = a.grooveRadiusMm + 0.5 * pair.spanMm;
    const highN = Math.max(referenceForceN(a), referenceForceN(b));
    const wantedN = norm(load, 5, armMm);
    this.#start(pair);
    for (let factor = highN / wantedN; factor > 1 && factor < Number.POSITIVE_INFINITY; factor /= 8) {
      for (let i = 0; i < 5; i++) this.#scaledLoad[i] = load[i] * factor;
      this.#minimise(pair, this.#scaledLoad);
    }
    return this.#minimise(pair, load);
  }

  #minimise(pair: PairShaft, load: Float64Array): boolean {
    const n = isRigid(pair.path) ? 5 : 6;
    this.#setReference(pair);
    const { state } = this;
    const armMm = pair.a.grooveRadiusMm + 0.5 * pair.spanMm;
    let energy = this.#evaluate(pair, load, state, this.#gradient, this.hessian);
    let residual = norm(this.#gradient, n, armMm);
    let scale = this.#scale(load, armMm);
    let damping = 0;
    let stale = false;
    this.steps = 0;
    while (residual > TOLERANCE_RATIO * scale && this.steps < MAXIMUM_STEPS) {
      this.steps++;
      if (!this.#propose(n, damping)) {
        damping = raise(damping);
        continue;
      }
      for (let i = 0; i < WIDTH; i++) this.#trial[i] = i < n ? state[i] - this.#step[i] : state[i];
      const trialEnergy = this.#evaluate(pair, load, this.#trial, this.#trialGradient, this.#trialHessian);
      const trialResidual = norm(this.#trialGradient, n, armMm);
      // Close to the end energies no longer tell points apart; the residual then does.
      const level = trialEnergy - energy <= 1e-13 * Math.abs(energy);
      if (trialEnergy < energy || trialResidual < (level ? residual : 0.5 * residual)) {
        energy = trialEnergy;
        residual = trialResidual;
        scale = this.#scale(load, armMm);
        stale = false;
        state.set(this.#trial);
        this.#gradient.set(this.#trialGradient);
        this.hessian.set(this.#trialHessian);
        damping = damping > 1e-9 ? damping / 30 : 0;
      } else {
        stale = true;
        if (damping > 1e12) break;
        damping = raise(damping);
      }
    }
    // Leave forces and displacements of the accepted point behind, not of a trial that was turned down.
    if (stale) this.#evaluate(pair, load, state, this.#gradient, this.hessian);
    this.residualRatio = residual / scale;
    return this.residualRatio <= 1e-9;
  }

  /** Middle position, with the offset taken by the bearings as far as a moderate load and the path by the rest. */
  #start(pair: PairShaft): void {
    this.state.fill(0);
    if (isRigid(pair.path)) return;
    const { a, b, path } = pair;
    const moderate = onset(a) + onset(b) + 0.02 * (a.grooveDistanceMm + b.grooveDistanceMm);
    this.state[5] = path.offsetMm - Math.min(moderate, Math.max(-moderate, path.offsetMm));
  }

  #setReference(pair: PairShaft): void {
    const { a, b } = pair;
    this.#grooveMm = Math.max(a.grooveDistanceMm, b.grooveDistanceMm);
    const rowStiffness = (row: BallRow) =>
      row.ballCount * row.ballStiffnessNPerMm15 * Math.sqrt(row.grooveDistanceMm) * 0.05;
    const linear = rowStiffness(a) + rowStiffness(b);
    const armMm = a.grooveRadiusMm + 0.5 * pair.spanMm;
    this.#reference.fill(linear);
    this.#reference[3] = this.#reference[4] = linear * armMm * armMm;
    for (let i = 0; i < WIDTH; i++) this.#floors[i] = 1e-12 * this.#reference[i];
  }

  /** Damped Newton step, or false where the stiffness cannot be inverted. */
  #propose(n: number, damping: number): boolean {
    this.#factor.set(this.hessian);
    if (damping > 0) {
      for (let i = 0; i < n; i++) this.#factor[i * WIDTH + i] += damping * this.#reference[i];
    }
    if (!factorise(this.#factor, WIDTH, n, this.#floors)) return false;
    this.#step.set(this.#gradient);
    substitute(this.#factor, WIDTH, n, this.#step);
    return true;
  }

  /**
   * Largest force in the assembly, N: what an unbalanced force is measured against. Balls that press one another through the
   * rings count by their stiffness times a millionth of the groove distance, since what rounding leaves unbalanced follows it.
   */
  #scale(load: Float64Array, armMm: number): number {
    const pressed = this.#pressedNPerMm * this.#grooveMm;
    return Math.max(SMALLEST_FORCE_N, 1e-6 * pressed, this.#forceScaleN, norm(load, 5, armMm));
  }

  /** Potential energy at a point, with its gradient and lower-triangle Hessian. */
  #evaluate(
    pair: PairShaft,
    load: Float64Array,
    at: Float64Array,
    gradient: Float64Array,
    hessian: Float64Array,
  ): number {
    const { path, arrangementSign } = pair;
    const rigid = isRigid(path);
    const givenMm = path.offsetMm - (rigid ? 0 : at[5]);
    const leverA = arrangementSign * path.shareARatio;
    const leverB = -arrangementSign * (1 - path.shareARatio);
    const half = 0.5 * pair.spanMm;
    gradient.fill(0);
    hessian.fill(0);
    place(at, leverA * givenMm, -half, this.displacementA);
    let energy = evaluateBallRow(pair.a, this.displacementA, this.forceA, this.#stiffness);
    gather(this.forceA, this.#stiffness, -half, -leverA, gradient, hessian);
    place(at, leverB * givenMm, half, this.displacementB);
    energy += evaluateBallRow(pair.b, this.displacementB, this.forceB, this.#stiffness);
    gather(this.forceB, this.#stiffness, half, -leverB, gradient, hessian);
    this.#forceScaleN = Math.max(
      Math.abs(this.forceA[0]),
      Math.abs(this.forceA[1]),
      Math.abs(this.forceA[2]),
      Math.abs(this.forceB[0]),
      Math.abs(this.forceB[1]),
      Math.abs(this.forceB[2]),
    );
    this.#pressedNPerMm = Math.max(hessian[0], hessian[7], hessian[14]);
    if (!rigid) {
      const force = pathForceN(path, at[5]);
      energy += pathEnergyNmm(path, at[5]);
      gradient[5] += force;
      hessian[35] += pathStiffnessNPerMm(path, at[5]);
    }
    for (let i = 0; i < 5; i++) {
      gradient[i] -= load[i];
      energy -= load[i] * at[i];
    }
    return energy;
  }
}

/** Displacement of an inner ring from that of the shaft: lever arm p and the axial share of the offset. */
function place(shaft: Float64Array, axialMm: number, positionMm: number, ring: Float64Array): void {
  ring[0] = shaft[0] + axialMm;
  ring[1] = shaft[1] + shaft[4] * positionMm;
  ring[2] = shaft[2] - shaft[3] * positionMm;
  ring[3] = shaft[3];
  ring[4] = shaft[4];
}

/** Add a bearing's force and stiffness, carried to the origin and to the give of the path (`perGive`: axial way per give). */
function gather(
  force: Float64Array,
  k: Float64Array,
  p: number,
  perGive: number,
  gradient: Float64Array,
  hessian: Float64Array,
): void {
  gradient[0] += force[0];
  gradient[1] += force[1];
  gradient[2] += force[2];
  gradient[3] += force[3] - p * force[2];
  gradient[4] += force[4] + p * force[1];
  gradient[5] += perGive * force[0];
  const tiltY0 = k[3] - p * k[2];
  const tiltZ0 = k[4] + p * k[1];
  hessian[0] += k[0];
  hessian[6] += k[5];
  hessian[7] += k[6];
  hessian[12] += k[10];
  hessian[13] += k[11];
  hessian[14] += k[12];
  hessian[18] += tiltY0;
  hessian[19] += k[16] - p * k[11];
  hessian[20] += k[17] - p * k[12];
  hessian[21] += k[18] - p * (k[13] + k[17]) + p * p * k[12];
  hessian[24] += tiltZ0;
  hessian[25] += k[21] + p * k[6];
  hessian[26] += k[22] + p * k[7];
  hessian[27] += k[23] + p * k[8] - p * (k[22] + p * k[7]);
  hessian[28] += k[24] + p * (k[9] + k[21]) + p * p * k[6];
  hessian[30] += perGive * k[0];
  hessian[31] += perGive * k[1];
  hessian[32] += perGive * k[2];
  hessian[33] += perGive * tiltY0;
  hessian[34] += perGive * tiltZ0;
  hessian[35] += perGive * perGive * k[0];
}

/** Largest component, moments over an arm, N. */
function norm(vector: Float64Array, n: number, armMm: number): number {
  let largest = Math.max(Math.abs(vector[0]), Math.abs(vector[1]), Math.abs(vector[2]));
  largest = Math.max(largest, Math.abs(vector[3]) / armMm, Math.abs(vector[4]) / armMm);
  return n === 6 ? Math.max(largest, Math.abs(vector[5])) : largest;
}

function raise(damping: number): number {
  return damping === 0 ? 1e-6 : damping * 10;
}

/** Load of a row whose balls are pressed by 2 % of the groove distance: far above any play, near the heaviest real load. */
function referenceForceN(row: BallRow): number {
  const deflection = 0.02 * row.grooveDistanceMm;
  return row.ballCount * row.ballStiffnessNPerMm15 * deflection * Math.sqrt(deflection);
}

function onset(row: BallRow): number {
  return halfAxialPlayMm(row.grooveDistanceMm, row.clearanceMm);
}
