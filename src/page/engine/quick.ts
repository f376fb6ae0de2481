import { keptColumns } from "../../engine/kept.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { evaluateNominal } from "../../studies/nominal.ts";
import { runPlain } from "../../studies/plain.ts";
import type { SampleTable } from "../../studies/result.ts";
import { summariseOverall, summariseStates } from "../../studies/summarise.ts";
import { pairOf } from "../pair.ts";
import type { Picture } from "../protocol.ts";
import type { Crew } from "./crew.ts";
import { quickRunner, WINDOW_UNITS } from "./quick-runner.ts";
import { windowColumns } from "./window-columns.ts";

/**
 * A quick look: the shares and preloads of the first units by plain sampling. They are the units that a whole run of the
 * same seed begins with.
 */
export async function quickPicture(
  scenario: ResolvedScenario,
  samples: number,
  crew: Crew,
  startMs: number,
): Promise<Picture> {
  const share = crew.lookAt(scenario);
  const { plan, runner } = quickRunner(scenario);
  const columns = keptColumns(scenario, plan);
  const keepRows = Math.min(WINDOW_UNITS, samples);
  let table: SampleTable = { count: 0, columns: [] };
  const { tally, moments, histograms } = await runPlain({ scenario: { ...scenario, samples } }, share(runner), {
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
