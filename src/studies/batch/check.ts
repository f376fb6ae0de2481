import { prepare } from "../../distributions/index.ts";
import { standardDeviation } from "../../distributions/moments.ts";
import { compileDraw, createInputs, drawBlock } from "../../engine/draw.ts";
import { countedColumns } from "../../engine/tally.ts";
import type { StateColumns } from "../../model/columns.ts";
import { createWorkspace } from "../../model/columns.ts";
import { evaluateBlock } from "../../model/evaluate.ts";
import { compilePlan, type ModelPlan } from "../../model/plan.ts";
import { pow } from "../../numeric/elementary.ts";
import { BLOCK_SIZE } from "../../random/streams.ts";
import type { ResolvedBenchCheck, ResolvedScenario } from "../../scenario/types.ts";
import type { CheckResult, CheckRisks } from "./result.ts";

/** Guard bands that are tried, in standard deviations of the gauge. */
const GUARDS = [-1, 0, 1, 2, 3] as const;
const MOST_UNITS = 100_000;

interface Sums {
  accepted: number;
  escapes: number;
  later: number;
  falseRejects: number;
  rejectsAtBench: number;
}

/**
 * What a check of every unit on the bench would catch and miss: every drawn unit is passed with the chance that its reading, true value plus
 * error, lies between the limits. The errors are not drawn but integrated, so that rare escapes are seen.
 *
 * Source: JCGM 106:2012, 9.5 (global risks), here over the drawn units in place of a prior in closed form.
 */
export function checkRisks(scenario: ResolvedScenario, check: ResolvedBenchCheck): CheckResult {
  const plan = compilePlan(scenario);
  const draw = compileDraw(scenario);
  const inputs = createInputs(draw, BLOCK_SIZE);
  const workspace = createWorkspace(plan, BLOCK_SIZE);
  const bench = plan.states.findIndex(({ isBench }) => isBench);
  const error = prepare(check.error);
  const sd = standardDeviation(check.error);
  const guards = GUARDS.map((factor) => factor * sd);
  const sums: Sums[] = guards.map(() => ({ accepted: 0, escapes: 0, later: 0, falseRejects: 0, rejectsAtBench: 0 }));
  const units = Math.min(scenario.samples, MOST_UNITS);
  const reading = new Float64Array(BLOCK_SIZE);
  for (let first = 0; first < units; first += BLOCK_SIZE) {
    const count = Math.min(BLOCK_SIZE, units - first);
    drawBlock(draw, first / BLOCK_SIZE, inputs, count);
    evaluateBlock(plan, inputs, count, workspace);
    const states = countedColumns(workspace);
    fillReading(plan, check.gauge, states[bench], count, reading);
    for (let i = 0; i < count; i += 1) {
      const isGoodAtBench = states[bench].good[i] === 1;
      let isGood = true;
      for (const { good } of states) if (good[i] !== 1) isGood = false;
      for (let g = 0; g < guards.length; g += 1) {
        const low = check.low + guards[g];
        const high = check.high - guards[g];
        const above = high === Number.POSITIVE_INFINITY ? 1 : error.cdf(high - reading[i]);
        const below = low === Number.NEGATIVE_INFINITY ? 0 : error.cdf(low - reading[i]);
        const passes = Math.max(0, above - below);
        const sum = sums[g];
        sum.accepted += passes;
        if (isGood) sum.falseRejects += 1 - passes;
        if (!isGoodAtBench) sum.escapes += passes;
        else {
          sum.rejectsAtBench += 1 - passes;
          if (!isGood) sum.later += passes;
        }
      }
    }
  }
  const risks = sums.map(
    (sum): CheckRisks => ({
      acceptedRatio: sum.accepted / units,
      escapesRatio: sum.escapes / units,
      laterRatio: sum.later / units,
      falseRejectsRatio: sum.falseRejects / units,
      rejectsAtBenchRatio: sum.rejectsAtBench / units,
    }),
  );
  const limit = (value: number) => (Number.isFinite(value) ? value : null);
  return {
    settings: { ...check, low: limit(check.low), high: limit(check.high) },
    units,
    now: risks[GUARDS.indexOf(0)],
    guards: risks.map((risk, place) => ({ guard: guards[place], ...risk })),
  };
}

/** What the gauge would show without error. */
function fillReading(
  plan: ModelPlan,
  gauge: ResolvedBenchCheck["gauge"],
  { playMm, preloadN }: StateColumns,
  count: number,
  out: Float64Array,
): void {
  if (gauge === "play") out.set(playMm.subarray(0, count));
  else if (gauge === "preload") out.set(preloadN.subarray(0, count));
  else {
    const [a, b] = plan.torques;
    for (let i = 0; i < count; i += 1) {
      // Turned by hand, a pair that is loaded the wrong way round resists no less.
      const force = Math.abs(preloadN[i]);
      out[i] = force > 0 ? a.loadScale * pow(force, a.exponent) + b.loadScale * pow(force, b.exponent) : 0;
    }
  }
}
