import { createHeldUnits, type HeldUnits } from "../../engine/held-units.ts";
import { keptColumns } from "../../engine/kept.ts";
import { createRunner } from "../../engine/runner.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { checkRunnable } from "../../studies/limits-of-a-run.ts";
import { evaluateNominal } from "../../studies/nominal.ts";
import { runPlain } from "../../studies/plain.ts";
import type { SampleTable } from "../../studies/result.ts";
import { summariseOverall, summariseStates } from "../../studies/summarise.ts";
import { pairOf } from "../pair.ts";
import type { Picture } from "../protocol.ts";
import { createPageExecutor } from "./executor.ts";
import { pageKernel } from "./page-kernel.ts";
import { windowColumns } from "./window-columns.ts";

/** Units whose acceptance windows are worked out in a quick look: enough for a smooth curve. */
const WINDOW_UNITS = 2048;

let heldUnits: HeldUnits | null = null;

/**
 * A quick look: the shares and preloads of the first units by plain sampling. They are the units that a whole run of the
 * same seed begins with.
 */
export async function quickPicture(
  scenario: ResolvedScenario,
  samples: number,
  isOvertaken: () => boolean,
  startMs: number,
): Promise<Picture> {
  heldUnits ??= createHeldUnits(pageKernel());
  const parts = heldUnits.partsOf(scenario);
  const { plan } = parts;
  checkRunnable(plan);
  const columns = keptColumns(scenario, plan);
  const setup = { kernel: pageKernel(), scenario, offset: null, lines: null, variations: [] };
  const executor = createPageExecutor(createRunner(setup, { ...parts, windowRows: WINDOW_UNITS }), isOvertaken);
  const keepRows = Math.min(WINDOW_UNITS, samples);
  let table: SampleTable = { count: 0, columns: [] };
  const { tally, moments, histograms } = await runPlain({ scenario: { ...scenario, samples } }, executor, {
    target: null,
    isOver: () => false,
    onProgress: () => {},
    keepRows,
    onRows: (rows) => {
      table = {
        count: rows.count,
        columns: columns.map(({ name, unit, description }, place) => ({
          name,
          unit,
          description,
          values: rows.values[place],
        })),
      };
    },
  });
  const states = summariseStates(scenario, plan, tally, moments, histograms, table);
  return {
    isWhole: false,
    samples: tally.samples,
    elapsedMs: performance.now() - startMs,
    title: scenario.title,
    arrangement: scenario.arrangement,
    limits: scenario.limits,
    requiredYieldRatio: scenario.requiredYieldRatio,
    states,
    overall: summariseOverall(scenario, plan, tally),
    nominal: evaluateNominal(scenario, plan),
    pair: pairOf(scenario),
    preload: histograms.map((state) => state.preloadN),
    window: windowColumns(table),
    hasExtended: scenario.extended !== null,
    contributors: null,
    verdict: null,
    warnings: [],
  };
}
