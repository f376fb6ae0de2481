import { createLocalExecutor } from "../../src/engine/local.ts";
import type { ResolvedScenario } from "../../src/scenario/types.ts";
import type { SampleTable } from "../../src/studies/result.ts";
import { checkShards, shardFileName } from "../../src/studies/shards/check.ts";
import { mergingExecutor } from "../../src/studies/shards/merge.ts";
import { runShard } from "../../src/studies/shards/partial.ts";
import { type Finding, runYield, yieldSetup } from "../../src/studies/yield.ts";
import { readShard, writeShard } from "../../src/tables/shards.ts";
import { compiledKernel } from "./kernel.ts";

export const TEST_MAKER = { version: "test", platform: "test" };

export interface ShardBytes {
  readonly file: string;
  readonly bytes: Uint8Array;
}

/** The file of one shard, in memory. */
export async function shardBytes(
  scenario: ResolvedScenario,
  shard: number,
  shards: number,
  keepRows = 0,
  maker = TEST_MAKER,
): Promise<ShardBytes> {
  const setup = yieldSetup(scenario, compiledKernel());
  const executor = createLocalExecutor(setup);
  const partial = await runShard(setup, executor, { shard, shards, keepRows, maker, onProgress: () => {} });
  const chunks: Uint8Array[] = [];
  writeShard(partial, (bytes) => chunks.push(bytes.slice()));
  return { file: shardFileName(shard, shards), bytes: Buffer.concat(chunks) };
}

/** Reads, checks and joins the files of a study, without a look for what is rare: that is no task of any shard. */
export async function mergeBytes(files: readonly ShardBytes[]): Promise<{
  finding: Finding;
  samples: SampleTable;
  kept: readonly SampleTable[];
}> {
  const parts = checkShards(
    files.map(({ file, bytes }) => ({ file, partial: readShard(bytes, file) })),
    TEST_MAKER,
  );
  const setup = yieldSetup(parts[0].scenario, compiledKernel());
  const kept: SampleTable[] = [];
  const ran = await runYield(setup, mergingExecutor(parts, createLocalExecutor(setup)), {
    maker: TEST_MAKER,
    target: null,
    rare: false,
    isOver: () => false,
    keepRows: parts[0].keepRows,
    onRows: (rows) => kept.push(rows),
    onProgress: () => {},
  });
  return { ...ran, kept };
}
