import { countedStateNames } from "../engine/kept.ts";
import type { ModelPlan } from "../model/plan.ts";
import type { QuantitySummary, SampleTable, WindowResult } from "./result.ts";
import { shareOf } from "./share.ts";
import { summariseValues } from "./summary.ts";

/** Sums up the acceptance windows over the rows kept. */
export function summariseWindows(plan: ModelPlan, samples: SampleTable): WindowResult {
  const names = countedStateNames(plan);
  const column = (name: string) => samples.columns.find((candidate) => candidate.name === name)!.values;
  const low = column("window.lowMm");
  const high = column("window.highMm");
  const lowState = column("window.lowState");
  const highState = column("window.highState");
  const { count } = samples;
  const lows: number[] = [];
  const highs: number[] = [];
  const widths: number[] = [];
  const collisions = new Map<string, number>();
  let empty = 0;
  for (let i = 0; i < count; i += 1) {
    if (low[i] <= high[i]) {
      lows.push(low[i]);
      highs.push(high[i]);
      widths.push(high[i] - low[i]);
    } else {
      empty += 1;
      const pair = `${lowState[i]} ${highState[i]}`;
      collisions.set(pair, (collisions.get(pair) ?? 0) + 1);
    }
  }
  return {
    samples: count,
    machinedOffsetMm: summariseValues(column("machinedOffsetMm"), "mm"),
    lowMm: summariseValues(lows, "mm"),
    highMm: summariseValues(finite(highs), "mm"),
    widthMm: summariseValues(finite(widths), "mm"),
    empty: shareOf(empty, count),
    collisions: [...collisions]
      .sort((a, b) => b[1] - a[1])
      .map(([pair, times]) => {
        const [first, second] = pair.split(" ").map(Number);
        return { states: [names[first], names[second]] as const, share: shareOf(times, count) };
      }),
    states: names.map((state) => {
      const end = (name: string): QuantitySummary => summariseValues(finite(column(`${state}.window.${name}`)), "mm");
      return { state, onsetMm: end("onsetMm"), lowMm: end("lowMm"), highMm: end("highMm"), bindMm: end("bindMm") };
    }),
  };
}

/** The values that are not without end. */
function finite(values: ArrayLike<number>): number[] {
  return Array.from(values).filter(Number.isFinite);
}
