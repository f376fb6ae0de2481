import { AFTER_SERVICE } from "../../engine/kept.ts";
import { InputError } from "../../errors.ts";
import { OUTCOMES, type Outcome } from "../../model/outcome.ts";
import { studyHash } from "../../scenario/hash.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { effectiveSize, type WeightedShare, weightedQuantiles, weightedShare } from "../../stats/weighted.ts";
import type { Warning } from "../../warnings.ts";
import { type Maker, provenanceOf } from "../yield.ts";
import { offsetBudget } from "./budget.ts";
import { gatherEvidence, type TermKind } from "./evidence.ts";
import { drawPosterior, type Posterior, type Unknown } from "./posterior.ts";
import type { AuditResult, Decision } from "./result.ts";
import { bestChange, chanceOverChange } from "./shim.ts";

/** What was found, before it is put into words. */
export type AuditFinding = Omit<AuditResult, "verdict">;

/** Draws kept in memory at most; a chance is then known to a twentieth of a point. */
const MOST_SAMPLES = 1_000_000;
/** Below this many effective draws a measured play and the clearance group do not agree. */
const LEAST_EFFECTIVE = 200;
/** Step of the curve over changes of the offset, mm. */
const CURVE_STEP_MM = 0.001;
const QUANTILES = [0.025, 0.5, 0.975] as const;

/**
 * Judges one measured unit: what it is now, what it will do in every state, how well that is known, what to measure better, and what change of
 * a spacing would make it good.
 *
 * @throws InputError where the scenario has no audit
 */
export function auditUnit(scenario: ResolvedScenario, maker: Maker): { finding: AuditFinding; posterior: Posterior } {
  const { audit } = scenario;
  if (audit === null) {
    const hint = "Add audit: with readings to the scenario, or say --readings <table>";
    throw new InputError({ code: "missing", path: "audit", expected: "measurements of one unit", got: "none", hint });
  }
  const warnings: Warning[] = [...scenario.warnings];
  const samples = Math.min(scenario.samples, MOST_SAMPLES);
  const evidence = gatherEvidence(scenario, audit);
  let posterior = drawPosterior(scenario, evidence, samples, true);
  if (evidence.plays.length > 0 && effectiveSize(posterior.all) < LEAST_EFFECTIVE) {
    const message =
      "The measured axial play does not agree with the clearance group: no clearance in it gives such a play. The play is taken as it is and the group left out; check designation and gauge.";
    warnings.push({ code: "unlikely-value", path: "audit.play", message });
    posterior = drawPosterior(scenario, evidence, samples, false);
  }
  if (!(effectiveSize(posterior.all) >= LEAST_EFFECTIVE)) {
    throw new InputError({
      code: "conflict",
      path: "audit.play",
      expected: "plays and readings that can belong to one unit of this scenario",
      got: "no drawn unit that agrees with all of them",
      hint: "Check the readings, their units and the limits of error; more samples help where the instrument is very good",
    });
  }
  const good = weightedShare(posterior.good, posterior.all);
  const budget = offsetBudget(scenario, evidence);
  const { weights } = posterior;
  const three = (values: Float64Array) => weightedQuantiles(values, weights, QUANTILES) as [number, number, number];
  const bench = three(posterior.benchOffsetMm);
  const rightNowRatio = Math.max(good.shareRatio, 1 - good.shareRatio);
  const contribution = (...kinds: TermKind[]) =>
    Math.sqrt(
      budget.budget.reduce(
        (sum, row) => sum + (kinds.includes(row.kind) ? row.contributionMm * row.contributionMm : 0),
        0,
      ),
    );
  const finding: AuditFinding = {
    study: "audit",
    provenance: { ...provenanceOf(scenario, maker), scenarioHash: studyHash(scenario, audit), samples },
    title: scenario.title,
    unit: audit.unit,
    from: audit.from,
    arrangement: scenario.arrangement,
    decision: decide(good, audit.decideRatio),
    decideRatio: audit.decideRatio,
    good,
    states: stateShares(scenario, posterior),
    offset: { ...budget, drawnLowMm: bench[0], drawnHighMm: bench[2] },
    window: windowOf(posterior, three),
    uncertainty: {
      simulationRatio: good.standardErrorRatio,
      samples,
      effectiveSamples: effectiveSize(posterior.all),
      readingsMm: contribution("readings"),
      instrumentMm: contribution("gauge", "resolution", "temperature"),
      notMeasuredMm: contribution("not measured"),
      windowMm: weightedSd(posterior.onsetMm, weights),
    },
    toMeasure: posterior.unknowns
      .map((unknown) => worthOf(unknown, posterior.all.weight, rightNowRatio))
      .sort((a, b) => b.gainRatio - a.gainRatio),
    rightNowRatio,
    change:
      scenario.method.kind === "position"
        ? changeOf(posterior, audit.shimStepMm, audit.decideRatio, scenario.requirements.length > 0)
        : null,
    warnings,
    scenario: scenario.content,
  };
  return { finding, posterior };
}

/** Go or no-go where the chance is beyond doubt of the simulation too. */
function decide({ lowRatio, highRatio }: WeightedShare, decideRatio: number): Decision {
  if (lowRatio >= decideRatio) return "go";
  return highRatio <= 1 - decideRatio ? "no-go" : "cannot tell";
}

function stateShares(scenario: ResolvedScenario, { outcomes, all }: Posterior): AuditResult["states"] {
  const bench = scenario.states.find(({ isBench }) => isBench)!;
  return outcomes.map((sums, s) => {
    const state = scenario.states[s];
    const isAfter = state === undefined;
    return {
      name: isAfter ? AFTER_SERVICE : state.name,
      label: isAfter ? `${bench.label}, after service` : state.label,
      isBench: !isAfter && state.isBench,
      outcomes: Object.fromEntries(
        OUTCOMES.map((outcome, place) => [outcome, weightedShare(sums[place], all)]),
      ) as Record<Outcome, WeightedShare>,
    };
  });
}

function windowOf(
  { lowMm, highMm, machinedMm, weights, all, samples }: Posterior,
  three: (values: Float64Array) => [number, number, number],
): AuditResult["window"] {
  let empty = 0;
  const low = lowMm.slice();
  const high = highMm.slice();
  for (let i = 0; i < samples; i += 1) {
    if (lowMm[i] <= highMm[i]) continue;
    empty += weights[i];
    low[i] = Number.NaN;
    high[i] = Number.NaN;
  }
  return { machinedMm: three(machinedMm), lowMm: three(low), highMm: three(high), emptyRatio: empty / all.weight };
}

/** Chance of a right call were the quantity known exactly: E[max(p, 1 − p)] over its bins. */
function worthOf(unknown: Unknown, total: number, rightNowRatio: number): AuditResult["toMeasure"][number] {
  const { weights, good, label, isMeasured, kind } = unknown;
  let right = 0;
  for (let bin = 0; bin < weights.length; bin += 1) right += Math.max(good[bin], weights[bin] - good[bin]);
  const rightCallRatio = right / total;
  return {
    label,
    isMeasured,
    isOfUnit: kind !== "service",
    rightCallRatio,
    gainRatio: Math.max(0, rightCallRatio - rightNowRatio),
  };
}

function changeOf(
  posterior: Posterior,
  stepMm: number,
  decideRatio: number,
  isPreloadOnly: boolean,
): AuditResult["change"] {
  const steps = chanceOverChange(posterior, stepMm);
  const best = bestChange(steps);
  const at = steps.indexOf(best);
  const curve = chanceOverChange(posterior, Math.min(CURVE_STEP_MM, stepMm));
  const reaching = curve.filter(({ goodRatio }) => goodRatio >= decideRatio);
  return {
    stepMm,
    isPreloadOnly,
    best,
    now: steps.find(({ changeMm }) => changeMm === 0)!,
    neighbours: [steps[at - 1], steps[at + 1]].filter((point) => point !== undefined),
    goRange: reaching.length === 0 ? null : { lowMm: reaching[0].changeMm, highMm: reaching.at(-1)!.changeMm },
    curve: curve.filter(({ goodRatio, changeMm }) => goodRatio > 1e-6 || changeMm === 0),
  };
}

function weightedSd(values: Float64Array, weights: Float64Array): number {
  let total = 0;
  let sum = 0;
  for (let i = 0; i < values.length; i += 1) {
    total += weights[i];
    sum += weights[i] * values[i];
  }
  const mean = sum / total;
  let squares = 0;
  for (let i = 0; i < values.length; i += 1) squares += weights[i] * (values[i] - mean) * (values[i] - mean);
  return Math.sqrt(squares / total);
}
