import type { OffsetTable } from "../../engine/offset-table.ts";
import { type WindowSet, windowChances } from "../../engine/window-set.ts";
import { quantileOfSorted } from "../../stats/quantiles.ts";
import { overReplicates, type RatioEstimate } from "./assess.ts";

/** The nominal offset that suits a set of windows best. */
export interface BestNominal {
  /** From the nominal as drawn, mm. */
  readonly shiftMm: number;
  readonly good: RatioEstimate;
  /** Yield of every replicate there. */
  readonly replicates: Float64Array;
}

/** Places that are looked at before the best of them is refined. */
const COARSE = 48;
/** Where refining ends, mm: far below any drawing's resolution. */
const FINE_MM = 2e-5;
/** Units that the coarse look takes. */
const ROUGH_POINTS = 4096;

const GOLDEN = 0.6180339887498949;

/**
 * The shift of the nominal offset that maximises the yield: a look over the whole range of the windows, then golden section.
 * The yield is a mean of differences of a CDF and so smooth in the shift.
 */
export function bestNominal(windows: WindowSet, law: OffsetTable): BestNominal {
  const { low, high } = shiftRange(windows);
  const rough = firstPoints(windows, ROUGH_POINTS);
  const roughly = (shiftMm: number) => total(windowChances(rough, rough, law, shiftMm));
  const step = (high - low) / COARSE;
  let place = 0;
  let most = -1;
  for (let index = 0; index <= COARSE; index += 1) {
    const value = roughly(low + index * step);
    if (value > most) {
      most = value;
      place = index;
    }
  }
  const exactly = (shiftMm: number) => total(windowChances(windows, windows, law, shiftMm));
  let a = low + (place - 1) * step;
  let b = low + (place + 1) * step;
  // First on few points, then the last of the way on all of them.
  [a, b] = goldenSection(roughly, a, b, Math.max(FINE_MM, 0.05 * step));
  const margin = 2 * (b - a);
  [a, b] = goldenSection(exactly, a - margin, b + margin, FINE_MM);
  const shiftMm = 0.5 * (a + b);
  const replicates = windowChances(windows, windows, law, shiftMm);
  return { shiftMm, good: overReplicates(replicates), replicates };
}

function goldenSection(f: (x: number) => number, low: number, high: number, width: number): [number, number] {
  let a = low;
  let b = high;
  let x1 = b - GOLDEN * (b - a);
  let x2 = a + GOLDEN * (b - a);
  let f1 = f(x1);
  let f2 = f(x2);
  while (b - a > width) {
    if (f1 >= f2) {
      b = x2;
      x2 = x1;
      f2 = f1;
      x1 = b - GOLDEN * (b - a);
      f1 = f(x1);
    } else {
      a = x1;
      x1 = x2;
      f1 = f2;
      x2 = a + GOLDEN * (b - a);
      f2 = f(x2);
    }
  }
  return [a, b];
}

function total(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
}

/** Shifts between which the middles of nearly all windows lie. */
export function shiftRange(windows: WindowSet): { low: number; high: number } {
  const middles: number[] = [];
  const { lowMm, highMm } = windows;
  const stride = Math.max(1, Math.floor(lowMm.length / ROUGH_POINTS));
  for (let place = 0; place < lowMm.length; place += stride) {
    const low = lowMm[place];
    const high = highMm[place];
    if (!(low < high)) continue;
    if (Number.isFinite(low)) middles.push(low);
    if (Number.isFinite(high)) middles.push(high);
  }
  if (middles.length < 2) return { low: -0.05, high: 0.05 };
  const sorted = Float64Array.from(middles).sort();
  const low = quantileOfSorted(sorted, 0.005);
  const high = quantileOfSorted(sorted, 0.995);
  const room = 0.05 * (high - low) + 1e-3;
  return { low: low - room, high: high + room };
}

/** The first points of every replicate, as a set of its own. */
function firstPoints(windows: WindowSet, most: number): WindowSet {
  const { replicates, pointsPerReplicate } = windows;
  const points = Math.floor(most / replicates);
  if (points >= pointsPerReplicate) return windows;
  // One replicate after the other as they stand: a shorter set of the same form.
  const whole = Math.max(1, Math.floor(most / pointsPerReplicate));
  const end = whole * pointsPerReplicate;
  return {
    ...windows,
    replicates: whole,
    lowMm: windows.lowMm.subarray(0, end),
    highMm: windows.highMm.subarray(0, end),
    states: [],
  };
}
