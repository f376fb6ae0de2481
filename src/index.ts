/**
 * seatspread as a library: the same engine in Node and in a browser, with the same bits.
 *
 * ```ts
 * import { parseScenario, runScenario } from "seatspread";
 *
 * const { result } = await runScenario(parseScenario(text, "roller.yaml"));
 * console.log(result.overall.goodInEveryState.shareRatio);
 * ```
 *
 * Lengths in mm, forces in N, temperatures in °C, angles in rad unless a name says otherwise. Bad input is an
 * {@link InputError}; a fault of the program an {@link InternalError}. Files belong to the caller.
 */

// biome-ignore-all assist/source/organizeImports: in the order in which a reader meets them; the reference follows it

// ## Scenario: text to checked values
export { parseScenario } from "./scenario/parse.ts";
export { applyOverrides, type Override, parseOverride } from "./scenario/overrides.ts";
export { openScenario, type VariableScenario } from "./scenario/source.ts";
export { parseVariant, type Variant } from "./scenario/variants.ts";
export { rewriteScenario } from "./scenario/rewrite.ts";
export { checkScenario, type ScenarioCheck } from "./scenario/check.ts";
export { scenarioJsonSchema } from "./scenario/json-schema.ts";
export type { MeasuredFileReader, MeasuredFileRequest, MeasuredFileValues } from "./scenario/measured-files.ts";
export type {
  Bearing,
  ChainMember,
  DutyState,
  InternalUnit,
  Origin,
  PreloadLimits,
  PreloadMethod,
  Requirement,
  ResolvedInput,
  ResolvedScenario,
  Variable,
} from "./scenario/types.ts";

// ## A run: what happens to the units, and why
export { type RunOptions, runScenario, type ScenarioRun } from "./library/run-scenario.ts";
export { type Finding, type Maker, runYield, type YieldOptions, type YieldSetup, yieldSetup } from "./studies/yield.ts";
export type { Target } from "./studies/conditional.ts";
export { createLocalExecutor } from "./engine/local.ts";
export type { Executor, WorkerSetup } from "./engine/tasks.ts";
export type { KernelChoice } from "./kernel/open.ts";
export type {
  BatchResult,
  Contributors,
  IntegrationResult,
  NominalResult,
  OverallResult,
  Provenance,
  QuantitySummary,
  RunResult,
  SampleColumn,
  SampleTable,
  Share,
  StateResult,
  WindowResult,
} from "./studies/result.ts";

// ## Decisions: what to change on the drawing
export {
  type AllocateOptions,
  allocateScenario,
  type CentreOptions,
  centreScenario,
  compareScenario,
  compareScenarioMethods,
  type DecisionOptions,
  type MethodsOptions,
  studyScenarioBatch,
} from "./library/decisions.ts";
export type { AssessSize, DifferenceEstimate, RatioEstimate } from "./studies/decide/assess.ts";
export type { AllocateResult, CentreResult, CompareResult, MethodsResult } from "./studies/decide/result.ts";
export type { BatchStudyResult } from "./studies/batch/result.ts";

// ## Single units and nominal values, without sampling
export { evaluateNominal } from "./studies/nominal.ts";
export { openUnit, type Unit, type UnitBearing, type UnitState } from "./studies/unit.ts";

// ## Report and words
export { renderReport } from "./report/render.ts";
export { verdict } from "./report/verdict.ts";
export { summaryText } from "./report/summary-text.ts";
export { acceptanceCurve } from "./report/acceptance.ts";

// ## Tables
export { columnSpecs, openSampleFile, type SampleFile, sampleMetadata } from "./tables/samples.ts";
export { writeSummary } from "./tables/summary.ts";
export { type SummaryRow, summaryRows } from "./tables/summary-rows.ts";

// ## Physics of one bearing and its seats
export {
  axialDisplacementMm,
  axialForceN,
  axialPlayMm,
  axialStiffnessNPerMm,
  ballLoadN,
  contactAngleRad,
  freeContactAngleRad,
  grooveCentreDistanceMm,
} from "./physics/axial-contact.ts";
export { type GroovedContact, groovedContact, peakPressureMPa, seriesStiffness } from "./physics/hertz.ts";
export { innerFit, outerFit, type RingFit, retentionForceN, smoothingMm } from "./physics/ring-fit.ts";
export { clearanceChangeMm, growthMm, interferenceMm, lengthAtMm } from "./physics/thermal-growth.ts";
export { basicDynamicRatingN, basicStaticRatingN } from "./physics/ratings.ts";
export { basicRatingLifeMrev, lifeHours, reliabilityFactor, systemLifeMrev } from "./physics/life.ts";

// ## Catalogue and standards
export { findBearing, listBearings } from "./catalogue/bearings.ts";
export { findMaterial, listMaterials } from "./catalogue/materials.ts";
export { CLEARANCE_GROUPS, clearanceLimitsMm } from "./catalogue/clearance-groups.ts";
export { type Iso286Limits, iso286Limits } from "./catalogue/iso286.ts";

// ## Outcomes, flags and problems
export { FLAGS, type Flag, OUTCOMES, type Outcome } from "./model/outcome.ts";
export { formatProblem, InputError, InternalError, type Problem, type ProblemCode } from "./errors.ts";
export type { Warning, WarningCode } from "./warnings.ts";
export { STREAM_VERSION } from "./random/streams.ts";
