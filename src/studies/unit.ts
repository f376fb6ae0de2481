import { compileDraw, createInputs, drawBlock } from "../engine/draw.ts";
import { countedStateNames } from "../engine/kept.ts";
import { countedColumns } from "../engine/tally.ts";
import { createWorkspace } from "../model/columns.ts";
import { clearanceTerm, deflectionAt } from "../model/contact.ts";
import { evaluateBlock } from "../model/evaluate.ts";
import { ExtendedEvaluator, type ExtendedValues } from "../model/extended.ts";
import { compileExtended, EXTENDED_COLUMNS } from "../model/extended-plan.ts";
import { FLAGS, type Flag, OUTCOMES, type Outcome } from "../model/outcome.ts";
import { displacementFor } from "../model/pair.ts";
import { compilePlan } from "../model/plan.ts";
import { createWindowColumns } from "../model/window.ts";
import { axialPlayMm, contactAngleRad } from "../physics/axial-contact.ts";
import { groovedContact, peakPressureMPa } from "../physics/hertz.ts";
import { BLOCK_SIZE } from "../random/streams.ts";
import type { Bearing, InternalUnit, Requirement, ResolvedScenario, Variable } from "../scenario/types.ts";

/** One bearing of a unit in one state. */
export interface UnitBearing {
  readonly clearanceMm: number;
  readonly axialPlayMm: number;
  readonly displacementMm: number;
  readonly contactAngleRad: number;
  readonly ballLoadN: number;
  readonly innerPressureMPa: number;
  readonly outerPressureMPa: number;
}

export interface UnitState {
  readonly state: string;
  readonly outcome: Outcome;
  /** On target, with the requirements that are known of every unit met. */
  readonly good: boolean;
  readonly gapMm: number | null;
  readonly movementMm: number | null;
  readonly requirements: readonly { readonly requirement: Requirement; readonly met: boolean }[];
  readonly flags: readonly Flag[];
  readonly offsetMm: number;
  readonly preloadN: number;
  readonly playMm: number;
  readonly bearings: { readonly a: UnitBearing; readonly b: UnitBearing };
  /** Machined offsets that this state asks for. */
  readonly window: {
    readonly onsetMm: number;
    readonly lowMm: number;
    readonly highMm: number;
    readonly bindMm: number;
  };
  /** What was asked beyond the preload; empty where nothing was. */
  readonly extended: readonly { readonly label: string; readonly unit: InternalUnit; readonly value: number }[];
}

/** One sampled unit in full. */
export interface Unit {
  readonly index: number;
  readonly seed: string;
  readonly good: boolean;
  readonly inputs: readonly {
    readonly name: string;
    readonly label: string;
    readonly unit: string;
    readonly value: number;
    readonly drawn: boolean;
  }[];
  readonly machinedOffsetMm: number;
  readonly window: { readonly lowMm: number; readonly highMm: number };
  readonly states: readonly UnitState[];
}

/**
 * Opens a unit again from its index: the same draws and the same results as in the run, to the last bit.
 *
 * @param index 0 or more; need not lie below the scenario's sample count
 */
export function openUnit(scenario: ResolvedScenario, index: number): Unit {
  const plan = compilePlan(scenario);
  const draw = compileDraw(scenario);
  const inputs = createInputs(draw, BLOCK_SIZE);
  const block = Math.floor(index / BLOCK_SIZE);
  const row = index - block * BLOCK_SIZE;
  drawBlock(draw, block, inputs, BLOCK_SIZE);
  const workspace = createWorkspace(plan, BLOCK_SIZE);
  const windows = createWindowColumns(plan, BLOCK_SIZE);
  evaluateBlock(plan, inputs, BLOCK_SIZE, workspace, windows);
  const extended = compileExtended(scenario);
  const evaluator = extended === null ? null : new ExtendedEvaluator(plan, extended);
  const [a, b] = workspace.bearings;
  const names = countedStateNames(plan);
  const windowStates = countedColumns(windows);
  const states = countedColumns(workspace).map((columns, place): UnitState => {
    const clearance = [columns.clearanceAMm[row], columns.clearanceBMm[row]];
    const distance = [a.grooveDistanceMm[row], b.grooveDistanceMm[row]];
    const stiffness = [a.stiffness[row], b.stiffness[row]];
    const w = [clearanceTerm(distance[0], clearance[0]), clearanceTerm(distance[1], clearance[1])];
    const preloadN = columns.preloadN[row];
    const describe = (bearing: Bearing, which: 0 | 1): UnitBearing => {
      const displacementMm = displacementFor(Math.abs(preloadN), distance[which], w[which], stiffness[which]);
      const deflection = Math.max(0, deflectionAt(displacementMm, distance[which], w[which]));
      const ballLoadN = (stiffness[which] / bearing.ballCount) * deflection * Math.sqrt(deflection);
      const conformity = { inner: inputs[bearing.conformityInner][row], outer: inputs[bearing.conformityOuter][row] };
      const pressure = (race: "inner" | "outer") =>
        peakPressureMPa(
          groovedContact({
            ballDiameterMm: bearing.ballDiameterMm,
            pitchDiameterMm: bearing.pitchDiameterMm,
            conformityRatio: conformity[race],
            contactAngleRad: plan.bearings[which].nominalContactAngleRad,
            race,
            ball: bearing.ballMaterial,
            ring: bearing.ringMaterial,
          }).pressureCoefficientMPa,
          ballLoadN,
        );
      return {
        clearanceMm: clearance[which],
        axialPlayMm: axialPlayMm(distance[which], clearance[which]),
        displacementMm,
        contactAngleRad: contactAngleRad(displacementMm, distance[which], clearance[which]),
        ballLoadN,
        innerPressureMPa: pressure("inner"),
        outerPressureMPa: pressure("outer"),
      };
    };
    const window = windowStates[place];
    const values: ExtendedValues = EXTENDED_COLUMNS.map(() => new Float64Array(BLOCK_SIZE));
    const index = place < plan.states.length ? place : 0;
    evaluator?.fillUnit(index, place, inputs, row, workspace, columns, values);
    const missed = (extended?.requirements ?? []).filter(
      ({ columns: looked, holds, low, high }) =>
        holds[index] && !looked.every((column) => values[column][row] >= low && values[column][row] <= high),
    );
    const asked = [...plan.requirements, ...(extended?.requirements ?? [])].filter(({ holds }) => holds[index]);
    return {
      state: names[place],
      outcome: OUTCOMES[columns.outcome[row]],
      good: columns.good[row] === 1 && missed.length === 0,
      gapMm: plan.gap === null ? null : columns.gapMm[row],
      movementMm: plan.gap === null ? null : columns.movementMm[row],
      requirements: asked.map(({ bit }) => ({
        requirement: scenario.requirements[placeOfBit(bit)],
        met:
          (columns.met[row] & bit) !== 0 ||
          ((extended?.requirements ?? []).some((other) => other.bit === bit) &&
            !missed.some((other) => other.bit === bit)),
      })),
      flags: FLAGS.filter((_, bit) => (columns.flags[row] & (1 << bit)) !== 0),
      offsetMm: columns.offsetMm[row],
      preloadN,
      playMm: columns.playMm[row],
      bearings: { a: describe(scenario.bearings.a, 0), b: describe(scenario.bearings.b, 1) },
      window: {
        onsetMm: window.onsetMm[row],
        lowMm: window.lowMm[row],
        highMm: window.highMm[row],
        bindMm: window.bindMm[row],
      },
      extended:
        evaluator === null
          ? []
          : EXTENDED_COLUMNS.map(({ label, unit }, column) => ({ label, unit, value: values[column][row] })),
    };
  });
  return {
    index,
    seed: scenario.seed,
    good: states.every((state) => state.good),
    inputs: scenario.variables.map((variable: Variable, place) => ({
      name: variable.name,
      label: variable.label,
      unit: variable.unit,
      value: inputs[place][row],
      drawn: variable.distribution.kind !== "constant",
    })),
    machinedOffsetMm: workspace.machinedOffsetMm[row],
    window: { lowMm: windows.lowMm[row], highMm: windows.highMm[row] },
    states,
  };
}

function placeOfBit(bit: number): number {
  return 31 - Math.clz32(bit);
}
