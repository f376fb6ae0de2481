import type { Command } from "commander";
import { InputError } from "../../errors.ts";
import { OUTCOMES } from "../../model/outcome.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import type { Target } from "../../studies/conditional.ts";
import type { ShardPlace } from "../../studies/shards/plan.ts";
import { yieldSetup } from "../../studies/yield.ts";
import { didYouMean } from "../../units/nearest.ts";
import {
  defaultWorkers,
  KERNEL_OPTION,
  parseKeep,
  parsePrecision,
  parseSamples,
  parseSeconds,
  parseShard,
  parseWorkers,
  RARE_OPTION,
  RECORD_OPTION,
} from "../options.ts";
import type { RecordOptions } from "../record.ts";
import { writeRun } from "../run-output.ts";
import { CAUTIONS } from "../texts.ts";
import { createExecutor, loadKernel, loadScenario } from "./common.ts";
import { MOST_ROWS, runShardOf } from "./shard.ts";

/** Rows kept of a run unless asked otherwise: five blocks, enough for every figure of the report. */
const KEEP_ROWS = 20_480;

interface RunOptions {
  readonly samples?: number;
  readonly seed?: string;
  readonly workers: number;
  readonly kernel: "fast" | "plain";
  readonly keepSamples: number;
  readonly precision?: number;
  readonly for: string;
  readonly time?: number;
  readonly rare: boolean;
  readonly resume?: boolean;
  readonly recordEvery: number;
  readonly shard?: ShardPlace;
  readonly out: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `seatspread run`: sample a scenario and write tables and report. */
export function runCommand(program: Command): void {
  program
    .command("run")
    .description("sample a scenario: yield at the bench and in service, tables and report")
    .argument("<scenario>", "scenario file (YAML or JSON)")
    .option("-n, --samples <count>", "units to sample, such as 200000 or 1e8 (default: the scenario's)", parseSamples)
    .option("--seed <words>", "seed of the random streams (default: the scenario's)")
    .option("--workers <count>", "worker threads; the result does not depend on it", parseWorkers, defaultWorkers())
    .addOption(KERNEL_OPTION)
    .option("--keep-samples <rows>", 'rows kept in samples.arrow, or "all"', parseKeep, KEEP_ROWS)
    .option(
      "--precision <half-width>",
      "go on until half the 95 % interval is this narrow, such as 0.1%",
      parsePrecision,
    )
    .option("--for <what>", 'what must be that precise: "yield", "bench", "service" or "<state>:<outcome>"', "yield")
    .option("--time <duration>", "go on for this long, such as 10s", parseSeconds)
    .addOption(RARE_OPTION)
    .option("--shard <place>", "do one of several shards of the study, such as 3/64, for `merge`", parseShard)
    .option("--resume", "go on with what an interrupted run of this study has done; from the start where there is none")
    .addOption(RECORD_OPTION)
    .option("--out <folder>", "folder of all results", "out")
    .option("--json", "print result.json on stdout instead of the summary")
    .option("-q, --quiet", "no progress and no notes on stderr")
    .addHelpText(
      "after",
      `
Writes <out>/<scenario name>/: report.html, result.json, summary.arrow, samples.arrow, whole or not at all.

A run that lasts longer than a few seconds records what is done in <out>/.<scenario name>.partial/ and removes that when it is
finished. After an interruption, a crash or a kill the same command with --resume goes on from there, with the same result
to the bit; workers and kernel may be others. The record of another scenario, seed, number of samples or version, and a
damaged one, are refused by name. Without --resume the run starts anew and says what it found.

Examples:
  seatspread run scenarios/laminating-roller.yaml
  seatspread run scenarios/router-spindle.yaml --samples 1e7 --seed "second try"
  seatspread run scenarios/laminating-roller.yaml --precision 0.02% --for hot:bind
  seatspread run scenarios/belt-tensioner.yaml --json | head -c 400
  seatspread run scenarios/router-spindle.yaml --samples 1e9 --resume
  seatspread run scenarios/laminating-roller.yaml --samples 1e9 --shard 3/64

${CAUTIONS}`,
    )
    .action(async (path: string, options: RunOptions) => {
      process.exitCode = await run(path, options);
    });
}

async function run(path: string, options: RunOptions): Promise<number> {
  if (options.shard !== undefined) return runShardOf(path, options.shard, options);
  const scenario = loadScenario(path, options);
  const setup = yieldSetup(scenario, loadKernel(options.kernel));
  const executor = () => createExecutor(setup, Math.min(options.workers, Math.ceil(scenario.samples / 16_384)));
  const keepRows = Math.min(options.keepSamples, scenario.samples);
  return writeRun(setup, executor, {
    ...options,
    target: targetOf(scenario, options),
    isOver: deadline(options.time),
    keepRows,
    record: recordOptions(options, keepRows),
  });
}

/** Rows that are kept would be written twice, so that a run with very many of them is not recorded. */
function recordOptions({ resume = false, recordEvery }: RunOptions, keepRows: number): RecordOptions | null {
  if (keepRows <= MOST_ROWS) return { resume, everyMs: 1000 * recordEvery };
  if (!resume) return null;
  throw new InputError({
    code: "too-large",
    path: "--keep-samples",
    expected: `at most ${MOST_ROWS} rows of a run that is to be resumed`,
    got: String(keepRows),
  });
}

/** What has to become how precise; a time alone asks for more than can be had, so that the time ends it. */
function targetOf(scenario: ResolvedScenario, options: RunOptions): Target | null {
  if (options.precision === undefined && options.time === undefined) return null;
  return { halfWidthRatio: options.precision ?? 0, of: parseTargetName(scenario, options.for) };
}

function parseTargetName(scenario: ResolvedScenario, name: string): Target["of"] {
  if (name === "yield") return null;
  if (name === "bench" || name === "service") return name;
  const [state, outcome] = name.split(":");
  const place = scenario.states.findIndex((candidate) => candidate.name === state);
  const known = OUTCOMES.find((candidate) => candidate === outcome);
  if (place >= 0 && known !== undefined) return { state: place, outcome: known };
  const choices = scenario.states.flatMap((candidate) => OUTCOMES.map((each) => `${candidate.name}:${each}`));
  throw new InputError({
    code: "usage",
    path: "--for",
    expected: "yield, bench, service or <state>:<outcome>",
    got: name,
    hint: didYouMean(name, ["yield", "bench", "service", ...choices]),
  });
}

/** Whether a time that starts now is over; never without one. */
function deadline(seconds: number | undefined): () => boolean {
  if (seconds === undefined) return () => false;
  const endMs = performance.now() + 1000 * seconds;
  return () => performance.now() >= endMs;
}
