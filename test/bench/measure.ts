import { existsSync, readFileSync } from "node:fs";
import { createLocalExecutor } from "../../src/engine/local.ts";
import { createPool } from "../../src/engine/pool.ts";
import { CHUNK_SIZE, runSamples } from "../../src/engine/run.ts";
import { countedStates, createTally, mergeTally } from "../../src/engine/tally.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { standardDeviation } from "../../src/stats/moments.ts";
import { integrate } from "../../src/studies/conditional.ts";
import { chooseDirections } from "../../src/studies/directions.ts";
import { yieldSetup } from "../../src/studies/yield.ts";
import { type Measured, PRECISION_RATIO } from "./contestants.ts";

export interface MeasureRequest {
  readonly scenarioPath: string;
  readonly workers: number;
  readonly kernel: string;
  readonly samples: number;
  readonly seed: number;
  /** How often the memory is looked at while it samples, milliseconds; null: only its peak. */
  readonly memoryEveryMs: number | null;
}

/** Chunks run before the clock starts, so that code is compiled and columns are touched. */
const WARM_UP_CHUNKS = 12;

/** The same for the way to a precision, which is short. */
const WARM_UP_ROUNDS = 5;

const MB = 1024 * 1024;

/** Samples a scenario in this process as a run does, without tables and report, and says what it took. */
export async function measureEngine(request: MeasureRequest): Promise<Measured> {
  const text = readFileSync(request.scenarioPath, "utf8");
  const scenario = { ...parseScenario(text, request.scenarioPath), seed: String(request.seed) };
  const whole = yieldSetup(scenario, request.kernel === "plain" ? "plain" : compiledKernel());
  // The yield alone is asked for: no curves over other nominals and tolerances.
  const setup = {
    ...whole,
    offset:
      whole.offset === null
        ? null
        : { ...whole.offset, law: { ...whole.offset.law, spreads: [], spreadLaws: [] }, shiftsMm: new Float64Array(0) },
  };
  const script = new URL("./worker.js", import.meta.url);
  if (request.workers > 1 && !existsSync(script)) throw new Error("the bundled worker is missing: npm run build");
  const executor = request.workers === 1 ? createLocalExecutor(setup) : createPool(setup, request.workers, script);
  const nothing = () => {};
  try {
    await runSamples(executor, 0, WARM_UP_CHUNKS * request.workers * CHUNK_SIZE, null, 0, nothing, nothing);
    const before = await sumUp(executor);
    const cpu = process.cpuUsage();
    const start = performance.now();
    const memory: NonNullable<Measured["memory"]> = [];
    let done = 0;
    const look = () => {
      memory.push({
        wallS: (performance.now() - start) / 1000,
        samples: done,
        memoryMB: process.memoryUsage.rss() / MB,
      });
    };
    look();
    const looking = request.memoryEveryMs === null ? null : setInterval(look, request.memoryEveryMs);
    const moments = await runSamples(executor, 0, request.samples, null, 0, nothing, (count) => {
      done = count;
    });
    const wallS = (performance.now() - start) / 1000;
    if (looking !== null) clearInterval(looking);
    look();
    const used = process.cpuUsage(cpu);
    const after = await sumUp(executor);
    return {
      samples: request.samples,
      wallS,
      cpuS: (used.user + used.system) / 1e6,
      peakMemoryMB: process.resourceUsage().maxRSS / 1024,
      memory,
      good: after.goodInEveryState - before.goodInEveryState,
      outcomes: after.outcomes.map((row, state) =>
        Array.from(row, (n, outcome) => n - before.outcomes[state][outcome]),
      ),
      meanPreloadN: moments.map((state) => state.preloadN.mean),
      sdPreloadN: moments.map((state) => standardDeviation(state.preloadN)),
      precision: setup.offset === null ? null : await toPrecision(),
    };
  } finally {
    await executor.close();
  }

  /**
   * Chooses a direction and integrates until the yield is known to the precision; a few times beforehand, so that code is
   * compiled.
   */
  async function toPrecision() {
    const target = { halfWidthRatio: PRECISION_RATIO, of: null };
    const pace = { onProgress: () => {}, isOver: () => false };
    const once = async () => {
      const start = performance.now();
      chooseDirections(scenario, setup.plan, setup.offset);
      const { good, replicates, pointsPerReplicate } = await integrate(executor, setup, setup.plan, target, pace);
      const wallS = (performance.now() - start) / 1000;
      return { wallS, halfWidthRatio: good.halfWidthRatio, points: replicates * pointsPerReplicate };
    };
    for (let round = 0; round < WARM_UP_ROUNDS; round += 1) await once();
    return once();
  }

  function compiledKernel(): WebAssembly.Module {
    return new WebAssembly.Module(readFileSync(new URL("./kernel.wasm", import.meta.url)));
  }

  async function sumUp(from: typeof executor) {
    const tally = createTally(countedStates(setup.plan));
    for (const part of await from.collect()) mergeTally(tally, part.tally);
    return tally;
  }
}
