import { join } from "node:path";
import type { Command } from "commander";
import { type DecisionView, decisionPage, decisionText } from "../report/decide/view.ts";
import { openScenario, type VariableScenario } from "../scenario/source.ts";
import { type AssessSize, USUAL_SIZE } from "../studies/decide/assess.ts";
import type { DecisionResult } from "../studies/decide/result.ts";
import { sampleMetadata } from "../tables/samples.ts";
import type { SummaryRow } from "../tables/summary-rows.ts";
import { readScenarioText } from "./files.ts";
import { measuredFileReader } from "./measured.ts";
import { parseSamples } from "./options.ts";
import type { ProgressLine } from "./progress.ts";
import { writeStudy } from "./study-output.ts";
import { printNotes, terminal } from "./terminal.ts";

/** Options that every decision has. */
export interface DecisionOptions {
  readonly samples?: number;
  readonly seed?: string;
  readonly out: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Adds them to a command. */
export function withDecisionOptions(command: Command): Command {
  return command
    .option("-n, --samples <count>", "units that a judgement rests on", parseSamples)
    .option("--seed <words>", "seed of the random streams (default: the scenario's)")
    .option("--out <folder>", "folder of all results", "out")
    .option("--json", "print result.json on stdout instead of the recommendation")
    .option("-q, --quiet", "no notes on stderr");
}

/** How many units: windows take a power of two a replicate, never fewer than 64 nor more than 65 536. */
export function sizeOf(samples: number | undefined, usual = USUAL_SIZE): AssessSize {
  if (samples === undefined) return usual;
  let perReplicate = 64;
  while (perReplicate * 16 < samples && perReplicate < 65_536) perReplicate *= 2;
  return { points: perReplicate, samples };
}

/** Beyond so many variants or cells each rests on a quarter of the units. */
const FEW = 24;

/** The same for each of many scenarios that are judged one after the other. */
export function sizeOfMany(count: number, samples: number | undefined): AssessSize {
  return count > FEW ? sizeOf(samples, { points: 256, samples: 8192 }) : sizeOf(samples);
}

/** Reads a scenario that a study will change. */
export function openStudyScenario(path: string, { seed }: Pick<DecisionOptions, "seed">): VariableScenario {
  const overrides = seed === undefined ? [] : [{ path: "seed", value: seed }];
  return openScenario(readScenarioText(path), path, overrides, measuredFileReader(path));
}

/** What a decision leaves: its result, and how it is shown. */
export interface Decided<Result> {
  readonly result: Result;
  readonly view: DecisionView;
  readonly rows: readonly SummaryRow[];
}

/**
 * Makes a decision, writes its folder and prints it.
 *
 * @param progress taken off the terminal when all is done
 * @returns the exit code: 1 where a yield is required and `isReached` says no
 */
export async function decide<Result extends DecisionResult>(
  study: Result["study"],
  scenarioName: string,
  options: DecisionOptions,
  make: () => Decided<Result> | Promise<Decided<Result>>,
  isReached: (result: Result) => boolean = () => true,
  progress?: ProgressLine,
): Promise<number> {
  const root = join(options.out, scenarioName);
  const write = async () => {
    const { result, view, rows } = await make();
    return { result, view, rows, metadata: sampleMetadata(result.provenance), html: decisionPage(result, view) };
  };
  const { files, json, reportPath } = await writeStudy(root, study, write, progress);
  const { result, view } = files;
  process.stdout.write(options.json ? json : `${decisionText(result, view, terminal())}\nReport: ${reportPath}\n`);
  if (!options.quiet) printNotes(result.warnings);
  return isReached(result) ? 0 : 1;
}
