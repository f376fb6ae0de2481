import { batchVerdict } from "../report/batch/verdict.ts";
import { allocateVerdict } from "../report/decide/allocate.ts";
import { centreVerdict } from "../report/decide/centre.ts";
import { compareVerdict } from "../report/decide/compare.ts";
import { methodsVerdict } from "../report/decide/methods.ts";
import type { VariableScenario } from "../scenario/source.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { parseVariant, type Variant } from "../scenario/variants.ts";
import { studyBatch } from "../studies/batch/batch.ts";
import type { BatchStudyResult } from "../studies/batch/result.ts";
import { allocate } from "../studies/decide/allocate.ts";
import { type AssessSize, METHODS_SIZE, USUAL_SIZE } from "../studies/decide/assess.ts";
import { type CentreRequest, centreNominal, failurePrices } from "../studies/decide/centre.ts";
import { compareVariants } from "../studies/decide/compare.ts";
import { compareMethods } from "../studies/decide/methods.ts";
import type { AllocateResult, CentreResult, CompareResult, MethodsResult } from "../studies/decide/result.ts";
import { finish } from "../studies/steps.ts";
import { LIBRARY_VERSION } from "./run-scenario.ts";

/** What every decision may be told; everything has the command line's default. */
export interface DecisionOptions {
  /** Units that a judgement rests on. */
  readonly size?: AssessSize;
  /** Kept in the result for the record; changes no number. */
  readonly madeBy?: string;
}

/** What `centreScenario` may be told. */
export interface CentreOptions extends DecisionOptions {
  /** Step that the drawing's dimensions go by, mm; 0.005 when left out. */
  readonly resolutionMm?: number;
  /** Member of the chain to change; the shortest when left out. */
  readonly member?: string;
  /** What failures cost; null: the yield is what counts. The scenario's costs when left out. */
  readonly prices?: CentreRequest["prices"];
}

/** What `allocateScenario` may be told. */
export interface AllocateOptions extends DecisionOptions {
  /** Step of the ± values on the drawing, mm, or "grades" for those of ISO 286-1; 0.001 when left out. */
  readonly step?: number | "grades";
  /** Step of nominal dimensions, mm; 0.001 when left out. */
  readonly resolutionMm?: number;
  /** True: the nominal spacing stays as drawn. */
  readonly keepsNominal?: boolean;
  /** Member whose nominal may move; the shortest when left out. */
  readonly member?: string;
}

/** What `compareScenarioMethods` may be told. */
export interface MethodsOptions extends DecisionOptions {
  /** Numbers of groups that bearings are sorted into; 2, 3 and 5 when left out. */
  readonly groups?: readonly number[];
  /** What a method costs more a unit, by its name in the result. */
  readonly prices?: Readonly<Record<string, number>>;
}

/**
 * Judges changes to a scenario on the same drawn units.
 *
 * @param source from `openScenario`
 * @param variants each with a name and its changes, or a text such as `clearance C4: bearings.both.clearanceGroup=C4`
 * @throws InputError for a change that makes no scenario, with the variant's name
 */
export function compareScenario(
  source: VariableScenario,
  variants: readonly (Variant | string)[],
  options: DecisionOptions = {},
): CompareResult {
  const read = variants.map((variant) => (typeof variant === "string" ? parseVariant(variant) : variant));
  const finding = finish(
    compareVariants(source, { variants: read, size: options.size ?? USUAL_SIZE, maker: maker(options) }),
  );
  return { ...finding, verdict: compareVerdict(finding) };
}

/**
 * Finds the nominal spacing that gives the most good units, or the cheapest failures, and puts it on the drawing's grid.
 *
 * @throws InputError where the offset is not set by machined spacings
 */
export function centreScenario(scenario: ResolvedScenario, options: CentreOptions = {}): CentreResult {
  const finding = centreNominal(scenario, {
    resolutionMm: options.resolutionMm ?? 0.005,
    member: options.member ?? null,
    prices: options.prices === undefined ? failurePrices(scenario.batchPlans.costs) : options.prices,
    size: options.size ?? USUAL_SIZE,
    maker: maker(options),
  });
  return { ...finding, verdict: centreVerdict(finding) };
}

/**
 * Finds the cheapest tolerances of the spacings that reach a yield, or says what else would help.
 *
 * @param source from `openScenario`
 * @param targetRatio share of units to be good in every state, above 0 and below 1
 * @throws InputError where the offset is not set by machined spacings
 */
export function allocateScenario(
  source: VariableScenario,
  targetRatio: number,
  options: AllocateOptions = {},
): AllocateResult {
  const { step = 0.001 } = options;
  const finding = allocate(source, {
    targetRatio,
    grid: step === "grades" ? { kind: "grades" } : { kind: "step", stepMm: step },
    resolutionMm: options.resolutionMm ?? 0.001,
    movesNominal: !(options.keepsNominal ?? false),
    member: options.member ?? null,
    size: options.size ?? USUAL_SIZE,
    maker: maker(options),
  });
  return { ...finding, verdict: allocateVerdict(finding) };
}

/**
 * Compares ways of setting the preload on the same drawn units: as machined, sorted bearings, shims, adjuster, spring.
 *
 * @param source from `openScenario`
 */
export function compareScenarioMethods(source: VariableScenario, options: MethodsOptions = {}): MethodsResult {
  const finding = compareMethods(source, {
    groups: options.groups ?? [2, 3, 5],
    prices: options.prices ?? {},
    size: options.size ?? METHODS_SIZE,
    maker: maker(options),
  });
  return { ...finding, verdict: methodsVerdict(finding) };
}

/** What the next batch may bring: failing units, warranty, cost, sampling and a check at the bench, by whole drawn batches. */
export function studyScenarioBatch(
  scenario: ResolvedScenario,
  options: Pick<DecisionOptions, "madeBy"> = {},
): BatchStudyResult {
  const finding = studyBatch(scenario, maker(options));
  return { ...finding, verdict: batchVerdict(finding) };
}

function maker({ madeBy }: DecisionOptions) {
  return { version: LIBRARY_VERSION, platform: madeBy ?? "library" };
}
