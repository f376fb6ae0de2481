import { compileOffsetLaw } from "../../engine/offset-law.ts";
import { type WindowSet, windowChances } from "../../engine/window-set.ts";
import type { ModelPlan } from "../../model/plan.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { overReplicates, type RatioEstimate } from "./assess.ts";
import { bestNominal } from "./best-nominal.ts";

/** The yield with the spread of the chain multiplied. */
export interface SpreadPoint {
  readonly spreadRatio: number;
  /** Where the nominal offset stands for it, from that as drawn, mm. */
  readonly shiftMm: number;
  readonly good: RatioEstimate;
}

/** Hardly any spread at all. */
export const TIGHTEST = 0.02;

const SPREADS = [
  TIGHTEST,
  0.1,
  0.2,
  0.3,
  0.4,
  0.5,
  0.6,
  0.7,
  0.8,
  0.9,
  1,
  1.15,
  1.35,
  1.6,
  1.9,
  2.3,
  2.8,
  3.5,
  4.5,
  6,
  8,
  11,
];

/** The yield over the spread of the whole chain, the nominal held or moved to where it is best for each. */
export function spreadCurve(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  windows: WindowSet,
  movesNominal: boolean,
  spreads: readonly number[] = SPREADS,
): SpreadPoint[] {
  const law = compileOffsetLaw(scenario, plan, spreads)!;
  return spreads
    .map((spreadRatio, place) => {
      const table = law.spreadLaws[place];
      if (movesNominal) return { spreadRatio, ...bestNominal(windows, table) };
      return { spreadRatio, shiftMm: 0, good: overReplicates(windowChances(windows, windows, table)) };
    })
    .map(({ spreadRatio, shiftMm, good }) => ({ spreadRatio, shiftMm, good }));
}

/**
 * The widest spread whose yield surely reaches a target: the lower ends of the intervals, straight between the points. Null
 * where none does.
 */
export function spreadFor(curve: readonly SpreadPoint[], targetRatio: number): number | null {
  for (let place = curve.length - 1; place >= 0; place -= 1) {
    const point = curve[place];
    if (point.good.lowRatio < targetRatio) continue;
    const wider = curve[place + 1];
    if (wider === undefined) return point.spreadRatio;
    const share = (point.good.lowRatio - targetRatio) / (point.good.lowRatio - wider.good.lowRatio);
    return point.spreadRatio + share * (wider.spreadRatio - point.spreadRatio);
  }
  return null;
}
