import { mean, standardDeviation } from "../distributions/moments.ts";
import { AFTER_SERVICE, countedStateNames } from "../engine/kept.ts";
import { type MeasureMoments, type Quantity, quantileFunction, type StateHistograms } from "../engine/measures.ts";
import type { Tally } from "../engine/tally.ts";
import { FLAGS, OUTCOMES } from "../model/outcome.ts";
import type { ModelPlan } from "../model/plan.ts";
import {
  type DutyState,
  type InternalUnit,
  type ResolvedScenario,
  ZONES,
  type Zone,
  type ZoneTemperature,
} from "../scenario/types.ts";
import { meanInterval } from "../stats/intervals.ts";
import type { OverallResult, QuantitySummary, SampleTable, StateResult } from "./result.ts";
import { shareOf } from "./share.ts";
import { summariseMoments, summariseValues } from "./summary.ts";

/** Sums up every counted state: shares of classes and flags, moments and quantiles. */
export function summariseStates(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  tally: Tally,
  moments: MeasureMoments,
  histograms: readonly StateHistograms[],
  samples: SampleTable,
): StateResult[] {
  const bench = scenario.states.find((state) => state.isBench)!;
  const states: (DutyState & { readonly isAfterService: boolean })[] = scenario.states.map((state) => ({
    ...state,
    isAfterService: false,
  }));
  if (plan.canWalk) {
    states.push({
      ...bench,
      name: AFTER_SERVICE,
      label: `${bench.label}, after service`,
      isBench: false,
      weightRatio: 0,
      isAfterService: true,
    });
  }
  return states.map((state, s) => {
    const summary = (quantity: Quantity, unit: "mm" | "N") =>
      summariseMoments(moments[s][quantity], quantileFunction(histograms[s], quantity), unit);
    const shares = <Name extends string>(names: readonly Name[], counts: Float64Array) =>
      Object.fromEntries(names.map((name, index) => [name, shareOf(counts[index], tally.samples)])) as Record<
        Name,
        ReturnType<typeof shareOf>
      >;
    const kept = (name: string, unit: InternalUnit) => {
      const column = samples.columns.find((candidate) => candidate.name === `${state.name}.${name}`);
      return column === undefined ? null : summariseValues(column.values, unit);
    };
    return {
      name: state.name,
      label: state.label,
      isBench: state.isBench,
      isAfterService: state.isAfterService,
      weightRatio: state.weightRatio,
      temperatureC: Object.fromEntries(
        ZONES.map((zone) => [
          zone,
          momentsOf(kept(`${zone}.temperatureC`, "degC")) ?? zoneMoments(scenario, state.zones[zone]),
        ]),
      ) as Record<Zone, { mean: number; sd: number }>,
      outcomes: shares(OUTCOMES, tally.outcomes[s]),
      flags: shares(FLAGS, tally.flags[s]),
      good: shareOf(goodIn(tally, s), tally.samples),
      preloadN: summary("preloadN", "N"),
      playMm: summary("playMm", "mm"),
      offsetMm: summary("offsetMm", "mm"),
      clearanceMm: { a: summary("clearanceAMm", "mm"), b: summary("clearanceBMm", "mm") },
      gapMm: kept("gapMm", "mm"),
      movementMm: kept("movementMm", "mm"),
      frictionHeatW: kept("frictionHeatW", "W"),
    };
  });
}

function momentsOf(summary: QuantitySummary | null): { mean: number; sd: number } | null {
  return summary === null ? null : { mean: summary.mean, sd: summary.sd };
}

function goodIn({ patterns }: Tally, state: number): number {
  let count = 0;
  patterns.forEach((units, pattern) => {
    if ((pattern & (1 << state)) !== 0) count += units;
  });
  return count;
}

/** Mean and standard deviation of a zone's temperature; its terms are independent draws. */
function zoneMoments(scenario: ResolvedScenario, terms: ZoneTemperature): { mean: number; sd: number } {
  let sum = 0;
  let variance = 0;
  for (const { variable, factor } of terms) {
    const { distribution } = scenario.variables[variable];
    sum += factor * mean(distribution);
    const sd = factor * standardDeviation(distribution);
    variance += sd * sd;
  }
  return { mean: sum, sd: Math.sqrt(variance) };
}

/** Sums up what happens to units over all states. */
export function summariseOverall(scenario: ResolvedScenario, plan: ModelPlan, tally: Tally): OverallResult {
  const names = countedStateNames(plan);
  const causes = tally.serviceCauses.flatMap((counts, s) =>
    OUTCOMES.map((outcome, index) => ({ state: names[s], outcome, share: shareOf(counts[index], tally.samples) })),
  );
  return {
    goodInEveryState: shareOf(tally.goodInEveryState, tally.samples),
    averagedOverStates: averageOverStates(scenario, tally),
    failsAtBench: shareOf(tally.failsAtBench, tally.samples),
    failsInService: shareOf(tally.failsInService, tally.samples),
    serviceCauses: causes.filter(({ share }) => share.count > 0).sort((a, b) => b.share.count - a.share.count),
  };
}

/**
 * Mean over units of the share of duty they spend on target. One unit's states hang together, so the interval comes from
 * the spread of that share over units and not from a binomial.
 */
function averageOverStates(scenario: ResolvedScenario, tally: Tally): OverallResult["averagedOverStates"] {
  let sum = 0;
  let squares = 0;
  tally.patterns.forEach((count, pattern) => {
    let share = 0;
    scenario.states.forEach((state, s) => {
      if ((pattern & (1 << s)) !== 0) share += state.weightRatio;
    });
    sum += count * share;
    squares += count * share * share;
  });
  const n = tally.samples;
  const shareRatio = sum / n;
  const sd = n > 1 ? Math.sqrt(Math.max(0, (squares - n * shareRatio * shareRatio) / (n - 1))) : Number.NaN;
  const { low, high } = meanInterval(shareRatio, sd, n);
  return { shareRatio, lowRatio: Math.max(0, low), highRatio: Math.min(1, high) };
}
