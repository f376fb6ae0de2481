import { mean } from "../distributions/moments.ts";
import { compileDraw, createInputs, drawBlock } from "../engine/draw.ts";
import { createWorkspace } from "../model/columns.ts";
import { evaluateBlock } from "../model/evaluate.ts";
import { THERMAL_RUNAWAY } from "../model/outcome.ts";
import { compilePlan } from "../model/plan.ts";
import { type ResolvedScenario, ZONES } from "../scenario/types.ts";
import type { RunawayResult } from "./result.ts";
import { shareOf } from "./share.ts";

/** Units of a sweep: enough to see one in a thousand begin. */
const SWEEP_UNITS = 2048;
const SPEED_RATIOS = [0.5, 0.75, 1, 1.25, 1.5, 2, 3, 4];
const AMBIENT_RISES_K = [0, 10, 20, 30, 40, 60, 80];
const HOUSING = ZONES.indexOf("housing");

/**
 * At which speed and at which surroundings the units begin to run away: each state with a heat balance again with its speed
 * multiplied, then with its surroundings warmer, on the first units, everything else as drawn.
 */
export function runawayOf(scenario: ResolvedScenario): RunawayResult[] {
  const driven = scenario.states.flatMap((state, index) =>
    state.network === null ? [] : [{ index, network: state.network, name: state.name }],
  );
  if (driven.length === 0) return [];
  const plan = compilePlan(scenario);
  const draw = compileDraw(scenario);
  const count = Math.min(SWEEP_UNITS, scenario.samples);
  const inputs = createInputs(draw, count);
  drawBlock(draw, 0, inputs, count);
  const workspace = createWorkspace(plan, count);
  const evaluate = (stateIndex: number, variable: number, change: (value: number) => number) => {
    const varied = inputs.slice();
    varied[variable] = inputs[variable].map(change);
    evaluateBlock(plan, varied, count, workspace);
    const { flags, zoneC } = workspace.states[stateIndex];
    let away = 0;
    let sum = 0;
    for (let i = 0; i < count; i += 1) {
      if ((flags[i] & THERMAL_RUNAWAY) !== 0) away += 1;
      else sum += zoneC[HOUSING][i];
    }
    return { share: shareOf(away, count), housingC: sum / (count - away) };
  };
  return driven.map(({ index, network, name }) => {
    const meanOf = (variable: number) => mean(scenario.variables[variable].distribution);
    return {
      state: name,
      samples: count,
      bySpeed: SPEED_RATIOS.map((ratio) => ({
        speedPerMin: ratio * meanOf(network.speed),
        share: evaluate(index, network.speed, (value) => ratio * value).share,
      })),
      byAmbient: AMBIENT_RISES_K.map((rise) => ({
        ambientC: meanOf(network.ambient) + rise,
        ...evaluate(index, network.ambient, (value) => value + rise),
      })),
    };
  });
}
