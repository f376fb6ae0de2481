import { createRunner } from "../../engine/runner.ts";
import { verdict } from "../../report/verdict.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import type { RunResult, SampleTable } from "../../studies/result.ts";
import { type Maker, runYield, yieldSetup } from "../../studies/yield.ts";
import { pairOf } from "../pair.ts";
import type { Picture } from "../protocol.ts";
import { createPageExecutor } from "./executor.ts";
import { pageKernel } from "./page-kernel.ts";
import { windowColumns } from "./window-columns.ts";

/** A whole run with everything that files are made from. */
export interface WholeRun {
  readonly scenario: ResolvedScenario;
  readonly result: RunResult;
  readonly samples: SampleTable;
  /** Stiffness, life and the like; null where they were not asked for. */
  readonly extended: SampleTable | null;
}

/** The run that the command line makes of the same text, seed and samples: the same numbers to the bit. */
export async function wholeRun(
  scenario: ResolvedScenario,
  maker: Maker,
  isOvertaken: () => boolean,
  startMs: number,
): Promise<{ run: WholeRun; picture: Picture }> {
  const setup = yieldSetup(scenario, pageKernel());
  const executor = createPageExecutor(createRunner(setup), isOvertaken);
  await executor.pause();
  const { finding, samples, extended } = await runYield(setup, executor, {
    target: null,
    isOver: () => false,
    maker,
    keepRows: 0,
    onRows: () => {},
    onProgress: () => {},
    pause: executor.pause,
  });
  const result: RunResult = { ...finding, verdict: verdict(finding) };
  const histograms = executor.collected()?.histograms ?? [];
  const picture: Picture = {
    isWhole: true,
    samples: result.provenance.samples,
    elapsedMs: performance.now() - startMs,
    title: result.title,
    arrangement: result.arrangement,
    limits: result.limits,
    requiredYieldRatio: result.requiredYieldRatio,
    states: result.states,
    overall: result.overall,
    nominal: result.nominal,
    pair: pairOf(scenario),
    preload: histograms.map((state) => state.preloadN),
    window: windowColumns(samples),
    hasExtended: extended !== null,
    contributors: result.contributors,
    verdict: result.verdict,
    warnings: result.warnings.map(({ path, message }) => (path === "" ? message : `${path}: ${message}`)),
  };
  return { run: { scenario, result, samples, extended }, picture };
}
