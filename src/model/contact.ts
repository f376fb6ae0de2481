/**
 * Contact of a pair of ball bearings along its axis, one sample at a time, in a form that needs only square roots.
 *
 * A bearing in a state is given by four numbers:
 *  - A, the unloaded groove-centre distance, mm
 *  - w = A² − R² with R = A − G/2, that is w = (G/2)(2A − G/2), mm²; negative with radial interference
 *  - Z·K, ball count times the load–deflection constant, N/mm^1.5
 *  - half its end-to-end axial play, √w where w > 0 and 0 otherwise, mm
 *
 * Equation: F(x) = Z·K·t^1.5·x/s, s = √(R² + x²), t = s − A = (x² − w)/(s + A), F = 0 where t ≤ 0. Writing the contact
 * deflection t as a quotient keeps its digits close to the onset, where s and A nearly cancel.
 * Source: T. A. Harris, Rolling Bearing Analysis (thrust-loaded ball bearings), rearranged.
 */

/** w = (G/2)(2A − G/2), mm². */
export function clearanceTerm(grooveDistanceMm: number, clearanceMm: number): number {
  const half = 0.5 * clearanceMm;
  return half * (2 * grooveDistanceMm - half);
}

/** Half the end-to-end axial play, mm: √w, 0 with radial interference. */
export function halfPlay(w: number): number {
  return w > 0 ? Math.sqrt(w) : 0;
}

/** Contact deflection t at axial displacement x ≥ 0, mm; not above 0 when nothing touches. */
export function deflectionAt(xMm: number, grooveDistanceMm: number, w: number): number {
  const s = Math.sqrt(grooveDistanceMm * grooveDistanceMm - w + xMm * xMm);
  return (xMm * xMm - w) / (s + grooveDistanceMm);
}

/** Axial force of one bearing at displacement x ≥ 0, N. */
export function forceAt(xMm: number, grooveDistanceMm: number, w: number, stiffness: number): number {
  const s = Math.sqrt(grooveDistanceMm * grooveDistanceMm - w + xMm * xMm);
  const t = (xMm * xMm - w) / (s + grooveDistanceMm);
  return t > 0 ? (stiffness * t * Math.sqrt(t) * xMm) / s : 0;
}

/**
 * Contact deflection at which one bearing carries an axial force: the root of t³(w + 2At + t²) = τ³(A + t)²,
 * τ = (F/(Z·K))^(2/3), found by Newton from above, where the left side less the right is convex.
 *
 * @param tau (F/(Z·K))^(2/3), mm, not negative
 * @returns t, mm; for F = 0 the deflection at which the bearing starts to carry (0, or R − A with radial interference)
 */
export function deflectionForForce(tau: number, grooveDistanceMm: number, w: number): number {
  const a = grooveDistanceMm;
  // x² = w + 2At + t² must not be negative: with radial interference the balls are squeezed by at least R − A.
  const least = w < 0 ? -w / (Math.sqrt(a * a - w) + a) : 0;
  if (tau <= 0) return least;
  const tau3 = tau * tau * tau;
  // Upper bound: x² ≥ 2At (+ w), so t³·(larger of w and 2At) ≤ τ³(A + t)².
  let t = least + tau;
  while (t * t * t * (w + t * (2 * a + t)) < tau3 * (a + t) * (a + t)) t *= 2;
  for (let iteration = 0; iteration < 60; iteration += 1) {
    const x2 = w + t * (2 * a + t);
    const s = a + t;
    const value = t * t * t * x2 - tau3 * s * s;
    const slope = t * t * (3 * x2 + 2 * t * s) - 2 * tau3 * s;
    const step = value / slope;
    const next = t - step;
    if (!(next > least)) {
      t = 0.5 * (t + least);
      continue;
    }
    t = next;
    if (Math.abs(step) <= 1e-9 * t) return t;
  }
  return t;
}

/** Axial displacement x that belongs to a contact deflection t, mm: √(w + 2At + t²). */
export function displacementAt(deflectionMm: number, grooveDistanceMm: number, w: number): number {
  const x2 = w + deflectionMm * (2 * grooveDistanceMm + deflectionMm);
  return x2 > 0 ? Math.sqrt(x2) : 0;
}

/** A block of pairs for the solver: what each is given and where its solution goes. */
export interface PairColumns {
  /** Offset δ, not negative, mm. */
  readonly offsetMm: Float64Array;
  /** What gives way beside the common c, pair by pair, such as a spring, mm/N; 0 when left out. */
  readonly extraMmPerN?: Float64Array;
  /** A, w and Z·K of bearing a and of bearing b. */
  readonly distanceA: Float64Array;
  readonly wA: Float64Array;
  readonly stiffnessA: Float64Array;
  readonly distanceB: Float64Array;
  readonly wB: Float64Array;
  readonly stiffnessB: Float64Array;
  /** Preload F, N; 0 while there is play. */
  readonly forceN: Float64Array;
  /** Axial displacements x_a and x_b, mm; the half plays while there is play. */
  readonly xA: Float64Array;
  readonly xB: Float64Array;
}

/** The constants of one bearing that a pair is given by. */
export interface ContactConstants {
  readonly grooveDistanceMm: Float64Array;
  readonly stiffness: Float64Array;
}

/** Columns for the solver over the constants of two bearings. */
export function createPairColumns(
  size: number,
  a: ContactConstants,
  b: ContactConstants,
  hasExtra = false,
): PairColumns {
  const column = () => new Float64Array(size);
  return {
    offsetMm: column(),
    ...(hasExtra ? { extraMmPerN: column() } : {}),
    distanceA: a.grooveDistanceMm,
    wA: column(),
    stiffnessA: a.stiffness,
    distanceB: b.grooveDistanceMm,
    wB: column(),
    stiffnessB: b.stiffness,
    forceN: column(),
    xA: column(),
    xB: column(),
  };
}

/** Columns of their own for pairs that are picked out of a block. */
export function createLoosePairColumns(size: number): PairColumns {
  const bearing = () => ({ grooveDistanceMm: new Float64Array(size), stiffness: new Float64Array(size) });
  return createPairColumns(size, bearing(), bearing());
}

/**
 * Preload of pairs at offsets not below zero: x_a + x_b + c·F = δ and F_a(x_a) = F_b(x_b) = F.
 *
 * Newton on the share e_a of the excess offset that bearing a takes, kept inside its bracket; the start splits the
 * excess by the two contact stiffnesses. The last step is applied to the force to first order, so that the relative
 * error of F is that of the square of a step below 1e-6. Works on columns because a call a pair would cost more than its
 * arithmetic.
 *
 * @param commonMmPerN c, elastic give of the members that carry the preload
 */
export function solvePairs(pairs: PairColumns, count: number, commonMmPerN: number): void {
  const { offsetMm, distanceA, distanceB, stiffnessA, stiffnessB, forceN, xA: outA, xB: outB } = pairs;
  const columnWA = pairs.wA;
  const columnWB = pairs.wB;
  const extra = pairs.extraMmPerN;
  for (let i = 0; i < count; i += 1) {
    const wA = columnWA[i];
    const wB = columnWB[i];
    const playA = wA > 0 ? Math.sqrt(wA) : 0;
    const playB = wB > 0 ? Math.sqrt(wB) : 0;
    const excess = offsetMm[i] - playA - playB;
    if (!(excess > 0)) {
      forceN[i] = 0;
      outA[i] = playA;
      outB[i] = playB;
      continue;
    }
    const aA = distanceA[i];
    const aB = distanceB[i];
    const kA = stiffnessA[i];
    const kB = stiffnessB[i];
    const complianceMmPerN = extra === undefined ? commonMmPerN : commonMmPerN + extra[i];
    // Without play left x = play + e, so x² − w = e(e + 2·play) + squeeze, squeeze = −w with radial interference.
    const squeezeA = wA < 0 ? -wA : 0;
    const squeezeB = wB < 0 ? -wB : 0;
    const r2A = aA * aA - wA;
    const r2B = aB * aB - wB;
    // Close to the onset F ≈ Z·K·(e·sin α)^1.5·sin α, so the excess splits as the stiffnesses to the power −2/3; r^(2/3)
    // is replaced by a fraction that touches it at r = 1, which is near enough for a start.
    const sineStartA = (playA + 0.5 * excess) / aA;
    const sineStartB = (playB + 0.5 * excess) / aB;
    const ratio =
      (kA * sineStartA * sineStartA * Math.sqrt(sineStartA)) / (kB * sineStartB * sineStartB * Math.sqrt(sineStartB));
    let low = 0;
    let high = excess;
    let eA = (excess * (5 + ratio)) / (6 + 6 * ratio);
    let force = 0;
    for (let iteration = 0; iteration < 200; iteration += 1) {
      const xA = playA + eA;
      const sA = Math.sqrt(r2A + xA * xA);
      const perSA = 1 / sA;
      const tA = (eA * (eA + 2 * playA) + squeezeA) / (sA + aA);
      const rootA = kA * Math.sqrt(tA);
      const sineA = xA * perSA;
      const forceA = rootA * tA * sineA;
      const slopeA = rootA * (1.5 * sineA * sineA + tA * perSA * (1 - sineA * sineA));
      const eB = excess - eA - complianceMmPerN * forceA;
      let forceB = 0;
      let slopeB = 0;
      if (eB > 0) {
        const xB = playB + eB;
        const sB = Math.sqrt(r2B + xB * xB);
        const perSB = 1 / sB;
        const tB = (eB * (eB + 2 * playB) + squeezeB) / (sB + aB);
        const rootB = kB * Math.sqrt(tB);
        const sineB = xB * perSB;
        forceB = rootB * tB * sineB;
        slopeB = rootB * (1.5 * sineB * sineB + tB * perSB * (1 - sineB * sineB));
      }
      const difference = forceA - forceB;
      if (difference > 0) high = eA;
      else low = eA;
      const step = difference / (slopeA + slopeB * (1 + complianceMmPerN * slopeA));
      let next = eA - step;
      if (!(next > low && next < high)) next = 0.5 * (low + high);
      else if ((step < 0 ? -step : step) <= 1e-6 * eA || difference === 0) {
        force = forceA - slopeA * step;
        eA = next;
        break;
      }
      force = forceA;
      if (next === eA) break;
      eA = next;
    }
    forceN[i] = force;
    outA[i] = playA + eA;
    outB[i] = playB + excess - eA - complianceMmPerN * force;
  }
}
