import { CATALOGUE_VERSION } from "../catalogue/defaults.ts";
import { type KeptColumnSpec, type KeptRows, keptColumns } from "../engine/kept.ts";
import { type Progress, runBatchTasks, runContributorTasks, runExtendedTasks } from "../engine/run.ts";
import type { Executor, WorkerSetup } from "../engine/tasks.ts";
import type { KernelChoice } from "../kernel/open.ts";
import { compilePlan, type ModelPlan } from "../model/plan.ts";
import { STREAM_VERSION } from "../random/streams.ts";
import { isExtendedQuantity } from "../scenario/requirements.ts";
import { SCHEMA_VERSION } from "../scenario/schema.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { nestedBatches, predictedBatch, sharesSpread } from "./batch-counts.ts";
import { integrate, type Target } from "./conditional.ts";
import { summariseContributors } from "./contributors.ts";
import { layOutCurves } from "./curves.ts";
import { chooseDirections, type PilotResult } from "./directions.ts";
import { type ExtendedFinding, summariseExtended } from "./extended.ts";
import { summariseIntegration, withIntegration } from "./integration.ts";
import { checkRunnable } from "./limits-of-a-run.ts";
import { evaluateNominal } from "./nominal.ts";
import { runPlain } from "./plain.ts";
import { findRare } from "./rare/rare.ts";
import { withRare } from "./rare/shares.ts";
import { summariseRequirements, unheldRings } from "./requirements.ts";
import { type Provenance, RESULT_VERSION, type RunResult, type SampleTable } from "./result.ts";
import { runawayOf } from "./runaway.ts";
import type { Steps } from "./steps.ts";
import { summariseOverall, summariseStates } from "./summarise.ts";
import {
  type AssumptionRange,
  assumptionRanges,
  type CauseGroup,
  causeGroups,
  freezeVariations,
} from "./variations.ts";
import { runWarnings } from "./warnings.ts";
import { summariseWindows } from "./windows.ts";

/** Units that the causes are looked for on: enough for a third of a point of yield. */
export const CONTRIBUTOR_UNITS = 20_480;

/** Rows that the figures and the acceptance windows rest on. */
export const FIGURE_ROWS = 20_480;

/** Batches drawn where units of one batch share a part of their spread. */
export const NESTED_BATCHES = 400;

/** A run before its verdict is put into words. */
export type Finding = Omit<RunResult, "verdict">;

/** What a yield study needs before it starts: the plan, the columns kept, and what workers are told. */
export interface YieldSetup extends WorkerSetup {
  readonly plan: ModelPlan;
  readonly columns: readonly KeptColumnSpec[];
  readonly causes: readonly CauseGroup[];
  readonly assumptions: readonly AssumptionRange[];
  /** What spoke for the direction that is integrated along; empty where there was no choice. */
  readonly pilot: readonly PilotResult[];
}

/** Prepares a yield study: compiles the model and lays out what the causes and curves need. Both kernels give the same bits. */
export function yieldSetup(scenario: ResolvedScenario, kernel: KernelChoice = "plain"): YieldSetup {
  const plan = compilePlan(scenario);
  checkRunnable(plan);
  const causes = causeGroups(scenario);
  const curves = layOutCurves(scenario, plan);
  const { offset, lines, pilot } = chooseDirections(scenario, plan, curves);
  const assumptions = assumptionRanges(scenario);
  return {
    kernel,
    scenario,
    plan,
    columns: keptColumns(scenario, plan),
    offset,
    lines,
    pilot,
    causes,
    assumptions,
    variations: [
      ...freezeVariations(scenario, causes),
      ...assumptions.flatMap((assumption) => [assumption.low, assumption.high]),
    ],
  };
}

/** Who makes the result; `platform` is for the record only and changes no number. */
export interface Maker {
  readonly version: string;
  readonly platform: string;
}

export interface YieldOptions {
  /** How certain an estimate has to become; null: the scenario's samples and the first points are enough. */
  readonly target: Target | null;
  /** Asked now and then while a target is worked towards; true ends it early. */
  readonly isOver: () => boolean;
  readonly maker: Maker;
  /** False: what plain sampling saw too seldom is not looked for. */
  readonly rare?: boolean;
  /** Rows handed to `onRows`, from the first. */
  readonly keepRows: number;
  readonly onRows: (rows: SampleTable) => void;
  readonly onProgress: Progress;
  /** Waited for between long pieces of work that are no tasks; what it throws ends the run. */
  readonly pause?: () => Promise<void>;
}

/**
 * Samples a scenario and sums up what happens to its units at the bench and in service, and why.
 *
 * The same scenario and seed give the same finding to the last bit, whatever executes it.
 *
 * @param executor runs the tasks; set up with the same `setup`
 * @returns the finding, and the first rows for the figures
 */
export async function runYield(
  setup: YieldSetup,
  executor: Executor,
  options: YieldOptions,
): Promise<{ finding: Finding; samples: SampleTable; extended: SampleTable | null }> {
  const { scenario, plan, columns } = setup;
  const figureRows = Math.min(FIGURE_ROWS, scenario.samples);
  const figures: KeptRows[] = [];
  const { tally, moments, histograms } = await runPlain(setup, executor, {
    // Where there is nothing to integrate over, plain sampling itself has to reach the target.
    target: integrates(setup) ? null : options.target,
    isOver: options.isOver,
    onProgress: options.onProgress,
    keepRows: Math.max(figureRows, options.keepRows),
    onRows: (rows) => {
      if (rows.first < figureRows) figures.push(firstRows(rows, figureRows - rows.first));
      if (rows.first < options.keepRows) {
        options.onRows(toTable(columns, firstRows(rows, options.keepRows - rows.first)));
      }
    },
  });
  const samples = joinRows(columns, figures);
  const contributors = await runContributorTasks(executor, Math.min(CONTRIBUTOR_UNITS, scenario.samples));
  const extended = await runExtendedOf(setup, executor);
  const decides = extended !== null && extendedDecides(scenario);
  const decisive = decides ? extended.tally : tally;
  const plainOverall = summariseOverall(scenario, plan, decisive);
  const batch = drawsBatches(scenario)
    ? await nestedBatches(scenario, (batches, size) => runBatchTasks(executor, batches, size), NESTED_BATCHES)
    : predictedBatch(scenario.batchSize, decisive);
  const plainStates = summariseStates(scenario, plan, tally, moments, histograms, samples);
  const integration =
    integrates(setup) && !decides
      ? await integrate(executor, setup, plan, options.target, {
          onProgress: (points) => options.onProgress(points, points),
          isOver: options.isOver,
        })
      : null;
  const known =
    integration === null
      ? { states: plainStates, overall: plainOverall }
      : withIntegration(plainStates, plainOverall, integration);
  const rare =
    options.rare === false ? [] : await withPauses(findRare(setup, tally, integration, !decides), options.pause);
  const { states, overall } = withRare(known.states, known.overall, rare);
  const nominal = evaluateNominal(scenario);
  const window = summariseWindows(plan, samples);
  const finding: Finding = {
    study: "run",
    provenance: { ...provenanceOf(scenario, options.maker), samples: tally.samples },
    title: scenario.title,
    description: scenario.description,
    arrangement: scenario.arrangement,
    method: scenario.method.kind,
    unheldRings: unheldRings(plan),
    limits: scenario.limits,
    requiredYieldRatio: scenario.requiredYieldRatio,
    nominal,
    states,
    overall,
    batch,
    contributors: summariseContributors(scenario, plan, setup, contributors),
    window,
    requirements: summariseRequirements(scenario, plan, tally, extended?.tally ?? null),
    runaway: runawayOf(scenario),
    extended: extended?.result ?? null,
    integration:
      integration === null
        ? null
        : summariseIntegration(
            integration,
            tally,
            plainStates,
            plainOverall.averagedOverStates,
            setup,
            nominal.machinedOffsetMm,
          ),
    rare,
    inputs: scenario.inputs,
    warnings: [...scenario.warnings, ...runWarnings(scenario, states, overall, window, extended?.unsolved ?? 0)],
    target: options.target,
    asked: { rare: options.rare ?? true },
    scenario: scenario.content,
  };
  return { finding, samples, extended: extended?.table ?? null };
}

async function withPauses<Result>(steps: Steps<Result>, pause: YieldOptions["pause"]): Promise<Result> {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    await pause?.();
  }
}

/** Whether there is anything to integrate over. */
export function integrates({ offset, lines }: Pick<YieldSetup, "offset" | "lines">): boolean {
  return offset !== null || lines !== null;
}

/** The extended outputs on the first units, null where none were asked for. */
async function runExtendedOf({ scenario, plan }: YieldSetup, executor: Executor): Promise<ExtendedFinding | null> {
  if (scenario.extended === null) return null;
  return summariseExtended(plan, await runExtendedTasks(executor, extendedUnits(scenario)));
}

/** Units that the extended outputs are worked out on. */
export function extendedUnits({ extended, samples }: ResolvedScenario): number {
  return extended === null ? 0 : Math.min(extended.samples, samples);
}

/** Requirements on what is known of the first units only: these units then decide what is said of the batch. */
export function extendedDecides({ extended, requirements }: ResolvedScenario): boolean {
  return extended !== null && requirements.some(({ quantity }) => isExtendedQuantity(quantity));
}

/** Whether whole batches are drawn. */
export function drawsBatches(scenario: ResolvedScenario): boolean {
  return sharesSpread(scenario) && !extendedDecides(scenario);
}

/** What made a result, to be kept with it. */
export function provenanceOf(scenario: ResolvedScenario, maker: Maker): Provenance {
  return {
    program: "seatspread",
    version: maker.version,
    streamVersion: STREAM_VERSION,
    catalogueVersion: String(CATALOGUE_VERSION),
    schemaVersion: SCHEMA_VERSION,
    resultVersion: RESULT_VERSION,
    scenario: scenario.name,
    scenarioHash: scenario.hash,
    seed: scenario.seed,
    samples: scenario.samples,
    platform: maker.platform,
  };
}

function firstRows(rows: KeptRows, most: number): KeptRows {
  if (rows.count <= most) return rows;
  return { first: rows.first, count: most, values: rows.values.map((column) => column.slice(0, most)) };
}

function toTable(columns: readonly KeptColumnSpec[], rows: KeptRows): SampleTable {
  return {
    count: rows.count,
    columns: columns.map(({ name, unit, description }, place) => ({
      name,
      unit,
      description,
      values: rows.values[place],
    })),
  };
}

/** Puts rows of several blocks behind one another. */
function joinRows(columns: readonly KeptColumnSpec[], parts: readonly KeptRows[]): SampleTable {
  const count = parts.reduce((sum, part) => sum + part.count, 0);
  const first = parts[0].first;
  const values = columns.map((_, place) => {
    const type = parts[0].values[place].constructor as new (size: number) => KeptRows["values"][number];
    const joined = new type(count);
    for (const part of parts) joined.set(part.values[place], part.first - first);
    return joined;
  });
  return toTable(columns, { first, count, values });
}
