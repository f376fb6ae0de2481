/**
 * One ball bearing in five degrees of freedom: forces, moments, stiffness and ball loads from the position of its inner ring.
 *
 * Axes: x along the shaft, y and z across; the five components in every vector are (x, y, z, tilt about y, tilt about z).
 * A ball at azimuth ψ stands in the direction (cos ψ, sin ψ) of (y, z). With ℜ the radius of the inner groove's centre,
 *
 *     axial   δₐ = dx + ℜ·(tilt_y·sin ψ − tilt_z·cos ψ)        radial   δᵣ = dy·cos ψ + dz·sin ψ
 *     s = √((A − G/2 + δᵣ)² + δₐ²)      δ = s − A      Q = K·δ^1.5 where δ > 0      tan α = δₐ/(A − G/2 + δᵣ)
 *
 * which is the axial model of one bearing at every azimuth. Forces are those that the shaft must exert on the inner ring to
 * hold it there; they are the gradient of the elastic energy Σ 0.4·K·δ^2.5, which is convex, so equilibrium is unique but
 * for free play. Quasi-static: no centrifugal or gyroscopic load, one contact angle at both races, rigid rings, small tilts.
 *
 * Source: T. A. Harris, Rolling Bearing Analysis, "Ball bearings under combined radial, thrust and moment load" (after
 * A. B. Jones); the same relations in ISO/TS 16281:2008, 5.2 (from memory). Stiffness: own differentiation.
 */
import { atan2, cos, sin } from "../numeric/elementary.ts";
import { requirePossibleClearance } from "./axial-contact.ts";
import { requireBetween, requireCount, requireFinite, requirePositive } from "./guards.ts";

/** What one row of balls is, in the form that the solvers read; the numbers may be changed from sample to sample. */
export interface BallRow {
  readonly ballCount: number;
  /** cos ψ and sin ψ of every ball. */
  readonly cosines: Float64Array;
  readonly sines: Float64Array;
  /** K of one ball between both rings, N/mm^1.5. */
  ballStiffnessNPerMm15: number;
  /** A, mm. */
  grooveDistanceMm: number;
  /** G, radial clearance, mm, below 2A, negative allowed. */
  clearanceMm: number;
  /** ℜ, radius of the circle on which the centres of the inner groove lie, mm. */
  grooveRadiusMm: number;
}

export interface BallRowOptions {
  readonly ballCount: number;
  readonly ballStiffnessNPerMm15: number;
  readonly grooveDistanceMm: number;
  readonly clearanceMm: number;
  readonly grooveRadiusMm: number;
  /** Azimuth of the first ball from the y axis, rad; 0 unless given. */
  readonly azimuthRad?: number;
}

/**
 * A row of equally spaced balls.
 *
 * @throws InputError for fewer than three balls, a stiffness or distance of zero or less, a clearance that lets the balls fall out
 */
export function createBallRow(options: BallRowOptions): BallRow {
  requireCount(options.ballCount, 3, "ballCount");
  requirePositive(options.ballStiffnessNPerMm15, "ballStiffnessNPerMm15", "N/mm^1.5");
  requirePositive(options.grooveDistanceMm, "grooveDistanceMm", "mm");
  requirePositive(options.grooveRadiusMm, "grooveRadiusMm", "mm");
  requirePossibleClearance(options.grooveDistanceMm, options.clearanceMm, "clearanceMm");
  const start = options.azimuthRad ?? 0;
  requireFinite(start, "azimuthRad", "rad");
  const angle = (ball: number) => start + (2 * Math.PI * ball) / options.ballCount;
  return {
    ballCount: options.ballCount,
    cosines: Float64Array.from({ length: options.ballCount }, (_, ball) => cos(angle(ball))),
    sines: Float64Array.from({ length: options.ballCount }, (_, ball) => sin(angle(ball))),
    ballStiffnessNPerMm15: options.ballStiffnessNPerMm15,
    grooveDistanceMm: options.grooveDistanceMm,
    clearanceMm: options.clearanceMm,
    grooveRadiusMm: options.grooveRadiusMm,
  };
}

/**
 * Radius of the circle of the inner groove's centres, ℜ = Dpw/2 + (fᵢ − 0.5)·Dw·cos α₀.
 *
 * @param pitchDiameterMm Dpw, mm
 * @param ballDiameterMm Dw, mm
 * @param conformityInnerRatio fᵢ, above 0.5
 * @param freeAngleRad α₀, rad
 * @returns ℜ, mm
 *
 * Source: T. A. Harris, Rolling Bearing Analysis; ISO/TS 16281:2008, 5.2 (from memory).
 */
export function innerGrooveRadiusMm(
  pitchDiameterMm: number,
  ballDiameterMm: number,
  conformityInnerRatio: number,
  freeAngleRad: number,
): number {
  requireBetween(conformityInnerRatio, 0.5, 1, "conformityInnerRatio", "a groove radius of 0.5 to 1 ball diameters");
  return 0.5 * pitchDiameterMm + (conformityInnerRatio - 0.5) * ballDiameterMm * cos(freeAngleRad);
}

/**
 * Force and stiffness of the row at a displacement of the inner ring. Allocates nothing.
 *
 * @param displacement five components, mm and rad, relative to the outer ring, from the middle of the play
 * @param force filled with the five components, N and N·mm
 * @param stiffness filled with the symmetric 5×5 derivative of `force`, row by row, N/mm, N and N·mm
 * @returns elastic energy, N·mm
 */
export function evaluateBallRow(
  row: BallRow,
  displacement: Float64Array,
  force: Float64Array,
  stiffness: Float64Array,
): number {
  const a = row.grooveDistanceMm;
  const k = row.ballStiffnessNPerMm15;
  const radius = row.grooveRadiusMm;
  const halfClearance = 0.5 * row.clearanceMm;
  const dx = displacement[0];
  const dy = displacement[1];
  const dz = displacement[2];
  const tiltY = displacement[3] * radius;
  const tiltZ = displacement[4] * radius;
  const { cosines, sines, ballCount } = row;
  let energy = 0;
  let fx = 0;
  let fy = 0;
  let fz = 0;
  let fxSine = 0;
  let fxCosine = 0;
  // Sums of the axial (aa), mixed (ar) and radial (rr) ball stiffness, times cosines (c) and sines (s) of the azimuth.
  let aa = 0;
  let aaC = 0;
  let aaS = 0;
  let aaCC = 0;
  let aaCS = 0;
  let aaSS = 0;
  let arC = 0;
  let arS = 0;
  let arCC = 0;
  let arCS = 0;
  let arSS = 0;
  let rrCC = 0;
  let rrCS = 0;
  let rrSS = 0;
  for (let ball = 0; ball < ballCount; ball++) {
    const c = cosines[ball];
    const s = sines[ball];
    const axial = dx + tiltY * s - tiltZ * c;
    const gap = dy * c + dz * s - halfClearance;
    const radial = a + gap;
    // s² − A² without the cancellation of two nearly equal squares.
    const excess = axial * axial + gap * (radial + a);
    if (!(excess > 0)) continue;
    const distance = Math.sqrt(radial * radial + axial * axial);
    const deflection = excess / (distance + a);
    const root = k * Math.sqrt(deflection);
    const load = root * deflection;
    const sine = axial / distance;
    const cosine = radial / distance;
    const normal = 1.5 * root;
    const across = load / distance;
    energy += load * deflection;
    const pushAxial = load * sine;
    const pushRadial = load * cosine;
    fx += pushAxial;
    fy += pushRadial * c;
    fz += pushRadial * s;
    fxSine += pushAxial * s;
    fxCosine += pushAxial * c;
    const kaa = normal * sine * sine + across * cosine * cosine;
    const krr = normal * cosine * cosine + across * sine * sine;
    const kar = (normal - across) * sine * cosine;
    const cc = c * c;
    const cs = c * s;
    const ss = s * s;
    aa += kaa;
    aaC += kaa * c;
    aaS += kaa * s;
    aaCC += kaa * cc;
    aaCS += kaa * cs;
    aaSS += kaa * ss;
    arC += kar * c;
    arS += kar * s;
    arCC += kar * cc;
    arCS += kar * cs;
    arSS += kar * ss;
    rrCC += krr * cc;
    rrCS += krr * cs;
    rrSS += krr * ss;
  }
  force[0] = fx;
  force[1] = fy;
  force[2] = fz;
  force[3] = radius * fxSine;
  force[4] = -radius * fxCosine;
  stiffness[0] = aa;
  stiffness[6] = rrCC;
  stiffness[12] = rrSS;
  stiffness[18] = radius * radius * aaSS;
  stiffness[24] = radius * radius * aaCC;
  stiffness[1] = stiffness[5] = arC;
  stiffness[2] = stiffness[10] = arS;
  stiffness[3] = stiffness[15] = radius * aaS;
  stiffness[4] = stiffness[20] = -radius * aaC;
  stiffness[7] = stiffness[11] = rrCS;
  stiffness[8] = stiffness[16] = radius * arCS;
  stiffness[9] = stiffness[21] = -radius * arCC;
  stiffness[13] = stiffness[17] = radius * arSS;
  stiffness[14] = stiffness[22] = -radius * arCS;
  stiffness[19] = stiffness[23] = -radius * radius * aaCS;
  return 0.4 * energy;
}

/**
 * Load and contact angle of every ball at a displacement of the inner ring. Allocates nothing.
 *
 * @param displacement five components, mm and rad
 * @param loadsN filled with Q, N, 0 where the ball does not touch
 * @param anglesRad filled with α, rad, signed as the axial displacement; null when not wanted
 */
export function fillBallLoads(
  row: BallRow,
  displacement: Float64Array,
  loadsN: Float64Array,
  anglesRad: Float64Array | null,
): void {
  const a = row.grooveDistanceMm;
  for (let ball = 0; ball < row.ballCount; ball++) {
    const c = row.cosines[ball];
    const s = row.sines[ball];
    const axial = displacement[0] + row.grooveRadiusMm * (displacement[3] * s - displacement[4] * c);
    const gap = displacement[1] * c + displacement[2] * s - 0.5 * row.clearanceMm;
    const radial = a + gap;
    const excess = axial * axial + gap * (radial + a);
    const deflection = excess > 0 ? excess / (Math.sqrt(radial * radial + axial * axial) + a) : 0;
    loadsN[ball] = row.ballStiffnessNPerMm15 * deflection * Math.sqrt(deflection);
    if (anglesRad !== null) anglesRad[ball] = atan2(axial, radial);
  }
}
