/**
 * Stiffness, life, torque and movement of the units of a block: every unit as a rigid shaft on two ball rows in five degrees of
 * freedom, quasi-static, without centrifugal or gyroscopic loads of the balls.
 */
import { cbrt } from "../numeric/elementary.ts";
import { type BallRow, createBallRow, fillBallLoads } from "../physics/ball-row.ts";
import { dynamicEquivalentLoadN, staticEquivalentLoadN } from "../physics/equivalent-load.ts";
import { frictionLoadN, loadTorqueNmm, viscousTorqueNmm } from "../physics/friction-torque.ts";
import { ballLoadLifeMrev, ballRatings, basicRatingLifeMrev, lifeHours, systemLifeMrev } from "../physics/life.ts";
import { liftOffLoadN } from "../physics/pair-lift-off.ts";
import { addPointForce, playAtRadiusMm, pointMovementMm } from "../physics/pair-movement.ts";
import { type PairShaft, PairShaftSolver } from "../physics/pair-shaft.ts";
import { fillPairStiffness, pairStiffnesses } from "../physics/pair-solution.ts";
import { isRigid, type PreloadPath } from "../physics/preload-path.ts";
import { shoulderRoomRad } from "../physics/truncation.ts";
import type { StateColumns, Workspace } from "./columns.ts";
import { clearanceTerm, displacementFor } from "./contact.ts";
import { type EllipseCurve, EXTENDED_COLUMNS, type ExtendedBearingPlan, type ExtendedPlan } from "./extended-plan.ts";
import { SPRING_STUCK } from "./outcome.ts";
import type { ModelPlan } from "./plan.ts";

/** A life beyond this is printed as this: no bearing lasts by fatigue alone. */
const LONGEST_LIFE_H = 1e9;
/** Give that stands for a rigid structure behind a spring, mm/N; the solver wants one above zero. */
const STIFF_MM_PER_N = 1e-7;

const PLACE = Object.fromEntries(EXTENDED_COLUMNS.map(({ name }, place) => [name, place])) as Record<
  (typeof EXTENDED_COLUMNS)[number]["name"],
  number
>;

/** One state of a block: one column a quantity. */
export type ExtendedValues = readonly Float64Array[];

/** Evaluates units one after the other; holds the solver and its scratch. */
export class ExtendedEvaluator {
  /** Units whose equilibrium under load was not found to the last digit. */
  unsolved = 0;
  readonly #plan: ExtendedPlan;
  readonly #model: ModelPlan;
  readonly #solver = new PairShaftSolver();
  readonly #path: PreloadPath = {
    offsetMm: 0,
    complianceMmPerN: 0,
    springComplianceMmPerN: 0,
    springSolidForceN: Number.POSITIVE_INFINITY,
    shareARatio: 0.5,
  };
  readonly #pair: PairShaft;
  readonly #load = new Float64Array(5);
  readonly #pushed = new Float64Array(5);
  readonly #stiffness = new Float64Array(25);
  readonly #loadsA: Float64Array;
  readonly #loadsB: Float64Array;
  readonly #anglesA: Float64Array;
  readonly #anglesB: Float64Array;

  constructor(model: ModelPlan, plan: ExtendedPlan) {
    this.#model = model;
    this.#plan = plan;
    const row = ({ ballCount, pitchDiameterMm }: ExtendedBearingPlan): BallRow =>
      createBallRow({
        ballCount,
        ballStiffnessNPerMm15: 1,
        grooveDistanceMm: 1,
        clearanceMm: 0,
        grooveRadiusMm: 0.5 * pitchDiameterMm,
      });
    const [a, b] = plan.bearings;
    this.#pair = {
      arrangementSign: plan.arrangementSign,
      spanMm: plan.request.spanMm,
      a: row(a),
      b: row(b),
      path: this.#path,
    };
    this.#loadsA = new Float64Array(a.ballCount);
    this.#loadsB = new Float64Array(b.ballCount);
    this.#anglesA = new Float64Array(a.ballCount);
    this.#anglesB = new Float64Array(b.ballCount);
  }

  /**
   * Fills the columns of one state for the units of a block.
   *
   * @param index the state of the plan
   * @param place its place among the states counted; the bench after service comes behind the others
   */
  fill(
    index: number,
    place: number,
    inputs: readonly Float64Array[],
    count: number,
    workspace: Workspace,
    state: StateColumns,
    out: ExtendedValues,
  ): void {
    for (let i = 0; i < count; i += 1) this.fillUnit(index, place, inputs, i, workspace, state, out);
  }

  /** The same for the unit in one row. */
  fillUnit(
    index: number,
    place: number,
    inputs: readonly Float64Array[],
    i: number,
    workspace: Workspace,
    state: StateColumns,
    out: ExtendedValues,
  ): void {
    const { request, bearings, loads } = this.#plan;
    const pair = this.#pair;
    const solver = this.#solver;
    setRow(pair.a, bearings[0], inputs, i, workspace.bearings[0], state.clearanceAMm[i]);
    setRow(pair.b, bearings[1], inputs, i, workspace.bearings[1], state.clearanceBMm[i]);
    this.#setPath(place, i, workspace, state);
    const preload = state.preloadN[i];
    const load = this.#load;
    load.fill(0);
    for (const { atMm, radiusMm, radial, axial, moment } of loads[index]) {
      const along = { alongMm: atMm, yMm: 0, zMm: 0 };
      if (radial !== null) addPointForce(load, { axialN: 0, yN: inputs[radial][i], zN: 0 }, along);
      if (axial !== null) {
        addPointForce(load, { axialN: inputs[axial][i], yN: 0, zN: 0 }, { alongMm: atMm, yMm: radiusMm, zMm: 0 });
      }
      if (moment !== null) load[4] += inputs[moment][i];
    }
    const isWarm = this.#start(preload);
    if (!solver.solve(pair, load, isWarm) && !solver.solve(pair, load)) this.unsolved += 1;
    this.#fillLoads(i, inputs, index, out);
    this.#fillStiffness(i, out);
    // Movement of the rim under the side load, from where the other loads hold it.
    const { radiusMm, atMm, sideLoadN } = request.probe;
    const rim = { alongMm: atMm, yMm: radiusMm, zMm: 0 };
    const before = pointMovementMm(solver.state, rim)[0];
    this.#pushed.set(load);
    addPointForce(this.#pushed, { axialN: sideLoadN, yN: 0, zN: 0 }, rim);
    if (!solver.solve(pair, this.#pushed, true) && !solver.solve(pair, this.#pushed)) this.unsolved += 1;
    out[PLACE.movementAtRadiusMm][i] = Math.abs(pointMovementMm(solver.state, rim)[0] - before);
    out[PLACE.playAtRadiusMm][i] = preload === 0 ? this.#play(radiusMm, atMm, state.playMm[i]) : 0;
    out[PLACE.liftOffN][i] = preload > 0 ? Math.min(liftOffLoadN(pair, 1), liftOffLoadN(pair, -1)) : 0;
  }

  /** The path that the preload runs through, as the kernel has left the unit. */
  #setPath(place: number, i: number, workspace: Workspace, state: StateColumns): void {
    const path = this.#path;
    const { spring, complianceMmPerN } = this.#model;
    path.offsetMm = state.effectiveMm[i];
    const isStuck = place > 0 && (state.flags[i] & SPRING_STUCK) !== 0;
    const springs = workspace.spring;
    if (spring === null || springs === null || isStuck) {
      path.complianceMmPerN = complianceMmPerN;
      path.springComplianceMmPerN = 0;
      path.springSolidForceN = Number.POSITIVE_INFINITY;
      path.shareARatio = 0.5;
      return;
    }
    path.complianceMmPerN = Math.max(STIFF_MM_PER_N, complianceMmPerN);
    path.springComplianceMmPerN = springs.perRateMmPerN[i];
    path.springSolidForceN = springs.travelMm[i] / springs.perRateMmPerN[i];
    path.shareARatio = spring.slidingBearing === 0 ? 1 : 0;
  }

  /** Starts the solver where the kernel found the unloaded pair; false without preload, where nothing holds the shaft. */
  #start(preloadN: number): boolean {
    if (preloadN === 0) return false;
    const { a, b, path, arrangementSign } = this.#pair;
    const force = Math.abs(preloadN);
    const sense = preloadN < 0 ? -1 : 1;
    const xA = sense * displacementOf(a, force);
    const xB = sense * displacementOf(b, force);
    const closing = xA + xB;
    const { state } = this.#solver;
    state.fill(0);
    state[0] = arrangementSign * (xA - path.shareARatio * closing);
    state[5] = isRigid(path) ? 0 : path.offsetMm - closing;
    return true;
  }

  #fillLoads(i: number, inputs: readonly Float64Array[], index: number, out: ExtendedValues): void {
    const { request, bearings } = this.#plan;
    const { a, b } = this.#pair;
    const solver = this.#solver;
    fillBallLoads(a, solver.displacementA, this.#loadsA, this.#anglesA);
    fillBallLoads(b, solver.displacementB, this.#loadsB, this.#anglesB);
    for (const name of ["contactAngleRad", "ballLoadN", "pressureInnerMPa", "pressureOuterMPa"] as const) {
      out[PLACE[name]][i] = 0;
    }
    out[PLACE.shoulderRoomRad][i] = Number.POSITIVE_INFINITY;
    this.#fillContacts(i, inputs, bearings[0], this.#loadsA, this.#anglesA, out);
    this.#fillContacts(i, inputs, bearings[1], this.#loadsB, this.#anglesB, out);
    const speed = inputs[request.speeds[index]][i];
    const viscosity = inputs[request.viscosities[index]][i];
    const radialA = norm(solver.forceA);
    const radialB = norm(solver.forceB);
    const axialA = Math.abs(solver.forceA[0]);
    const axialB = Math.abs(solver.forceB[0]);
    out[PLACE.frictionTorqueNMm][i] =
      torque(bearings[0], radialA, axialA, speed, viscosity) + torque(bearings[1], radialB, axialB, speed, viscosity);
    out[PLACE.basicLifeH][i] = hours(
      systemLifeMrev([basicLife(bearings[0], radialA, axialA), basicLife(bearings[1], radialB, axialB)]),
      speed,
    );
    const ring = request.rotatingRing;
    out[PLACE.ballLoadLifeH][i] = hours(
      systemLifeMrev([
        ballLoadLifeMrev(ratingsOf(bearings[0], inputs, i), this.#loadsA, ring),
        ballLoadLifeMrev(ratingsOf(bearings[1], inputs, i), this.#loadsB, ring),
      ]),
      speed,
    );
  }

  #fillContacts(
    i: number,
    inputs: readonly Float64Array[],
    bearing: ExtendedBearingPlan,
    loadsN: Float64Array,
    anglesRad: Float64Array,
    out: ExtendedValues,
  ): void {
    let most = 0;
    for (let ball = 1; ball < loadsN.length; ball += 1) if (loadsN[ball] > loadsN[most]) most = ball;
    const load = loadsN[most];
    const angle = Math.abs(anglesRad[most]);
    if (load >= out[PLACE.ballLoadN][i]) {
      out[PLACE.ballLoadN][i] = load;
      out[PLACE.contactAngleRad][i] = angle;
    }
    const root = cbrt(load);
    const inner = inputs[bearing.conformityInner][i];
    const outer = inputs[bearing.conformityOuter][i];
    raise(out[PLACE.pressureInnerMPa], i, root * curveAt(bearing.inner, bearing.inner.pressure, inner));
    raise(out[PLACE.pressureOuterMPa], i, root * curveAt(bearing.outer, bearing.outer.pressure, outer));
    const half =
      root *
      Math.max(
        curveAt(bearing.inner, bearing.inner.semiMajor, inner),
        curveAt(bearing.outer, bearing.outer.semiMajor, outer),
      );
    const height = this.#plan.request.shoulderRatio * bearing.ballDiameterMm;
    const room = shoulderRoomRad(angle, half, height, bearing.ballDiameterMm);
    if (room < out[PLACE.shoulderRoomRad][i]) out[PLACE.shoulderRoomRad][i] = room;
  }

  /** Stiffness where the loads hold the shaft; 0 where it has a free movement left. */
  #fillStiffness(i: number, out: ExtendedValues): void {
    fillPairStiffness(this.#solver.hessian, isRigid(this.#path), this.#stiffness);
    const found = pairStiffnesses(this.#stiffness);
    out[PLACE.axialStiffnessNPerMm][i] = found.axialNPerMm;
    out[PLACE.radialStiffnessNPerMm][i] = Math.min(found.radialYNPerMm, found.radialZNPerMm);
    out[PLACE.tiltStiffnessNMmPerRad][i] = Math.min(found.tiltYNmmPerRad, found.tiltZNmmPerRad);
  }

  /** Play of the rim of a unit without preload; on the axis that of the shaft, which the kernel knows. */
  #play(radiusMm: number, atMm: number, axialMm: number): number {
    if (radiusMm === 0) return axialMm;
    // A spring that hangs free would let the ring follow; the kernel's figure is then the least there is.
    if (this.#path.springComplianceMmPerN > 0) return axialMm;
    return Math.max(axialMm, playAtRadiusMm(this.#solver, this.#pair, radiusMm, atMm));
  }
}

function setRow(
  row: BallRow,
  plan: ExtendedBearingPlan,
  inputs: readonly Float64Array[],
  i: number,
  constants: Workspace["bearings"][number],
  clearanceMm: number,
): void {
  const distance = constants.grooveDistanceMm[i];
  const inner = inputs[plan.conformityInner][i];
  row.grooveDistanceMm = distance;
  row.clearanceMm = clearanceMm;
  row.ballStiffnessNPerMm15 = constants.stiffness[i] / plan.ballCount;
  // ℜ = Dpw/2 + (f_i − 0.5)·Dw·cos α₀ with cos α₀ = 1 − G/(2A).
  const cosine = clearanceMm > 0 ? 1 - clearanceMm / (2 * distance) : 1;
  row.grooveRadiusMm = 0.5 * plan.pitchDiameterMm + (inner - 0.5) * plan.ballDiameterMm * cosine;
}

function displacementOf(row: BallRow, forceN: number): number {
  const w = clearanceTerm(row.grooveDistanceMm, row.clearanceMm);
  return displacementFor(forceN, row.grooveDistanceMm, w, row.ballCount * row.ballStiffnessNPerMm15);
}

function curveAt(curve: EllipseCurve, coefficients: Float64Array, conformityRatio: number): number {
  const t = (conformityRatio - curve.centreRatio) / curve.halfWidthRatio;
  let value = coefficients[coefficients.length - 1];
  for (let power = coefficients.length - 2; power >= 0; power -= 1) value = value * t + coefficients[power];
  return value;
}

function raise(column: Float64Array, i: number, value: number): void {
  if (value > column[i]) column[i] = value;
}

function norm(force: Float64Array): number {
  return Math.sqrt(force[1] * force[1] + force[2] * force[2]);
}

function torque(
  bearing: ExtendedBearingPlan,
  radialN: number,
  axialN: number,
  speed: number,
  viscosity: number,
): number {
  const staticN = staticEquivalentLoadN({ radialN, axialN, contactAngleRad: bearing.tabulatedAngleRad });
  return (
    viscousTorqueNmm(bearing.lubricantFactor, viscosity, speed, bearing.pitchDiameterMm) +
    loadTorqueNmm(
      bearing.friction,
      staticN,
      bearing.staticRatingN,
      frictionLoadN(radialN, axialN, bearing.kind),
      bearing.pitchDiameterMm,
    )
  );
}

function basicLife(bearing: ExtendedBearingPlan, radialN: number, axialN: number): number {
  const load = { radialN, axialN, contactAngleRad: bearing.tabulatedAngleRad };
  const equivalent = dynamicEquivalentLoadN(load, bearing.relativeLoadFactor, bearing.staticRatingN);
  return basicRatingLifeMrev(bearing.dynamicRatingN, equivalent);
}

function ratingsOf(bearing: ExtendedBearingPlan, inputs: readonly Float64Array[], i: number) {
  return ballRatings({
    dynamicRatingN: bearing.dynamicRatingN,
    ballCount: bearing.ballCount,
    ballDiameterMm: bearing.ballDiameterMm,
    pitchDiameterMm: bearing.pitchDiameterMm,
    conformityInnerRatio: inputs[bearing.conformityInner][i],
    conformityOuterRatio: inputs[bearing.conformityOuter][i],
    contactAngleRad: bearing.nominalContactAngleRad,
  });
}

/** A shaft at rest wears nothing out. */
function hours(lifeMrev: number, speedPerMin: number): number {
  return speedPerMin > 0 ? Math.min(LONGEST_LIFE_H, lifeHours(lifeMrev, speedPerMin)) : LONGEST_LIFE_H;
}
