import { iso286Limits } from "../../catalogue/iso286.ts";
import { InputError } from "../../errors.ts";
import type { ToleranceCost, ToleranceCosts } from "../../scenario/decide-types.ts";
import {
  allocateTolerances,
  type CostCurve,
  costOf,
  type FreeTolerance,
  type ToleranceStep,
} from "../../stats/tolerance-allocation.ts";
import type { DrawnMember } from "./moved.ts";

/** One dimension whose tolerance is to be chosen. */
export interface TolerancePart {
  readonly member: DrawnMember;
  /** Standard deviation of the offset per tolerance. */
  readonly weight: number;
  /** Price along a curve; null where processes are given. */
  readonly curve: CostCurve | null;
  readonly processes: readonly ToleranceStep[] | null;
  readonly lowMm: number;
  readonly highMm: number;
}

/** How tolerances may be put on the drawing. */
export type Grid = { readonly kind: "step"; readonly stepMm: number } | { readonly kind: "grades" };

/** Steps of the drawing's grid that are looked at to either side of the continuous optimum. */
const NEIGHBOURS = 4;

/** Grades that are made: IT1 to IT11. */
const GRADES = Array.from({ length: 11 }, (_, place) => place + 1);

/**
 * The dimensions that are free. Without any prices all are, at a price in proportion to 1/t that is 1 as drawn; with prices
 * those that have one are, and the others stay as drawn.
 */
export function toleranceParts(
  members: readonly DrawnMember[],
  costs: ToleranceCosts | null,
): { free: TolerancePart[]; fixed: DrawnMember[] } {
  const varying = members.filter(({ toleranceMm, offsetSdMm }) => toleranceMm > 0 && offsetSdMm > 0);
  if (costs === null) {
    return { free: varying.map((member) => partOf(member, null)), fixed: [] };
  }
  const costFor = (member: DrawnMember) => costs.members.find(({ variable }) => variable === member.variable);
  return {
    free: varying.filter(costFor).map((member) => partOf(member, costFor(member)!)),
    fixed: varying.filter((member) => costFor(member) === undefined),
  };
}

function partOf(member: DrawnMember, cost: ToleranceCost | null): TolerancePart {
  const { toleranceMm, offsetSdMm } = member;
  const common = { member, weight: offsetSdMm / toleranceMm };
  if (cost === null) {
    const curve: CostCurve = { kind: "power", a: 0, b: toleranceMm, k: 1 };
    return { ...common, curve, processes: null, lowMm: toleranceMm / 5, highMm: toleranceMm * 5 };
  }
  const { price, lowMm, highMm } = cost;
  const ends = { lowMm, highMm };
  if (price.kind === "processes") {
    const processes = price.steps.map(({ process, toleranceMm: tolerance, price: of }) => ({
      name: process,
      tolerance,
      price: of,
    }));
    return { ...common, ...ends, curve: null, processes };
  }
  const curve: CostCurve =
    price.kind === "power"
      ? { kind: "power", a: price.a, b: price.bPerMmPower, k: price.exponentRatio }
      : { kind: "exponential", a: price.a, b: 1 / price.scaleMm };
  return { ...common, ...ends, curve, processes: null };
}

/** Price of a part at a tolerance; of a process, that of the cheapest that holds it. */
export function priceAt(part: TolerancePart, toleranceMm: number): number {
  if (part.curve !== null) return costOf(part.curve, toleranceMm);
  const holding = part.processes!.filter(({ tolerance }) => tolerance <= toleranceMm * (1 + 1e-9));
  return holding.length === 0 ? Number.NaN : Math.min(...holding.map(({ price }) => price));
}

/** The part as the continuous optimum sees it; processes are taken as the curve through their ends. */
export function asFree(part: TolerancePart): FreeTolerance {
  const { weight, lowMm: low, highMm: high } = part;
  return { weight, low, high, curve: part.curve ?? throughProcesses(part.processes!) };
}

/** a + b/t through the tightest and the widest process: only a place to start from, the steps decide. */
function throughProcesses(steps: readonly ToleranceStep[]): CostCurve {
  const tight = steps.reduce((x, y) => (y.tolerance < x.tolerance ? y : x));
  const wide = steps.reduce((x, y) => (y.tolerance > x.tolerance ? y : x));
  const span = 1 / tight.tolerance - 1 / wide.tolerance;
  const b = span > 0 ? Math.max(1e-9, (tight.price - wide.price) / span) : 1e-9;
  return { kind: "power", a: Math.max(0, wide.price - b / wide.tolerance), b, k: 1 };
}

/** Most combinations of processes that are gone through one by one. */
const MOST_COMBINATIONS = 2048;

/**
 * The cheapest tolerances within a budget of root sum square: every combination of processes, the curves shared out by Lagrange's
 * conditions under what the processes leave.
 */
export function continuousOptimum(parts: readonly TolerancePart[], budget: number): Float64Array | null {
  const listed = parts.map((part) => part.processes?.map(({ tolerance }) => tolerance) ?? null);
  const combinations = listed.reduce((product, list) => product * (list?.length ?? 1), 1);
  if (combinations > MOST_COMBINATIONS) return allocateTolerances(parts.map(asFree), budget, 2);
  let best: Float64Array | null = null;
  let bestPrice = Number.POSITIVE_INFINITY;
  for (let code = 0; code < combinations; code += 1) {
    let rest = code;
    const held = parts.map((part, i): FreeTolerance => {
      const list = listed[i];
      if (list === null) return asFree(part);
      const tolerance = list[rest % list.length];
      rest = Math.floor(rest / list.length);
      return { ...asFree(part), low: tolerance, high: tolerance };
    });
    const found = allocateTolerances(held, budget, 2);
    if (found === null) continue;
    const price = parts.reduce((sum, part, i) => sum + priceAt(part, found[i]), 0);
    if (price < bestPrice) {
      best = found;
      bestPrice = price;
    }
  }
  return best;
}

/** What may stand on the drawing for a part, near its continuous optimum. */
export function stepsOf(part: TolerancePart, grid: Grid, optimumMm: number): ToleranceStep[] {
  if (part.processes !== null) return part.processes.slice();
  const { lowMm, highMm, curve, member } = part;
  const within = (tolerance: number) => tolerance >= lowMm * (1 - 1e-9) && tolerance <= highMm * (1 + 1e-9);
  if (grid.kind === "grades") {
    const steps = GRADES.flatMap((grade) => {
      const tolerance = gradeToleranceMm(member.nominalMm, grade);
      if (tolerance === null || !within(tolerance)) return [];
      return [{ name: `IT${grade}`, tolerance, price: costOf(curve!, tolerance) }];
    });
    if (steps.length > 0) return steps;
  }
  // A dimension too small for a grade goes by micrometres.
  const stepMm = grid.kind === "step" ? grid.stepMm : 1e-3;
  const centre = Math.floor(optimumMm / stepMm + 1e-9);
  const steps: ToleranceStep[] = [];
  for (let place = centre - NEIGHBOURS; place <= centre + NEIGHBOURS; place += 1) {
    const tolerance = Number((place * stepMm).toPrecision(12));
    if (place > 0 && within(tolerance)) steps.push({ name: "", tolerance, price: costOf(curve!, tolerance) });
  }
  return steps.length > 0 ? steps : [{ name: "", tolerance: lowMm, price: costOf(curve!, lowMm) }];
}

/** Half a grade's width: what stands behind ±; null beyond the sizes of the standard. */
function gradeToleranceMm(nominalMm: number, grade: number): number | null {
  try {
    const { lowMm, highMm } = iso286Limits(nominalMm, `js${grade}`);
    return 0.5 * (highMm - lowMm);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}
