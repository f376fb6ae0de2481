import type { Tally } from "../engine/tally.ts";
import { InternalError } from "../errors.ts";
import { OUTCOMES, type Outcome } from "../model/outcome.ts";
import type { Estimate, Integration } from "./conditional.ts";
import type { Directions } from "./directions.ts";
import type { CurvePoint, IntegrationResult, OverallResult, Share, StateResult } from "./result.ts";

/** Plain and integrated shares further apart than this, in joint standard errors, are a fault: one run in 10^7 by chance. */
const LARGEST_GAP_SIGMAS = 5.5;

/** Half-width over share past which an integrated share is not taken. */
const LARGEST_UNCERTAINTY_RATIO = 0.3;

const NORMAL_95 = 1.959963984540054;

/** Fewer plain counts than this say too little of their own error to check anything. */
const FEWEST_CHECKED = 25;

/**
 * Puts the better of two shares in place: the integrated one where it is more certain than the plain count. An integrated
 * share of nothing or of little more than its own error rests on a few points near a window, whose spread says too little of
 * what was missed: the plain count stays.
 */
function bestShare(plain: Share, estimate: Estimate): Share {
  const plainHalf = 0.5 * (plain.highRatio - plain.lowRatio);
  const isSure = estimate.ratio > 0 && estimate.halfWidthRatio <= LARGEST_UNCERTAINTY_RATIO * estimate.ratio;
  if (!(isSure && estimate.halfWidthRatio < plainHalf)) return plain;
  return {
    count: plain.count,
    shareRatio: estimate.ratio,
    lowRatio: estimate.lowRatio,
    highRatio: estimate.highRatio,
    method: "integrated",
  };
}

/** Puts integrated shares in the place of sampled ones wherever they are the surer of the two; the mean over states always. */
export function withIntegration(
  states: readonly StateResult[],
  overall: OverallResult,
  integration: Integration,
): { states: StateResult[]; overall: OverallResult } {
  const averaged = integration.averaged;
  return {
    states: states.map((state, s) => ({
      ...state,
      outcomes: Object.fromEntries(
        OUTCOMES.map((outcome, place) => [outcome, bestShare(state.outcomes[outcome], integration.states[s][place])]),
      ) as Record<Outcome, Share>,
    })),
    overall: {
      ...overall,
      goodInEveryState: bestShare(overall.goodInEveryState, integration.good),
      failsAtBench: bestShare(overall.failsAtBench, integration.bench),
      failsInService: bestShare(overall.failsInService, integration.service),
      averagedOverStates: { shareRatio: averaged.ratio, lowRatio: averaged.lowRatio, highRatio: averaged.highRatio },
    },
  };
}

/**
 * Sums up an integration and holds it against the plain run.
 *
 * @throws InternalError when the two disagree beyond their errors: one of them is wrong, and no verdict must come of it
 */
export function summariseIntegration(
  integration: Integration,
  tally: Tally,
  states: readonly StateResult[],
  plainAverage: OverallResult["averagedOverStates"],
  { offset, pilot }: Pick<Directions, "offset" | "pilot">,
  nominalOffsetMm: number,
): IntegrationResult {
  const n = tally.samples;
  const compareTo = (what: string, plainRatio: number, plainVariance: number, count: number, estimate: Estimate) => {
    const variance = plainVariance + estimate.standardErrorRatio * estimate.standardErrorRatio;
    const apartRatio = variance > 0 ? (estimate.ratio - plainRatio) / Math.sqrt(variance) : 0;
    return { what, count, plainRatio, integratedRatio: estimate.ratio, apartRatio };
  };
  const compare = (what: string, count: number, estimate: Estimate) =>
    compareTo(what, count / n, ((count / n) * (1 - count / n)) / n, count, estimate);
  const averageError = (plainAverage.highRatio - plainAverage.lowRatio) / (2 * NORMAL_95);
  const checks = [
    compare("good in every state", tally.goodInEveryState, integration.good),
    compare("fails at the bench", tally.failsAtBench, integration.bench),
    compare("fails in service", tally.failsInService, integration.service),
    compareTo(
      "averaged over states",
      plainAverage.shareRatio,
      averageError * averageError,
      n * plainAverage.shareRatio,
      integration.averaged,
    ),
    ...states.flatMap((state, s) =>
      OUTCOMES.map((outcome, place) =>
        compare(`${outcome} in state ${state.name}`, tally.outcomes[s][place], integration.states[s][place]),
      ),
    ),
  ];
  const apart = checks.find(
    ({ count, apartRatio }) =>
      Math.min(count, n - count) >= FEWEST_CHECKED && Math.abs(apartRatio) > LARGEST_GAP_SIGMAS,
  );
  if (apart !== undefined) {
    throw new InternalError(
      `two ways of computing the share of "${apart.what}" disagree: plain sampling ${apart.plainRatio}, integration along the ${integration.along} ${apart.integratedRatio}, ${apart.apartRatio} standard errors apart`,
    );
  }
  const point = ({ ratio, lowRatio, highRatio }: Estimate): CurvePoint => ({
    yieldRatio: ratio,
    lowRatio,
    highRatio,
  });
  return {
    along: integration.along,
    replicates: integration.replicates,
    pointsPerReplicate: integration.pointsPerReplicate,
    evaluationsPerPoint: integration.evaluationsPerPoint,
    manyCrossingsRatio: integration.manyCrossingsRatio,
    pilot: pilot.map(({ along, worthRatio }) => ({
      along,
      worthRatio: Number.isFinite(worthRatio) ? worthRatio : null,
    })),
    worthRatio: integration.worthRatio,
    crossCheck: checks.map(({ what, plainRatio, integratedRatio, apartRatio }) => ({
      what,
      plainRatio,
      integratedRatio,
      apartRatio,
    })),
    overNominal: integration.shiftCurve.map((estimate, place) => ({
      nominalOffsetMm: nominalOffsetMm + (offset?.shiftsMm[place] ?? 0),
      ...point(estimate),
    })),
    overTolerance: integration.spreadCurve.map((estimate, place) => ({
      toleranceRatio: offset?.law.spreads[place] ?? 1,
      ...point(estimate),
    })),
  };
}
