import { compileDraw, createInputs, drawBlock } from "../../engine/draw.ts";
import { createWorkspace } from "../../model/columns.ts";
import { evaluateBlock } from "../../model/evaluate.ts";
import type { ModelPlan } from "../../model/plan.ts";
import { createWindowColumns } from "../../model/window.ts";
import { BLOCK_SIZE } from "../../random/streams.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";

/** What shims have to deal with, unit by unit. Offsets are machined offsets, mm. */
export interface ShimUnits {
  readonly count: number;
  readonly machinedMm: Float64Array;
  /** Where the unit begins to carry on the bench: what a measurement of the play finds. */
  readonly onsetMm: Float64Array;
  /** Acceptance window over all states, and that of the bench alone. */
  readonly lowMm: Float64Array;
  readonly highMm: Float64Array;
  readonly benchLowMm: Float64Array;
  readonly benchHighMm: Float64Array;
}

/**
 * Draws units as machined and keeps their windows: what any shim does to them is then arithmetic.
 *
 * @param rearrange changes the drawn columns before they are evaluated: parts that are paired by choice
 */
export function shimUnits(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  count: number,
  rearrange: (inputs: readonly Float64Array[], first: number, count: number) => void = () => {},
): ShimUnits {
  const draw = compileDraw(scenario);
  const size = Math.min(BLOCK_SIZE, count);
  const inputs = createInputs(draw, size);
  const workspace = createWorkspace(plan, size);
  const windows = createWindowColumns(plan, size);
  const bench = plan.states.findIndex((state) => state.isBench);
  const column = () => new Float64Array(count);
  const units = {
    count,
    machinedMm: column(),
    onsetMm: column(),
    lowMm: column(),
    highMm: column(),
    benchLowMm: column(),
    benchHighMm: column(),
  };
  for (let first = 0; first < count; first += BLOCK_SIZE) {
    const here = Math.min(BLOCK_SIZE, count - first);
    drawBlock(draw, first / BLOCK_SIZE, inputs, here);
    rearrange(inputs, first, here);
    evaluateBlock(plan, inputs, here, workspace, windows);
    units.machinedMm.set(workspace.machinedOffsetMm.subarray(0, here), first);
    units.onsetMm.set(windows.states[bench].onsetMm.subarray(0, here), first);
    units.benchLowMm.set(windows.states[bench].lowMm.subarray(0, here), first);
    units.benchHighMm.set(windows.states[bench].highMm.subarray(0, here), first);
    units.lowMm.set(windows.lowMm.subarray(0, here), first);
    units.highMm.set(windows.highMm.subarray(0, here), first);
  }
  return units;
}

/** How shims are chosen. */
export interface ShimRule {
  readonly measure: "dimensions" | "play";
  readonly stepMm: number;
  /** Machined offset aimed at (dimensions), or what lies past the onset (play). */
  readonly aimMm: number;
}

/** What a rule leaves. */
export interface ShimOutcome {
  readonly goodCount: number;
  /** How many units take each number of steps. */
  readonly classes: ReadonlyMap<number, number>;
  /** What is left between aim and result: mean square over the units. */
  readonly residualSdMm: number;
}

/**
 * Gives every unit its shim: steps = round((wanted − machined + error)/step), as the model does.
 *
 * @param errorMm error of the measurement of each unit
 */
export function applyShims(units: ShimUnits, rule: ShimRule, errorMm: Float64Array): ShimOutcome {
  const { measure, stepMm, aimMm } = rule;
  const classes = new Map<number, number>();
  let goodCount = 0;
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < units.count; i += 1) {
    const wanted = measure === "play" ? units.onsetMm[i] + aimMm : aimMm;
    const steps = Math.round((wanted - units.machinedMm[i] + errorMm[i]) / stepMm) + 0;
    const final = units.machinedMm[i] + steps * stepMm;
    if (final >= units.lowMm[i] && final <= units.highMm[i]) goodCount += 1;
    classes.set(steps, (classes.get(steps) ?? 0) + 1);
    const residual = final - wanted;
    sum += residual;
    squares += residual * residual;
  }
  const middle = sum / units.count;
  return { goodCount, classes, residualSdMm: Math.sqrt(Math.max(0, squares / units.count - middle * middle)) };
}

/**
 * The aim that leaves most units good: what rounding leaves is taken as spread evenly over a step, so that the yield is smooth in
 * the aim. A scan over the middles of the windows, then golden section.
 */
export function bestAim(units: ShimUnits, measure: ShimRule["measure"], stepMm: number, errorMm: Float64Array): number {
  const stride = Math.max(1, Math.floor(units.count / 8192));
  const chance = (aimMm: number): number => {
    let sum = 0;
    for (let i = 0; i < units.count; i += stride) {
      const centre = (measure === "play" ? units.onsetMm[i] + aimMm : aimMm) + errorMm[i];
      const low = Math.max(units.lowMm[i], centre - 0.5 * stepMm);
      const high = Math.min(units.highMm[i], centre + 0.5 * stepMm);
      if (high > low) sum += (high - low) / stepMm;
    }
    return sum;
  };
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < units.count; i += stride) {
    const low = units.lowMm[i];
    const high = units.highMm[i];
    if (!(low < high) || !Number.isFinite(low) || !Number.isFinite(high)) continue;
    const middle = 0.5 * (low + high) - (measure === "play" ? units.onsetMm[i] : 0);
    if (middle < from) from = middle;
    if (middle > to) to = middle;
  }
  if (!(from < to)) return Number.isFinite(from) ? from : 0;
  const width = (to - from) / 32;
  let best = from;
  for (let place = 0; place <= 32; place += 1)
    if (chance(from + place * width) > chance(best)) best = from + place * width;
  let a = best - width;
  let b = best + width;
  while (b - a > 2e-4) {
    const left = a + (b - a) / 3;
    const right = b - (b - a) / 3;
    if (chance(left) >= chance(right)) b = right;
    else a = left;
  }
  return 0.5 * (a + b);
}
