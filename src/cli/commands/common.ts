import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createLocalExecutor } from "../../engine/local.ts";
import { createPool } from "../../engine/pool.ts";
import type { Executor, WorkerSetup } from "../../engine/tasks.ts";
import { InternalError } from "../../errors.ts";
import type { KernelChoice } from "../../kernel/open.ts";
import type { Override } from "../../scenario/overrides.ts";
import { parseScenario } from "../../scenario/parse.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { readScenarioText } from "../files.ts";
import { measuredFileReader } from "../measured.ts";

/** Reads, checks and resolves a scenario file, with what the command line overrides. */
export function loadScenario(
  path: string,
  options: { samples?: number; seed?: string } = {},
  more: readonly Override[] = [],
): ResolvedScenario {
  const overrides = (["samples", "seed"] as const)
    .filter((key) => options[key] !== undefined)
    .map((key) => ({ path: key, value: options[key] }));
  return parseScenario(readScenarioText(path), path, [...overrides, ...more], measuredFileReader(path));
}

/** A file beside this bundle, or where the build leaves it when run from source. */
export function builtFile(name: string, what: string): URL {
  for (const place of [`./${name}`, `../../../.build/${name}`]) {
    const url = new URL(place, import.meta.url);
    if (existsSync(fileURLToPath(url))) return url;
  }
  throw new InternalError(`${what} is missing: build the project first (npm run build)`);
}

/** The kernel asked for. Both give the same bits; there is no falling back from one to the other unasked. */
export function loadKernel(name: "fast" | "plain"): KernelChoice {
  if (name === "plain") return "plain";
  return new WebAssembly.Module(readFileSync(builtFile("kernel.wasm", "the compiled kernel")));
}

/** One worker needs no thread of its own: starting it would cost more than it saves. */
export function createExecutor(setup: WorkerSetup, workers: number): Executor {
  return workers === 1
    ? createLocalExecutor(setup)
    : createPool(setup, workers, builtFile("worker.js", "the bundled worker"));
}
