import type { Executor } from "../engine/tasks.ts";
import { renderReport } from "../report/render.ts";
import { summaryText } from "../report/summary-text.ts";
import { verdict } from "../report/verdict.ts";
import type { Target } from "../studies/conditional.ts";
import type { RunResult } from "../studies/result.ts";
import { provenanceOf, runYield, type YieldSetup } from "../studies/yield.ts";
import { openSampleFile, sampleMetadata, writeTable } from "../tables/samples.ts";
import { writeSummary } from "../tables/summary.ts";
import { ResultFolder } from "./files.ts";
import { onInterrupt } from "./interrupt.ts";
import { createProgress } from "./progress.ts";
import { printNotes, terminal } from "./terminal.ts";
import { MAKER } from "./texts.ts";

export interface RunOutput {
  /** Folder of all results. */
  readonly out: string;
  readonly keepRows: number;
  readonly target: Target | null;
  readonly isOver: () => boolean;
  readonly rare: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/**
 * Does a yield study and writes its folder, whole or not at all.
 *
 * @param open starts what executes the study, once it is known that its results can be written
 * @returns exit code: 1 where a yield that is required is not reached
 */
export async function writeRun(setup: YieldSetup, open: () => Executor, output: RunOutput): Promise<number> {
  const { scenario } = setup;
  const progress = createProgress(output.quiet ?? false);
  const folder = new ResultFolder(output.out, scenario.name);
  let executor: Executor | null = null;
  const release = onInterrupt(() => {
    folder.discard();
    progress.clear();
  });
  try {
    executor = open();
    const file = folder.open("samples.arrow");
    const sampleFile = openSampleFile(
      setup.columns.map(({ name, unit, description, storage }) => ({ name, unit, description, type: storage })),
      sampleMetadata(provenanceOf(scenario, MAKER)),
      (bytes) => file.write(bytes),
    );
    const { finding, samples, extended } = await runYield(setup, executor, {
      maker: MAKER,
      target: output.target,
      isOver: output.isOver,
      rare: output.rare,
      keepRows: output.keepRows,
      onRows: (rows) => sampleFile.append(rows),
      onProgress: (done, total) => progress.update(done, total),
    });
    sampleFile.close();
    file.close();
    progress.clear();
    const result: RunResult = { ...finding, verdict: verdict(finding) };
    const json = `${JSON.stringify(result, null, 2)}\n`;
    folder.write("result.json", json);
    const summary = folder.open("summary.arrow");
    writeSummary(result, (bytes) => summary.write(bytes));
    summary.close();
    if (extended !== null) {
      const extendedFile = folder.open("extended.arrow");
      writeTable(extended, sampleMetadata(provenanceOf(scenario, MAKER)), (bytes) => extendedFile.write(bytes));
      extendedFile.close();
    }
    folder.write("report.html", renderReport(result, samples));
    folder.commit();
    if (output.json) process.stdout.write(json);
    else process.stdout.write(`${summaryText(result, terminal())}\nReport: ${folder.shownPath("report.html")}\n`);
    if (!output.quiet) printNotes(result.warnings);
    const required = result.requiredYieldRatio;
    return required !== null && result.overall.goodInEveryState.shareRatio < required ? 1 : 0;
  } finally {
    await executor?.close();
    release();
    folder.discard();
  }
}
