import type { Executor } from "../../engine/tasks.ts";
import { InputError } from "../../errors.ts";
import { runShard } from "../../studies/shards/partial.ts";
import { type ShardPlace, shardTasks } from "../../studies/shards/plan.ts";
import { yieldSetup } from "../../studies/yield.ts";
import { writeShard } from "../../tables/shards.ts";
import { onInterrupt } from "../interrupt.ts";
import { createProgress } from "../progress.ts";
import { ShardFile } from "../shard-files.ts";
import { MAKER } from "../texts.ts";
import { createExecutor, loadKernel, loadScenario } from "./common.ts";

/** Rows that partial results and records hold at most. `merge` reads them whole. */
export const MOST_ROWS = 500_000;

interface Options {
  readonly samples?: number;
  readonly seed?: string;
  readonly workers: number;
  readonly kernel: "fast" | "plain";
  readonly keepSamples: number;
  readonly precision?: number;
  readonly time?: number;
  readonly resume?: boolean;
  readonly out: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `seatspread run --shard`: the tasks of one shard of a study, into a file for `seatspread merge`. */
export async function runShardOf(path: string, place: ShardPlace, options: Options): Promise<number> {
  const scenario = loadScenario(path, options);
  const keepRows = Math.min(options.keepSamples, scenario.samples);
  checkShardOptions(options, keepRows);
  const setup = yieldSetup(scenario, loadKernel(options.kernel));
  const file = new ShardFile(options.out, scenario.name, place);
  const progress = createProgress(options.quiet ?? false);
  const tasks = shardTasks(setup, keepRows, place).length;
  let executor: Executor | null = null;
  const release = onInterrupt(() => {
    file.discard();
    progress.clear();
  });
  try {
    executor = createExecutor(setup, Math.max(1, Math.min(options.workers, tasks)));
    const onProgress = (done: number, total: number) => progress.update(done, total);
    const partial = await runShard(setup, executor, { ...place, keepRows, maker: MAKER, onProgress });
    writeShard(partial, (bytes) => file.write(bytes));
    file.commit();
    progress.clear();
    const units = partial.collected.tally.samples;
    const document = { ...place, units, scenarioHash: scenario.hash, file: file.shownPath };
    const words = `Shard ${place.shard} of ${place.shards}: ${units} of ${scenario.samples} units. Partial result: ${file.shownPath}`;
    process.stdout.write(`${options.json ? JSON.stringify(document) : words}\n`);
    return 0;
  } finally {
    await executor?.close();
    release();
    file.discard();
  }
}

/** A shard knows nothing of the others, so it cannot tell when all are precise enough; it is a small part, to be done in one go. */
function checkShardOptions(options: Options, keepRows: number): void {
  for (const [name, value] of [
    ["--precision", options.precision],
    ["--time", options.time],
    ["--resume", options.resume],
  ] as const) {
    if (value === undefined) continue;
    throw new InputError({
      code: "conflict",
      path: name,
      expected: name === "--resume" ? "a run of its own" : "a number of samples for a study in shards",
      got: `${name} beside --shard`,
      hint: name === "--resume" ? "Say more shards instead, each of which takes less time" : "Say --samples",
    });
  }
  if (keepRows <= MOST_ROWS) return;
  throw new InputError({
    code: "too-large",
    path: "--keep-samples",
    expected: `at most ${MOST_ROWS} rows of a study in shards`,
    got: String(keepRows),
  });
}
