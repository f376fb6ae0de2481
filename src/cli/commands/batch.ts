import { join } from "node:path";
import { type Command, InvalidArgumentError } from "commander";
import { batchPage } from "../../report/batch/page.ts";
import { batchText } from "../../report/batch/text.ts";
import { batchVerdict } from "../../report/batch/verdict.ts";
import type { BatchStudyResult } from "../../studies/batch/result.ts";
import { batchRows } from "../../tables/batch.ts";
import { sampleMetadata } from "../../tables/samples.ts";
import { judge } from "../judge.ts";
import { parseSamples } from "../options.ts";
import { writeStudy } from "../study-output.ts";
import { printNotes, terminal } from "../terminal.ts";
import { loadScenario } from "./common.ts";

interface BatchOptions {
  readonly size?: number;
  readonly samples?: number;
  readonly seed?: string;
  readonly out: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `seatspread batch`: what the next batch may bring, what it costs, and what sampling or checking it would do. */
export function batchCommand(program: Command): void {
  program
    .command("batch")
    .description("what the next batch may bring: failing units, cost, warranty, acceptance sampling, bench check")
    .argument("<scenario>", "scenario file (YAML or JSON)")
    .option("--size <units>", "units in a batch (default: the scenario's)", parseSize)
    .option("-n, --samples <count>", "units to draw in all, in whole batches (default: the scenario's)", parseSamples)
    .option("--seed <words>", "seed of the random streams (default: the scenario's)")
    .option("--out <folder>", "folder of all results", "out")
    .option("--json", "print result.json on stdout instead of the findings")
    .option("-q, --quiet", "no notes on stderr")
    .addHelpText(
      "after",
      `
Reads costs, sampling, benchCheck and batch of the scenario; what is left out is left out of the result.
Writes <out>/<scenario name>/batch/: report.html, result.json, summary.arrow, whole or not at all.
Exit code 1 where fewer than half of the batches reach the required yield.

Examples:
  seatspread batch scenarios/pump-motor-batch.yaml
  seatspread batch scenarios/belt-tensioner.yaml --size 250 --samples 1e6`,
    )
    .action(async (path: string, options: BatchOptions) => {
      const more = options.size === undefined ? [] : [{ path: "batch.size", value: options.size }];
      const scenario = loadScenario(path, options, more);
      const { files, json, reportPath } = await writeStudy(join(options.out, scenario.name), "batch", async () => {
        const finding = await judge("batch", path, scenario, {});
        const result: BatchStudyResult = { ...finding, verdict: batchVerdict(finding) };
        return {
          result,
          rows: batchRows(result),
          metadata: sampleMetadata(result.provenance),
          html: batchPage(result),
        };
      });
      const { result } = files;
      process.stdout.write(options.json ? json : `${batchText(result, terminal())}\nReport: ${reportPath}\n`);
      if (!options.quiet) printNotes(scenario.warnings);
      process.exitCode = result.reachesYield !== null && result.reachesYield.shareRatio < 0.5 ? 1 : 0;
    });
}

function parseSize(text: string): number {
  const value = Number(text.replace(/_/g, ""));
  if (!Number.isInteger(value) || value < 1) throw new InvalidArgumentError("Expected a whole number of units from 1.");
  return value;
}
