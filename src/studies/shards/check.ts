import { InputError, type Problem } from "../../errors.ts";
import { scenarioHash } from "../../scenario/hash.ts";
import type { Provenance } from "../result.ts";
import { type Maker, provenanceOf, yieldSetup } from "../yield.ts";
import type { ShardPartial } from "./partial.ts";
import { shardTasks, taskKey } from "./plan.ts";

/** A partial result and the file it came from. */
export interface NamedPartial {
  readonly file: string;
  readonly partial: ShardPartial;
}

/** What has to be the same in every part of a study, and in the program that joins them. */
const SAME: readonly { readonly key: keyof Provenance; readonly words: string }[] = [
  { key: "version", words: "program version" },
  { key: "streamVersion", words: "stream version" },
  { key: "catalogueVersion", words: "catalogue version" },
  { key: "schemaVersion", words: "schema version" },
  { key: "scenarioHash", words: "scenario hash" },
  { key: "seed", words: "seed" },
  { key: "samples", words: "samples" },
  { key: "scenario", words: "scenario name" },
];

/** File name of a shard: `shard-03-of-64.arrow`. */
export function shardFileName(shard: number, shards: number): string {
  const width = Math.max(2, String(shards).length);
  const padded = (value: number) => String(value).padStart(width, "0");
  return `shard-${padded(shard)}-of-${padded(shards)}.arrow`;
}

/**
 * Makes sure that the parts are all of one study, each once.
 *
 * @param maker the program that joins them
 * @returns the parts in order
 * @throws InputError that names every shard that is missing, twice there, of another study or not whole
 */
export function checkShards(parts: readonly NamedPartial[], maker: Maker): ShardPartial[] {
  const first = parts[0];
  const { version, streamVersion, catalogueVersion, schemaVersion } = provenanceOf(first.partial.scenario, maker);
  const own = { version, streamVersion, catalogueVersion, schemaVersion };
  const problems: Problem[] = [];
  const refuse = (file: string, expected: string, got: string, hint?: string) =>
    problems.push({ code: "conflict", path: "", expected, got, hint, file });
  const seen = new Map<number, string>();
  for (const { file, partial } of parts) {
    const foreign = foreignness(partial, first, own);
    if (foreign !== null) {
      refuse(file, foreign.expected, foreign.got, "It belongs to another study, or was made by another version");
      continue;
    }
    const earlier = seen.get(partial.shard);
    const name = `shard ${partial.shard} of ${partial.shards}`;
    if (earlier !== undefined) refuse(file, "every shard once", `${name}, which ${earlier} holds as well`);
    else seen.set(partial.shard, file);
  }
  const { shards } = first.partial;
  const missing = Array.from({ length: shards }, (_, place) => place + 1).filter((shard) => !seen.has(shard));
  for (const shard of missing.slice(0, MOST_NAMED)) {
    refuse("", `shard ${shard} of ${shards} among the files`, "none", `Usually ${shardFileName(shard, shards)}`);
  }
  if (missing.length > MOST_NAMED) {
    refuse("", `all ${shards} shards`, `${missing.length} missing, the last of them ${missing.at(-1)}`);
  }
  if (problems.length > 0) throw new InputError(problems);
  checkWhole(parts);
  return parts.map(({ partial }) => partial).sort((a, b) => a.shard - b.shard);
}

/** Missing shards that are named one by one. */
const MOST_NAMED = 20;

function foreignness(
  partial: ShardPartial,
  first: NamedPartial,
  own: Partial<Provenance>,
): { expected: string; got: string } | null {
  for (const { key, words } of SAME) {
    const wanted = own[key] ?? first.partial.provenance[key];
    const of = own[key] === undefined ? `of ${first.file}` : "of this program";
    const found = partial.provenance[key];
    if (found !== wanted) return { expected: `the ${words} ${of}, ${wanted}`, got: String(found) };
  }
  const { shards, keepRows, scenario } = first.partial;
  if (partial.shards !== shards) {
    return { expected: `one of ${shards} shards, as ${first.file}`, got: `one of ${partial.shards}` };
  }
  if (partial.keepRows !== keepRows) {
    return { expected: `${keepRows} rows kept, as in ${first.file}`, got: String(partial.keepRows) };
  }
  if (partial.scenario.title !== scenario.title || partial.scenario.description !== scenario.description) {
    return { expected: `the title and description of ${first.file}`, got: partial.scenario.title };
  }
  return null;
}

/** Makes sure that each part holds all of its tasks and the scenario that its hash speaks of. */
function checkWhole(parts: readonly NamedPartial[]): void {
  const setup = yieldSetup(parts[0].partial.scenario);
  const problems: Problem[] = [];
  for (const { file, partial } of parts) {
    const { keepRows, shard, shards, collected, scenario, provenance } = partial;
    const keys = new Set(partial.keys);
    const tasks = shardTasks(setup, keepRows, { shard, shards });
    let units = 0;
    for (const task of tasks) {
      if (task.kind !== "chunk" || !keys.has(taskKey(task))) continue;
      const result = partial.result(taskKey(task));
      if (result.kind === "chunk") units += result.count;
    }
    const isComplete = keys.size === tasks.length && tasks.every((task) => keys.has(taskKey(task)));
    if (isComplete && units === collected.tally.samples && scenarioHash(scenario) === provenance.scenarioHash) continue;
    problems.push({
      code: "file",
      path: "",
      expected: `all ${tasks.length} parts of shard ${shard} of ${shards}`,
      got: isComplete ? "parts that do not add up" : "other parts",
      hint: "Run this shard again",
      file,
    });
  }
  if (problems.length > 0) throw new InputError(problems);
}
