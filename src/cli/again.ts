import { InputError } from "../errors.ts";
import { auditVerdict } from "../report/audit/verdict.ts";
import { batchVerdict } from "../report/batch/verdict.ts";
import { allocateVerdict } from "../report/decide/allocate.ts";
import { centreVerdict } from "../report/decide/centre.ts";
import { compareVerdict } from "../report/decide/compare.ts";
import { contributorsVerdict } from "../report/decide/contributors.ts";
import { methodsVerdict } from "../report/decide/methods.ts";
import { rangesVerdict } from "../report/decide/ranges.ts";
import { shimsVerdict } from "../report/decide/shims.ts";
import { sweepVerdict } from "../report/decide/sweep.ts";
import { verdict } from "../report/verdict.ts";
import { applyOverrides } from "../scenario/overrides.ts";
import { openContent, type VariableScenario } from "../scenario/source.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { endOfRun, type ResultRecord } from "../studies/reproduce/record.ts";
import { runYield, yieldSetup } from "../studies/yield.ts";
import { createExecutor, loadKernel } from "./commands/common.ts";
import { type FitAsked, fitTable } from "./fit-table.ts";
import { judge } from "./judge.ts";
import type { ProgressLine } from "./progress.ts";
import type { FindingOf, JudgedStudy, RequestOf } from "./studies.ts";
import { MAKER } from "./texts.ts";

/** How a run is executed; no result depends on it. */
export interface Execution {
  readonly workers: number;
  readonly kernel: "fast" | "plain";
}

/**
 * Does the study of an earlier result again, from what stands in it.
 *
 * @param path of the result, as the user named it
 * @throws InputError where its scenario, or the table that it was fitted to, can no longer be read
 */
export async function again(
  record: ResultRecord,
  path: string,
  execution: Execution,
  progress: ProgressLine,
): Promise<object> {
  if (record.study === "fit") return fitAgain(record.asked as FitAsked, path);
  const source = sourceOf(record, path);
  const result =
    record.study === "run"
      ? await runAgain(record, source.base, execution, progress)
      : await judgeAgain(record.study, record.asked, source, progress);
  // The name of the scenario was set here; what it holds beside is told by its hash.
  return { ...result, scenario: record.scenario };
}

/** How each study puts what it found into words. */
const VERDICTS: { readonly [Study in JudgedStudy]: (finding: FindingOf<Study>) => readonly string[] } = {
  audit: auditVerdict,
  batch: batchVerdict,
  compare: compareVerdict,
  sweep: sweepVerdict,
  ranges: rangesVerdict,
  centre: centreVerdict,
  allocate: allocateVerdict,
  contributors: contributorsVerdict,
  methods: methodsVerdict,
  shims: shimsVerdict,
};

async function judgeAgain<Study extends JudgedStudy>(
  study: Study,
  asked: unknown,
  { fileName, base }: VariableScenario,
  progress: ProgressLine,
): Promise<object> {
  // The shape of what was asked for was checked when the record was read.
  const request = (asked ?? {}) as RequestOf<Study>;
  const finding = await judge(study, fileName, base, request, progress);
  return { ...finding, verdict: VERDICTS[study](finding) };
}

async function runAgain(
  record: ResultRecord,
  scenario: ResolvedScenario,
  { workers, kernel }: Execution,
  progress: ProgressLine,
): Promise<object> {
  const setup = yieldSetup(scenario, loadKernel(kernel));
  const isEnd = endOfRun(record);
  let reached = 0;
  const executor = createExecutor(setup, Math.min(workers, Math.ceil(scenario.samples / 16_384)));
  try {
    const { finding } = await runYield(setup, executor, {
      maker: MAKER,
      target: record.target,
      rare: (record.asked as { rare: boolean }).rare,
      isOver: () => isEnd(reached),
      keepRows: 0,
      onRows: () => {},
      onProgress: (done, total) => {
        reached = done;
        progress.update(done, total);
      },
    });
    return { ...finding, verdict: verdict(finding) };
  } finally {
    await executor.close();
  }
}

function fitAgain(asked: FitAsked, path: string): object {
  try {
    return fitTable(asked).result;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const hint = `${path} was fitted to that table and holds only its hash: put it back, or call from the folder in which fit was called`;
    throw new InputError(error.problems.map((problem) => ({ hint, ...problem })));
  }
}

/** The scenario that stands in a result. Its name came from its file, so it is set. */
function sourceOf({ scenario, provenance }: ResultRecord, path: string): VariableScenario {
  try {
    return openContent(applyOverrides(scenario, [{ path: "name", value: provenance.scenario }]), path);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(error.problems.map((problem) => ({ ...problem, path: `scenario.${problem.path}` })));
  }
}
