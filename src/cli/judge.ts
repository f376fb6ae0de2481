import { aside } from "../engine/aside.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { builtFile } from "./commands/common.ts";
import { type ProgressLine, SILENT } from "./progress.ts";
import type { FindingOf, JudgedStudy, RequestOf } from "./studies.ts";
import { MAKER } from "./texts.ts";

/** What the thread of a study is told. */
export interface Question {
  readonly study: JudgedStudy;
  readonly fileName: string;
  /** Of the scenario, with what the command line sets and the values of measured files in it. */
  readonly content: unknown;
  readonly request: object;
}

/**
 * Does a study in a thread of its own: however long it takes, an interruption is heard at once.
 *
 * @param fileName of the scenario, as the user named it
 * @param request all of it but who makes the result
 * @throws InputError for what the study refuses
 */
export function judge<Study extends JudgedStudy>(
  study: Study,
  fileName: string,
  { content }: Pick<ResolvedScenario, "content">,
  request: Omit<RequestOf<Study>, "maker">,
  progress: ProgressLine = SILENT,
): Promise<FindingOf<Study>> {
  const question: Question = { study, fileName, content, request: { ...request, maker: MAKER } };
  const script = builtFile("study-worker.js", "the bundled worker of studies");
  return aside(script, question, (done, total) => progress.update(done, total));
}
