import type { Executor } from "../engine/tasks.ts";
import { renderReport } from "../report/render.ts";
import { summaryText } from "../report/summary-text.ts";
import { verdict } from "../report/verdict.ts";
import type { Target } from "../studies/conditional.ts";
import type { RunResult } from "../studies/result.ts";
import { recordingExecutor } from "../studies/resume/recording.ts";
import { studyOfRun } from "../studies/resume/study-of-run.ts";
import { provenanceOf, runYield, type YieldSetup } from "../studies/yield.ts";
import { openSampleFile, sampleMetadata, writeTable } from "../tables/samples.ts";
import { writeSummary } from "../tables/summary.ts";
import { ResultFolder } from "./files.ts";
import { onInterrupt } from "./interrupt.ts";
import { createProgress } from "./progress.ts";
import { type FoundRecord, openRecord, type RecordOptions, type RunRecord } from "./record.ts";
import { printNote, printNotes, terminal } from "./terminal.ts";
import { MAKER } from "./texts.ts";

export interface RunOutput {
  /** Folder of all results. */
  readonly out: string;
  readonly keepRows: number;
  readonly target: Target | null;
  readonly isOver: () => boolean;
  readonly rare: boolean;
  /** Where the run is to be recorded and gone on with; null for one that is not. */
  readonly record: RecordOptions | null;
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
  const folder = new ResultFolder(output.out, scenario.name);
  let executor: Executor | null = null;
  let found: FoundRecord = { record: null, recorded: null, units: 0, note: null };
  let progress = createProgress(output.quiet ?? false);
  const release = onInterrupt(
    () => {
      folder.discard();
      progress.clear();
      found.record?.close();
    },
    () => (found.record?.isKept ? `no result was written; ${goOn(found.record)}` : "nothing was written"),
  );
  try {
    const study = studyOfRun(setup, { maker: MAKER, ...output });
    if (output.record !== null) found = openRecord(output.out, study, output.record);
    // Told even where notes are not wanted: an hour's work may hang on it.
    if (found.note !== null) printNote(found.note);
    progress = createProgress(output.quiet ?? false, "samples", found.units);
    executor = open();
    if (found.record !== null) executor = recordingExecutor(executor, found.recorded, found.record);
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
    found.record?.remove();
    if (output.json) process.stdout.write(json);
    else process.stdout.write(`${summaryText(result, terminal())}\nReport: ${folder.shownPath("report.html")}\n`);
    if (!output.quiet) {
      printNotes(result.warnings);
      const trouble = found.record?.trouble ?? null;
      if (trouble !== null) printNote(`what was done could not be recorded to the end (${trouble})`);
    }
    const required = result.requiredYieldRatio;
    return required !== null && result.overall.goodInEveryState.shareRatio < required ? 1 : 0;
  } catch (error) {
    progress.clear();
    if (found.record?.isKept) printNote(goOn(found.record));
    throw error;
  } finally {
    await executor?.close();
    release();
    folder.discard();
    found.record?.close();
  }
}

function goOn({ shown }: RunRecord): string {
  return `what is done is kept in ${shown}: the same command with --resume goes on from there`;
}
