import { writeRows } from "../tables/summary.ts";
import type { SummaryRow } from "../tables/summary-rows.ts";
import { ResultFolder } from "./files.ts";
import { onInterrupt } from "./interrupt.ts";
import { type ProgressLine, SILENT } from "./progress.ts";

/** What a study leaves: the same files as a run, in a folder of its own. */
export interface StudyFiles {
  readonly result: object;
  readonly rows: readonly SummaryRow[];
  readonly metadata: Readonly<Record<string, string>>;
  readonly html: string;
  /** Further files, by name. */
  readonly more?: Readonly<Record<string, (write: (bytes: Uint8Array) => void) => void>>;
}

/**
 * Makes and writes `result.json`, `summary.arrow` and `report.html` of a study, whole or not at all.
 *
 * @param make does the study; an interruption or error in it leaves nothing behind
 * @param progress of the study, taken off the terminal however it ends
 * @returns what was made, the text of result.json, and where the report is, as the user named the folder
 */
export async function writeStudy<Files extends StudyFiles>(
  root: string,
  name: string,
  make: () => Promise<Files> | Files,
  progress: ProgressLine = SILENT,
): Promise<{ files: Files; json: string; reportPath: string }> {
  const folder = new ResultFolder(root, name);
  const release = onInterrupt(() => {
    folder.discard();
    progress.clear();
  });
  try {
    const files = await make();
    progress.clear();
    const json = `${JSON.stringify(files.result, null, 2)}\n`;
    folder.write("result.json", json);
    const summary = folder.open("summary.arrow");
    writeRows(files.rows, files.metadata, (bytes) => summary.write(bytes));
    summary.close();
    for (const [file, write] of Object.entries(files.more ?? {})) {
      const sink = folder.open(file);
      write((bytes) => sink.write(bytes));
      sink.close();
    }
    folder.write("report.html", files.html);
    folder.commit();
    return { files, json, reportPath: folder.shownPath("report.html") };
  } catch (error) {
    progress.clear();
    throw error;
  } finally {
    release();
    folder.discard();
  }
}
