import type { Distribution } from "../distributions/types.ts";
import type { Kernel } from "../kernel/kernel.ts";
import { type KernelChoice, openKernel } from "../kernel/open.ts";
import { compilePlan } from "../model/plan.ts";
import { BLOCK_SIZE } from "../random/streams.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import { compileDraw, type DrawnLaw, type DrawPlan, drawBlock, drawnLaw } from "./draw.ts";
import type { RunnerParts } from "./runner.ts";

/**
 * The drawn columns of the first units, kept from one scenario to the next that is much the same: what a change has not
 * touched is not drawn again. The columns are those of `drawBlock`, to the bit.
 */
export interface HeldUnits {
  /** What a runner of the scenario needs. It is good until the next call, which takes its memory for another one. */
  partsOf(scenario: ResolvedScenario): RunnerParts;
}

/** One variable as it was last drawn. */
interface Held {
  readonly distribution: Distribution;
  readonly law: DrawnLaw;
  /** By block; a block that was not asked for yet is missing. */
  readonly blocks: (Float64Array | undefined)[];
}

/** @param kernel one kernel for all runs: opening one is much of the time that a small run takes */
export function createHeldUnits(choice: KernelChoice): HeldUnits {
  const kernel = openKernel(choice);
  let held = new Map<string, Held>();
  let drawnBy = "";
  let release = (): void => {};
  return {
    partsOf(scenario) {
      release();
      release = kernel.mark();
      // Another seed or correlation moves every column that hangs on it; seldom, so that all are drawn anew.
      const seed = JSON.stringify([scenario.seed, namedCorrelations(scenario)]);
      held = heldOver(scenario, seed === drawnBy ? held : new Map(), kernel);
      drawnBy = seed;
      const known = held;
      const draw = compileDraw(scenario, kernel, ({ name }) => known.get(name)!.law);
      const blocksOf = draw.drawn.map(({ index }) => known.get(scenario.variables[index].name)!.blocks);
      return {
        plan: compilePlan(scenario),
        draw,
        fill: (block, inputs, count) => fillHeld(draw, blocksOf, block, inputs, count),
      };
    },
  };
}

/** The variables of a scenario, each with what is known of it. */
function heldOver(scenario: ResolvedScenario, earlier: ReadonlyMap<string, Held>, kernel: Kernel): Map<string, Held> {
  const now = new Map<string, Held>();
  for (const { name, distribution } of scenario.variables) {
    if (distribution.kind === "constant") continue;
    const known = earlier.get(name);
    const isSame = known !== undefined && isSameLaw(known.distribution, distribution);
    now.set(name, isSame ? known : { distribution, law: drawnLaw(distribution, kernel), blocks: [] });
  }
  return now;
}

function namedCorrelations({ variables, correlations }: ResolvedScenario): unknown {
  return correlations.map(({ variables: members, matrix }) => [members.map((index) => variables[index].name), matrix]);
}

function fillHeld(
  draw: DrawPlan,
  blocksOf: readonly (Float64Array | undefined)[][],
  block: number,
  inputs: readonly Float64Array[],
  count: number,
): void {
  const missing = new Set(
    draw.drawn.filter((_, place) => blocksOf[place][block] === undefined).map(({ index }) => index),
  );
  if (missing.size > 0) {
    // What is correlated can only be drawn together.
    const copulas = draw.copulas.filter(({ variables }) => variables.some((index) => missing.has(index)));
    for (const { variables } of copulas) for (const index of variables) missing.add(index);
    const drawn = draw.drawn.filter(({ index }) => missing.has(index));
    drawBlock({ ...draw, drawn, copulas }, block, inputs, BLOCK_SIZE);
  }
  draw.drawn.forEach(({ index }, place) => {
    if (missing.has(index)) blocksOf[place][block] = inputs[index].slice(0, BLOCK_SIZE);
    else inputs[index].set(blocksOf[place][block]!.subarray(0, count));
  });
}

/** Laws are flat: numbers, and a list of measured values. */
function isSameLaw(a: Distribution, b: Distribution): boolean {
  const ofB = b as unknown as Readonly<Record<string, unknown>>;
  return Object.entries(a).every(([key, value]) => {
    const other = ofB[key];
    if (!Array.isArray(value) || !Array.isArray(other)) return value === other;
    return value.length === other.length && value.every((each, place) => each === other[place]);
  });
}
