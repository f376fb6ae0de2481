import { clearanceTerm, type PairColumns } from "../../src/model/contact.ts";

/** One bearing as the pair solver sees it. */
export interface ContactOfBearing {
  readonly distanceMm: number;
  readonly clearanceMm: number;
  /** Z·K, N/mm^1.5. */
  readonly stiffness: number;
}

/** Columns of one pair for the solver, and the two clearance terms. */
export function onePair(
  offsetMm: number,
  a: ContactOfBearing,
  b: ContactOfBearing,
): { columns: PairColumns; w: readonly [number, number] } {
  const w = [clearanceTerm(a.distanceMm, a.clearanceMm), clearanceTerm(b.distanceMm, b.clearanceMm)] as const;
  const column = (value = Number.NaN) => Float64Array.of(value);
  return {
    w,
    columns: {
      offsetMm: column(offsetMm),
      distanceA: column(a.distanceMm),
      wA: column(w[0]),
      stiffnessA: column(a.stiffness),
      distanceB: column(b.distanceMm),
      wB: column(w[1]),
      stiffnessB: column(b.stiffness),
      forceN: column(),
      xA: column(),
      xB: column(),
    },
  };
}

/**
 * Preload of a pair by bisection alone, as a second opinion: F between 0 and a force that is surely too high, each bearing's
 * displacement for a trial force by bisection of Z·K·(s − A)^1.5·x/s with s = √(R² + x²), R = A − G/2, as the equation stands.
 */
export function bisectedPreloadN(
  offsetMm: number,
  a: ContactOfBearing,
  b: ContactOfBearing,
  complianceMmPerN: number,
): number {
  const offsetFor = (forceN: number) =>
    bisectedDisplacementMm(forceN, a) + bisectedDisplacementMm(forceN, b) + complianceMmPerN * forceN;
  if (offsetMm <= offsetFor(0)) return 0;
  let high = 1;
  while (offsetFor(high) < offsetMm) high *= 2;
  return bisect(0, high, (forceN) => offsetFor(forceN) - offsetMm);
}

export function forceOfBearingN(xMm: number, { distanceMm, clearanceMm, stiffness }: ContactOfBearing): number {
  const r = distanceMm - clearanceMm / 2;
  const s = Math.hypot(r, xMm);
  return s <= distanceMm ? 0 : (stiffness * (s - distanceMm) ** 1.5 * xMm) / s;
}

function bisectedDisplacementMm(forceN: number, bearing: ContactOfBearing): number {
  const r = bearing.distanceMm - bearing.clearanceMm / 2;
  // Where the balls first touch both races: the middle of what follows needs no exact start.
  const touch = r < bearing.distanceMm ? Math.sqrt(bearing.distanceMm ** 2 - r * r) : 0;
  if (forceN === 0) return touch;
  let high = touch + 1e-3;
  while (forceOfBearingN(high, bearing) < forceN) high *= 2;
  return bisect(touch, high, (x) => forceOfBearingN(x, bearing) - forceN);
}

function bisect(low: number, high: number, f: (x: number) => number): number {
  let [from, to] = [low, high];
  for (let step = 0; step < 200; step += 1) {
    const middle = from + (to - from) / 2;
    if (middle === from || middle === to) break;
    if (f(middle) < 0) from = middle;
    else to = middle;
  }
  return from + (to - from) / 2;
}
