import { createLocalExecutor } from "../engine/local.ts";
import type { Executor } from "../engine/tasks.ts";
import type { KernelChoice } from "../kernel/open.ts";
import { verdict } from "../report/verdict.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import type { Target } from "../studies/conditional.ts";
import type { RunResult, SampleTable } from "../studies/result.ts";
import { runYield, type YieldSetup, yieldSetup } from "../studies/yield.ts";

/** What a run may be told; everything has a default. */
export interface RunOptions {
  /** The compiled `kernel.wasm` of this package, or "plain" (when left out): the same bits, the former several times faster. */
  readonly kernel?: KernelChoice;
  /** Makes what executes the run; one thread when left out. In Node, `seatspread/node` has worker threads. */
  readonly executor?: (setup: YieldSetup) => Executor;
  /** How certain an estimate has to become; the scenario's samples when left out. */
  readonly target?: Target;
  /** Kept in the result for the record; changes no number. */
  readonly madeBy?: string;
  /** Called as units are done. */
  readonly onProgress?: (done: number, total: number) => void;
}

/** A run with its verdict, and the first units for figures and tables. */
export interface ScenarioRun {
  readonly result: RunResult;
  readonly samples: SampleTable;
  /** Stiffness, life and the like of the first units; null when the scenario asks for nothing of it. */
  readonly extended: SampleTable | null;
}

/**
 * Samples a scenario and says what happens to its units at the bench and in service, and why.
 *
 * The same scenario and seed give the same result to the last bit in Node and in a browser, whatever executes it and
 * whichever kernel runs.
 *
 * @param scenario from `parseScenario`
 * @throws InputError for a scenario that is too much for a run
 */
export async function runScenario(scenario: ResolvedScenario, options: RunOptions = {}): Promise<ScenarioRun> {
  const setup = yieldSetup(scenario, options.kernel ?? "plain");
  const executor = (options.executor ?? createLocalExecutor)(setup);
  try {
    const { finding, samples, extended } = await runYield(setup, executor, {
      target: options.target ?? null,
      isOver: () => false,
      maker: { version: LIBRARY_VERSION, platform: options.madeBy ?? "library" },
      keepRows: 0,
      onRows: () => {},
      onProgress: options.onProgress ?? (() => {}),
    });
    return { result: { ...finding, verdict: verdict(finding) }, samples, extended };
  } finally {
    await executor.close();
  }
}

/** Version of the package, as its results state it; a test holds it to package.json. */
export const LIBRARY_VERSION = "0.1.0";
