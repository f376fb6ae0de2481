import type { OnStep } from "../engine/aside.ts";
import type { VariableScenario } from "../scenario/source.ts";
import { auditUnit } from "../studies/audit/audit.ts";
import { studyBatch } from "../studies/batch/batch.ts";
import { type AllocateRequest, allocate } from "../studies/decide/allocate.ts";
import { type CentreRequest, centreNominal } from "../studies/decide/centre.ts";
import { type CompareRequest, compareVariants } from "../studies/decide/compare.ts";
import { type ContributorsRequest, studyContributors } from "../studies/decide/contributors.ts";
import { compareMethods, type MethodsRequest } from "../studies/decide/methods.ts";
import { type RangesRequest, sweepRanges } from "../studies/decide/ranges.ts";
import { planShims, type ShimsRequest } from "../studies/decide/shims.ts";
import { type SweepRequest, sweepScenario } from "../studies/decide/sweep.ts";
import type { StudyName } from "../studies/reproduce/asked.ts";
import { finish } from "../studies/steps.ts";
import type { Maker } from "../studies/yield.ts";

/** Where everything that is asked stands in the scenario. */
interface OwnRequest {
  readonly maker: Maker;
}

/** The studies of one scenario that are done in one piece: each with its request, giving what it found. */
export const STUDIES = {
  audit: ({ base }: VariableScenario, { maker }: OwnRequest) => auditUnit(base, maker).finding,
  batch: ({ base }: VariableScenario, { maker }: OwnRequest) => studyBatch(base, maker),
  compare: (source: VariableScenario, request: CompareRequest, onStep: OnStep) =>
    finish(compareVariants(source, request), onStep),
  sweep: (source: VariableScenario, request: SweepRequest, onStep: OnStep) =>
    finish(sweepScenario(source, request), onStep),
  ranges: (source: VariableScenario, request: RangesRequest, onStep: OnStep) =>
    finish(sweepRanges(source, request), onStep),
  centre: ({ base }: VariableScenario, request: CentreRequest) => centreNominal(base, request),
  allocate: (source: VariableScenario, request: AllocateRequest) => allocate(source, request),
  contributors: ({ base }: VariableScenario, request: ContributorsRequest) => studyContributors(base, request),
  methods: (source: VariableScenario, request: MethodsRequest) => compareMethods(source, request),
  shims: (source: VariableScenario, request: ShimsRequest) => planShims(source, request),
} satisfies Readonly<
  Record<Exclude<StudyName, "run" | "fit">, (source: VariableScenario, request: never, onStep: OnStep) => object>
>;

export type JudgedStudy = keyof typeof STUDIES;
export type RequestOf<Study extends JudgedStudy> = Parameters<(typeof STUDIES)[Study]>[1];
export type FindingOf<Study extends JudgedStudy> = ReturnType<(typeof STUDIES)[Study]>;
