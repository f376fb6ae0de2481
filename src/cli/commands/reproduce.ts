import type { Command } from "commander";
import { InputError } from "../../errors.ts";
import { reproductionText } from "../../report/reproduction-text.ts";
import { verdict } from "../../report/verdict.ts";
import { applyOverrides } from "../../scenario/overrides.ts";
import { resolveContent } from "../../scenario/parse.ts";
import { compareResults, endOfRun, type Reproduction, type RunRecord, readRunRecord } from "../../studies/reproduce.ts";
import type { RunResult } from "../../studies/result.ts";
import { runYield, yieldSetup } from "../../studies/yield.ts";
import { readResultText } from "../files.ts";
import { onInterrupt } from "../interrupt.ts";
import { defaultWorkers, KERNEL_OPTION, parseWorkers } from "../options.ts";
import { createProgress } from "../progress.ts";
import { MAKER } from "../texts.ts";
import { createExecutor, loadKernel } from "./common.ts";

interface ReproduceOptions {
  readonly workers: number;
  readonly kernel: "fast" | "plain";
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `seatspread reproduce`: a run again from its result, compared number by number. */
export function reproduceCommand(program: Command): void {
  program
    .command("reproduce")
    .description("do a run again from its result.json and compare every number, to the last bit")
    .argument("<result>", "result.json of a run; the scenario stands in it")
    .option("--workers <count>", "worker threads; the result does not depend on it", parseWorkers, defaultWorkers())
    .addOption(KERNEL_OPTION)
    .option("--json", "print what was compared and what differs as JSON")
    .option("-q, --quiet", "no progress on stderr")
    .addHelpText(
      "after",
      `
Nothing is written. What differs is named: versions, scenario hash, then the numbers.

Example:
  seatspread reproduce out/laminating-roller/result.json

Exit codes:
  0    the same
  1    something differs
  2    cannot be done again: no result of a run, or a scenario of another format
  3    a fault of the program
  130  interrupted`,
    )
    .action(async (path: string, options: ReproduceOptions) => {
      const { record, content } = readRunRecord(readResultText(path), path);
      const result = await runAgain(record, path, options);
      const found: Reproduction = compareResults(content, result);
      process.stdout.write(options.json ? `${JSON.stringify(found, null, 2)}\n` : `${reproductionText(found, path)}\n`);
      process.exitCode = found.isSame ? 0 : 1;
    });
}

async function runAgain(record: RunRecord, path: string, options: ReproduceOptions): Promise<RunResult> {
  const scenario = scenarioOf(record, path);
  const setup = yieldSetup(scenario, loadKernel(options.kernel));
  const progress = createProgress(options.quiet ?? false);
  const isEnd = endOfRun(record);
  let reached = 0;
  const executor = createExecutor(setup, Math.min(options.workers, Math.ceil(scenario.samples / 16_384)));
  const release = onInterrupt(() => progress.clear());
  try {
    const { finding } = await runYield(setup, executor, {
      maker: MAKER,
      target: record.target,
      isOver: () => isEnd(reached),
      keepRows: 0,
      onRows: () => {},
      onProgress: (done, total) => {
        reached = done;
        progress.update(done, total);
      },
    });
    progress.clear();
    // The name of the scenario was set here; what it holds beside is told by its hash.
    return { ...finding, scenario: record.scenario, verdict: verdict(finding) };
  } finally {
    await executor.close();
    release();
  }
}

/** The scenario that stands in a result. Its name came from its file, so it is set. */
function scenarioOf({ scenario, provenance }: RunRecord, path: string) {
  try {
    return resolveContent(applyOverrides(scenario, [{ path: "name", value: provenance.scenario }]), path);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(error.problems.map((problem) => ({ ...problem, path: `scenario.${problem.path}` })));
  }
}
