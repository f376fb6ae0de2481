import type { Command } from "commander";
import { reproductionText } from "../../report/reproduction-text.ts";
import type { StudyName } from "../../studies/reproduce/asked.ts";
import { compareResults } from "../../studies/reproduce/differences.ts";
import { readRecord } from "../../studies/reproduce/record.ts";
import { again, type Execution } from "../again.ts";
import { readResultText } from "../files.ts";
import { onInterrupt } from "../interrupt.ts";
import { defaultWorkers, KERNEL_OPTION, parseWorkers } from "../options.ts";
import { createProgress } from "../progress.ts";

interface ReproduceOptions extends Execution {
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** What the progress of a study counts, where it is not samples. */
const COUNTED: { readonly [Study in StudyName]?: "variants" | "cells" } = {
  compare: "variants",
  sweep: "cells",
  ranges: "cells",
};

/** `seatspread reproduce`: a study again from its result, compared number by number. */
export function reproduceCommand(program: Command): void {
  program
    .command("reproduce")
    .description("make a result again from its result.json and compare every number, to the last bit")
    .argument("<result>", "result.json of any command; scenario and what was asked for stand in it")
    .option(
      "--workers <count>",
      "worker threads of a run; the result does not depend on it",
      parseWorkers,
      defaultWorkers(),
    )
    .addOption(KERNEL_OPTION)
    .option("--json", "print what was compared and what differs as JSON")
    .option("-q, --quiet", "no progress on stderr")
    .addHelpText(
      "after",
      `
Takes the results of run and merge, compare, sweep, ranges, centre, allocate, contributors, methods, shims, batch, audit and fit; for
fit the table must still be where it was. Nothing is written. What differs is named: versions and hashes, then the numbers
with their place, as they stand in the file and as they are now. Another platform, program or catalogue version alone makes
no difference while the numbers are the same.

Examples:
  seatspread reproduce out/laminating-roller/result.json
  seatspread reproduce out/laminating-roller/sweep/result.json

Exit codes:
  0    the same
  1    something differs
  2    cannot be made again: no result, one of another form or with a scenario of another format, or a table that is gone
  3    a fault of the program
  130  interrupted`,
    )
    .action(async (path: string, options: ReproduceOptions) => {
      const record = readRecord(readResultText(path), path);
      const progress = createProgress(options.quiet ?? false, COUNTED[record.study] ?? "samples");
      const release = onInterrupt(() => progress.clear());
      try {
        const found = compareResults(record.content, await again(record, path, options, progress));
        progress.clear();
        const text = options.json ? JSON.stringify(found, null, 2) : reproductionText(found, path);
        process.stdout.write(`${text}\n`);
        process.exitCode = found.isSame ? 0 : 1;
      } finally {
        progress.clear();
        release();
      }
    });
}
