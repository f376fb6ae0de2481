import type { PairColumns } from "../columns.ts";

/** Newton's step is the last one where the two forces differ by less than this share. */
const LAST_DIFFERENCE = 1e-5;

/**
 * Preload of pairs at offsets not below zero: x_a + x_b + c·F = δ and F_a(x_a) = F_b(x_b) = F.
 *
 * Newton on the displacement e_a of bearing a past its play, kept inside its bracket. Not F_a − F_b is made zero but
 * F_a^(2/3) − F_b^(2/3), which is nearly straight in e; the power of the ratio of the two is taken as the fraction
 * (1 + 5r)/(5 + r), which touches r^(2/3) at r = 1. Where one force is more than four times the other that fraction is no
 * power any more, and the step is the ordinary one. The last step is applied to the force by the same law, so that the relative
 * error of F is that of the square of a step below 1e-6. Works on columns because a call a pair would cost more than its
 * arithmetic.
 *
 * The order of operations is that of the fast kernel, lane by lane.
 *
 * @param commonMmPerN c, elastic give of the members that carry the preload
 */
export function solvePairs(pairs: PairColumns, count: number, commonMmPerN: number): void {
  const { offsetMm, extraMmPerN, distanceA, distanceB, stiffnessA, stiffnessB } = pairs;
  const { forceN, xA: outA, xB: outB, wA: columnWA, wB: columnWB } = pairs;
  for (let i = 0; i < count; i += 1) {
    const wA = columnWA[i];
    const wB = columnWB[i];
    const playA = Math.sqrt(Math.max(wA, 0));
    const playB = Math.sqrt(Math.max(wB, 0));
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
    const compliance = extraMmPerN === undefined ? commonMmPerN : commonMmPerN + extraMmPerN[i];
    // Without play left x = play + e, so x² − w = e(e + 2·play) + squeeze, squeeze = −w with radial interference.
    const squeezeA = wA < 0 ? -wA : 0;
    const squeezeB = wB < 0 ? -wB : 0;
    const r2A = aA * aA - wA;
    const r2B = aB * aB - wB;
    // Close to the onset F ≈ Z·K·(e·sin α)^1.5·sin α, so the excess splits as (Z·K·sin^2.5 α)^(−2/3), and r^(2/3) is
    // replaced by a fraction that touches it at r = 1: near enough for a start.
    const half = 0.5 * excess;
    const sines = ((playA + half) * aB) / ((playB + half) * aA);
    const weightA = kA * (sines * sines * Math.sqrt(sines));
    const split = (excess * (5 * kB + weightA)) / (6 * (kB + weightA));
    // What the structure gives way at that load comes off both, but never most of it.
    const perDistance = 0.5 / aA;
    const rough = (split * (split + 2 * playA) + squeezeA) * perDistance;
    const roughForce = kA * rough * Math.sqrt(rough) * ((playA + split) * (perDistance + perDistance));
    const eased = split - 0.5 * (compliance * roughForce);
    const least = 0.25 * split;
    let eA = Math.max(eased, least);
    let low = 0;
    let high = excess;
    let force = 0;
    for (let iteration = 0; iteration < 200; iteration += 1) {
      const xA = playA + eA;
      const sA = Math.sqrt(r2A + xA * xA);
      const sumA = sA + aA;
      const inverseA = 1 / (sA * sumA);
      const tA = (eA * (eA + 2 * playA) + squeezeA) * (sA * inverseA);
      const perSA = sumA * inverseA;
      const rootA = kA * Math.sqrt(tA);
      const sineA = xA * perSA;
      const squareA = sineA * sineA;
      const forceA = rootA * tA * sineA;
      const slopeA = rootA * (1.5 * squareA + tA * perSA * (1 - squareA));
      const restB = excess - eA - compliance * forceA;
      const eB = Math.max(restB, 0);
      const xB = playB + eB;
      const sB = Math.sqrt(r2B + xB * xB);
      const sumB = sB + aB;
      const inverseB = 1 / (sB * sumB);
      const tB = (eB * (eB + 2 * playB) + squeezeB) * (sB * inverseB);
      const perSB = sumB * inverseB;
      const rootB = kB * Math.sqrt(tB);
      const sineB = xB * perSB;
      const squareB = sineB * sineB;
      const forceB = restB > 0 ? rootB * tB * sineB : 0;
      // Where bearing b is not reached it has no slope either, though with radial interference it is stiff from the first touch.
      const slopeB = restB > 0 ? rootB * (1.5 * squareB + tB * perSB * (1 - squareB)) * (1 + compliance * slopeA) : 0;
      const difference = forceA - forceB;
      if (difference > 0) high = eA;
      else low = eA;
      const gap = Math.abs(difference);
      const step =
        gap > 0.6 * (forceA + forceB)
          ? difference / (slopeA + slopeB)
          : (6 * difference * (forceA * forceB)) /
            ((forceB + 5 * forceA) * (slopeA * forceB) + (5 * forceB + forceA) * (slopeB * forceA));
      const next = eA - step;
      const inside = next >= low && next <= high;
      if (inside) {
        const bent = slopeA * step;
        force = forceA - bent + (bent * bent) / (6 * forceA);
        eA = next;
        if (gap <= LAST_DIFFERENCE * forceA) break;
      } else {
        force = forceA;
        const middle = 0.5 * (low + high);
        if (middle === eA) break;
        eA = middle;
      }
    }
    forceN[i] = force;
    outA[i] = playA + eA;
    outB[i] = playB + (excess - eA - compliance * force);
  }
}
