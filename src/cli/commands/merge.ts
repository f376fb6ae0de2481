import type { Command } from "commander";
import { createLocalExecutor } from "../../engine/local.ts";
import { InputError, type Problem } from "../../errors.ts";
import { checkShards, type NamedPartial } from "../../studies/shards/check.ts";
import { mergingExecutor } from "../../studies/shards/merge.ts";
import { yieldSetup } from "../../studies/yield.ts";
import { readShard } from "../../tables/shards.ts";
import { RARE_OPTION } from "../options.ts";
import { writeRun } from "../run-output.ts";
import { readShardBytes } from "../shard-files.ts";
import { CAUTIONS, MAKER } from "../texts.ts";
import { loadKernel } from "./common.ts";

interface MergeOptions {
  readonly out: string;
  readonly rare: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `seatspread merge`: the partial results of all shards of a study to what a single run writes. */
export function mergeCommand(program: Command): void {
  program
    .command("merge")
    .description("join the partial results of `run --shard` to exactly what a single run writes")
    .argument("<files...>", "partial results, one for every shard, in any order")
    .option("--out <folder>", "folder of all results", "out")
    .addOption(RARE_OPTION)
    .option("--json", "print result.json on stdout instead of the summary")
    .option("-q, --quiet", "no progress and no notes on stderr")
    .addHelpText(
      "after",
      `
The partial results carry the scenario: nothing else is needed. A missing or doubled shard, one of another scenario, seed,
number of samples or version, and one that was cut short are refused by name.

Examples:
  seatspread run scenarios/laminating-roller.yaml --samples 1e8 --shard 1/2
  seatspread run scenarios/laminating-roller.yaml --samples 1e8 --shard 2/2
  seatspread merge out/laminating-roller/shards/shard-*-of-02.arrow

${CAUTIONS}`,
    )
    .action(async (files: string[], options: MergeOptions) => {
      process.exitCode = await merge(files, options);
    });
}

async function merge(files: readonly string[], options: MergeOptions): Promise<number> {
  const parts = checkShards(readAll(files), MAKER);
  const setup = yieldSetup(parts[0].scenario, loadKernel("fast"));
  return writeRun(setup, () => mergingExecutor(parts, createLocalExecutor(setup)), {
    ...options,
    target: null,
    isOver: () => false,
    keepRows: parts[0].keepRows,
    record: null,
  });
}

/** Reads every file before any is refused, so that all that is wrong is told at once. */
function readAll(files: readonly string[]): NamedPartial[] {
  const problems: Problem[] = [];
  const parts = files.flatMap((file) => {
    try {
      return [{ file, partial: readShard(readShardBytes(file), file) }];
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      problems.push(...error.problems);
      return [];
    }
  });
  if (problems.length > 0) throw new InputError(problems);
  return parts;
}
