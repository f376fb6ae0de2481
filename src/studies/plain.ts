import { joinCollected } from "../engine/collected.ts";
import type { KeptRows } from "../engine/kept.ts";
import type { MeasureMoments, StateHistograms } from "../engine/measures.ts";
import { CHUNK_SIZE, type Progress, runSamples } from "../engine/run.ts";
import type { Tally } from "../engine/tally.ts";
import type { Executor } from "../engine/tasks.ts";
import { OUTCOMES } from "../model/outcome.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import type { Target } from "./conditional.ts";
import { shareOf } from "./share.ts";

/** No run goes on for longer than this, whatever precision was asked for. */
const MOST_SAMPLES = 1e10;

export interface PlainOptions {
  readonly target: Target | null;
  readonly isOver: () => boolean;
  readonly onProgress: Progress;
  readonly keepRows: number;
  readonly onRows: (rows: KeptRows) => void;
}

export interface PlainRun {
  readonly tally: Tally;
  readonly moments: MeasureMoments;
  readonly histograms: readonly StateHistograms[];
}

/**
 * Samples plainly: the scenario's count, or, towards a target, doubling whole chunks until the interval of the share asked
 * for is narrow enough.
 */
export async function runPlain(
  { scenario }: { readonly scenario: ResolvedScenario },
  executor: Executor,
  options: PlainOptions,
): Promise<PlainRun> {
  const { target, isOver, onProgress, keepRows, onRows } = options;
  const wholeChunks = (samples: number) => CHUNK_SIZE * Math.ceil(samples / CHUNK_SIZE);
  let samples = target === null ? scenario.samples : wholeChunks(scenario.samples);
  let done = 0;
  let moments: MeasureMoments | null = null;
  for (;;) {
    moments = await runSamples(executor, done, samples, moments, Math.min(keepRows, samples), onRows, onProgress);
    done = samples;
    const { tally, histograms } = joinCollected(await executor.collect());
    if (target === null || isOver() || samples >= MOST_SAMPLES || halfWidth(tally, target) <= target.halfWidthRatio) {
      return { tally, moments, histograms };
    }
    samples = Math.min(MOST_SAMPLES, 2 * samples);
  }
}

function halfWidth(tally: Tally, { of }: Target): number {
  const count =
    of === null
      ? tally.goodInEveryState
      : of === "bench"
        ? tally.failsAtBench
        : of === "service"
          ? tally.failsInService
          : tally.outcomes[of.state][OUTCOMES.indexOf(of.outcome)];
  const { lowRatio, highRatio } = shareOf(count, tally.samples);
  return 0.5 * (highRatio - lowRatio);
}
