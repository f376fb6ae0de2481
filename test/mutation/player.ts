/** A thread that plays bundled tests with one mutant switched on, and stops at the first test that fails. */
import { createRequire } from "node:module";
import { Script } from "node:vm";
import { parentPort, workerData } from "node:worker_threads";
import {
  ASYMMETRIC_MATCHERS_OBJECT,
  chai,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
  setState,
} from "@vitest/expect";
import {
  afterAll,
  afterEach,
  beforeAll,
  beforeEach,
  describe,
  it,
  startTests,
  type Task,
  test,
  type VitestRunner,
  type VitestRunnerConfig,
} from "@vitest/runner";
import type { Bundle } from "./bundle.ts";
import { SWITCHBOARD, type Switchboard } from "./instrument.ts";

export interface PlayerData {
  readonly root: string;
  readonly bundles: readonly Bundle[];
  readonly mutantCount: number;
}

/** Play one bundle with one mutant on (−1: none). */
export interface Order {
  readonly bundle: number;
  readonly mutant: number;
}

export interface Played {
  /** The first test that failed, or what could not be played; null where all passed. */
  readonly failure: string | null;
  readonly tests: number;
  readonly elapsedMs: number;
  readonly reached: Uint8Array;
}

const { root, bundles, mutantCount } = workerData as PlayerData;
const globals = globalThis as unknown as Record<string, unknown>;

function expectOfTests(): unknown {
  chai.use(JestExtend);
  chai.use(JestChaiExpect);
  chai.use(JestAsymmetricMatchers);
  const expect = (value: unknown, message?: string) => chai.expect(value, message);
  Object.assign(expect, chai.expect, globals[ASYMMETRIC_MATCHERS_OBJECT as unknown as string]);
  setState({ assertionCalls: 0 }, expect as never);
  return expect;
}
globals.seatspreadTestLibrary = {
  ...{ test, it, describe, beforeAll, beforeEach, afterAll, afterEach },
  expect: expectOfTests(),
};

const config: VitestRunnerConfig = {
  ...{ root, setupFiles: [], name: "mutation", passWithNoTests: false, testNamePattern: undefined, allowOnly: false },
  sequence: { seed: 0, hooks: "stack", setupFiles: "list" },
  ...{ chaiConfig: undefined, maxConcurrency: 1, testTimeout: 600_000, hookTimeout: 600_000, retry: 0 },
  ...{ includeTaskLocation: false, tags: [], tagsFilter: undefined, strictTags: false },
};
const scripts = bundles.map(
  ({ code, file }) => new Script(`(function (require, module, exports) {${code}\n})`, { filename: file }),
);

async function play({ bundle, mutant }: Order): Promise<Played> {
  const switchboard: Switchboard = { on: mutant, reached: new Uint8Array(mutantCount) };
  globals[SWITCHBOARD] = switchboard;
  let failure: string | null = null;
  let tests = 0;
  const skipAfterFailure = (task: Task) => {
    if (failure !== null) task.mode = "skip";
  };
  const note = (task: Task) => {
    if (task.result?.state === "fail") failure ??= `${task.name}: ${task.result.errors?.[0]?.message ?? "failed"}`;
  };
  const runner: VitestRunner = {
    config,
    importFile: () => {
      const module = { exports: {} };
      scripts[bundle].runInThisContext()(createRequire(`${root}/package.json`), module, module.exports);
    },
    onBeforeRunSuite: skipAfterFailure,
    onBeforeRunTask: skipAfterFailure,
    onAfterRunTask: (task) => {
      tests += 1;
      note(task);
    },
    onAfterRunSuite: note,
  };
  const started = performance.now();
  const files = await startTests([bundles[bundle].file], runner);
  for (const file of files) note(file);
  if (failure === null && tests === 0) failure = "no test was found";
  return { failure, tests, elapsedMs: performance.now() - started, reached: switchboard.reached };
}

parentPort!.on("message", async (order: Order) => parentPort!.postMessage(await play(order)));
