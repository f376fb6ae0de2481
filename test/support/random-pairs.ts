import { listBearings } from "../../src/catalogue/bearings.ts";
import type { Kernel } from "../../src/kernel/kernel.ts";
import { groovedContact, seriesStiffness } from "../../src/physics/hertz.ts";
import type { Dice } from "./mutate.ts";
import type { ContactOfBearing } from "./pairs.ts";

/** A pair as it may come from any scenario that is accepted, and how far past its onset. */
export interface RandomPair {
  readonly a: ContactOfBearing;
  readonly b: ContactOfBearing;
  readonly offsetMm: number;
  readonly complianceMmPerN: number;
}

const BEARINGS = listBearings();
const STEEL = { youngsModulusMPa: 208_000, poissonRatio: 0.3 };

/**
 * Bearings of the catalogue (bores of 3 to 60 mm, the two of a pair unlike in a third of the cases), conformities of 0.505 to
 * 0.56, clearances from 60 µm of radial interference to 150 µm, some exactly or nearly none; members and springs from rigid
 * to 0.1 N/mm; offsets from below the onset to 0.3 mm past it.
 */
export function randomPair(roll: Dice): RandomPair {
  const record = roll.pick(BEARINGS);
  const a = bearing(roll, record);
  const b = bearing(roll, roll.next() < 1 / 3 ? roll.pick(BEARINGS) : record);
  const excessMm = roll.next() < 0.05 ? -logBetween(roll, 1e-9, 0.1) : logBetween(roll, 1e-6, 0.3);
  const soft = roll.next();
  return {
    a,
    b,
    offsetMm: halfPlayMm(a) + halfPlayMm(b) + excessMm,
    complianceMmPerN: soft < 0.2 ? 0 : soft < 0.8 ? logBetween(roll, 1e-9, 1e-4) : logBetween(roll, 1e-4, 10),
  };
}

function bearing(roll: Dice, record: (typeof BEARINGS)[number]): ContactOfBearing {
  const inner = between(roll, 0.505, 0.56);
  const outer = between(roll, 0.505, 0.56);
  const distanceMm = (inner + outer - 1) * record.ballDiameterMm;
  const stiffness = (race: "inner" | "outer", conformityRatio: number) =>
    groovedContact({
      ballDiameterMm: record.ballDiameterMm,
      pitchDiameterMm: record.pitchDiameterMm,
      conformityRatio,
      contactAngleRad: between(roll, 0.05, 0.7),
      race,
      ball: STEEL,
      ring: STEEL,
    }).stiffnessNPerMm15;
  const kind = roll.next();
  const clearanceMm =
    kind < 0.05
      ? 0
      : kind < 0.15
        ? logBetween(roll, 1e-12, 1e-4) * (kind < 0.1 ? 1 : -1)
        : kind < 0.35
          ? -logBetween(roll, 1e-4, 0.06)
          : logBetween(roll, 1e-4, Math.min(0.15, distanceMm));
  return {
    distanceMm,
    clearanceMm,
    stiffness: record.ballCount * seriesStiffness(stiffness("inner", inner), stiffness("outer", outer)),
  };
}

function between(roll: Dice, low: number, high: number): number {
  return low + (high - low) * roll.next();
}

function logBetween(roll: Dice, low: number, high: number): number {
  return low * (high / low) ** roll.next();
}

/** w = (G/2)(2A − G/2) = A² − R². */
function clearanceSquare({ distanceMm, clearanceMm }: ContactOfBearing): number {
  return (clearanceMm / 2) * (2 * distanceMm - clearanceMm / 2);
}

/** Where the balls first touch both races. */
export function halfPlayMm(bearing: ContactOfBearing): number {
  return Math.sqrt(Math.max(0, clearanceSquare(bearing)));
}

/** Force at a displacement e past the play; s − A = (x² − w)/(s + A), which keeps its digits at the lightest loads. */
export function forcePastPlayN(eMm: number, bearing: ContactOfBearing): number {
  if (eMm <= 0) return 0;
  const { distanceMm, stiffness } = bearing;
  const w = clearanceSquare(bearing);
  const play = halfPlayMm(bearing);
  const xMm = play + eMm;
  const sMm = Math.sqrt(distanceMm * distanceMm - w + xMm * xMm);
  const deflectionMm = (eMm * (eMm + 2 * play) + Math.max(0, -w)) / (sMm + distanceMm);
  return (stiffness * deflectionMm * Math.sqrt(deflectionMm) * xMm) / sMm;
}

/**
 * Preload by halving alone. With F falling on one bearing as it rises on the other, the displacement e_a of the first lies
 * between 0 and the excess; the halves are kept apart by the sign of F_a − F_b and nothing else.
 */
export function bracketedPreloadN({ a, b, offsetMm, complianceMmPerN }: RandomPair): number {
  const excessMm = offsetMm - halfPlayMm(a) - halfPlayMm(b);
  if (!(excessMm > 0)) return 0;
  let low = 0;
  let high = excessMm;
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) break;
    const forceA = forcePastPlayN(middle, a);
    if (forceA > forcePastPlayN(excessMm - middle - complianceMmPerN * forceA, b)) high = middle;
    else low = middle;
  }
  return forcePastPlayN(high, a);
}

/** The pairs as columns of a kernel, each with its own compliance, solved. */
export function solveAll(kernel: Kernel, pairs: readonly RandomPair[]): Float64Array {
  return kernel.scoped(() => {
    const fill = (value: (pair: RandomPair) => number) => {
      const column = kernel.column(pairs.length);
      pairs.forEach((pair, index) => {
        column[index] = value(pair);
      });
      return column;
    };
    const columns = {
      offsetMm: fill(({ offsetMm }) => offsetMm),
      extraMmPerN: fill(({ complianceMmPerN }) => complianceMmPerN),
      distanceA: fill(({ a }) => a.distanceMm),
      wA: fill(({ a }) => clearanceSquare(a)),
      stiffnessA: fill(({ a }) => a.stiffness),
      distanceB: fill(({ b }) => b.distanceMm),
      wB: fill(({ b }) => clearanceSquare(b)),
      stiffnessB: fill(({ b }) => b.stiffness),
      forceN: kernel.column(pairs.length),
      xA: kernel.column(pairs.length),
      xB: kernel.column(pairs.length),
    };
    kernel.solvePairs(columns, pairs.length, 0);
    return columns.forceN.slice(0, pairs.length);
  });
}
