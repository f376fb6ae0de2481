import { compileDraw, createInputs, drawBlock } from "../engine/draw.ts";
import { countedStateNames } from "../engine/kept.ts";
import { countedColumns } from "../engine/tally.ts";
import { createWorkspace } from "../model/columns.ts";
import { clearanceTerm, deflectionAt, displacementFor } from "../model/contact.ts";
import { evaluateBlock } from "../model/evaluate.ts";
import { ExtendedEvaluator, type ExtendedValues } from "../model/extended.ts";
import { compileExtended, EXTENDED_COLUMNS } from "../model/extended-plan.ts";
import { FLAGS, type Flag, OUTCOMES, type Outcome } from "../model/outcome.ts";
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
  const names = countedStateNames(plan);
  const windowStates = countedColumns(windows);
  const states = countedColumns(workspace).map((columns, place): UnitState => {
    const preloadN = columns.preloadN[row];
    const bearingOf = (bearing: Bearing, which: 0 | 1, clearanceMm: Float64Array) =>
      describeBearing(bearing, {
        clearanceMm: clearanceMm[row],
        grooveDistanceMm: workspace.bearings[which].grooveDistanceMm[row],
        stiffness: workspace.bearings[which].stiffness[row],
        preloadN,
        innerRatio: inputs[bearing.conformityInner][row],
        outerRatio: inputs[bearing.conformityOuter][row],
        nominalContactAngleRad: plan.bearings[which].nominalContactAngleRad,
      });
    const window = windowStates[place];
    const values: ExtendedValues = EXTENDED_COLUMNS.map(() => new Float64Array(BLOCK_SIZE));
    const stateIndex = place < plan.states.length ? place : 0;
    evaluator?.fillUnit(stateIndex, place, inputs, row, workspace, columns, values);
    const missed = (extended?.requirements ?? []).filter(
      ({ columns: looked, holds, low, high }) =>
        holds[stateIndex] && !looked.every((column) => values[column][row] >= low && values[column][row] <= high),
    );
    const asked = [...plan.requirements, ...(extended?.requirements ?? [])].filter(({ holds }) => holds[stateIndex]);
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
      bearings: {
        a: bearingOf(scenario.bearings.a, 0, columns.clearanceAMm),
        b: bearingOf(scenario.bearings.b, 1, columns.clearanceBMm),
      },
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

/** What a bearing of a unit carries in one state. */
interface BearingValues {
  readonly clearanceMm: number;
  readonly grooveDistanceMm: number;
  /** Z·K, N/mm^1.5. */
  readonly stiffness: number;
  readonly preloadN: number;
  readonly innerRatio: number;
  readonly outerRatio: number;
  /** At which the Hertz curvatures are taken. */
  readonly nominalContactAngleRad: number;
}

function describeBearing(bearing: Bearing, values: BearingValues): UnitBearing {
  const { clearanceMm, grooveDistanceMm, stiffness, preloadN } = values;
  const w = clearanceTerm(grooveDistanceMm, clearanceMm);
  const displacementMm = displacementFor(Math.abs(preloadN), grooveDistanceMm, w, stiffness);
  const deflection = Math.max(0, deflectionAt(displacementMm, grooveDistanceMm, w));
  const ballLoadN = (stiffness / bearing.ballCount) * deflection * Math.sqrt(deflection);
  const pressureMPa = (race: "inner" | "outer", conformityRatio: number) =>
    peakPressureMPa(
      groovedContact({
        ballDiameterMm: bearing.ballDiameterMm,
        pitchDiameterMm: bearing.pitchDiameterMm,
        conformityRatio,
        contactAngleRad: values.nominalContactAngleRad,
        race,
        ball: bearing.ballMaterial,
        ring: bearing.ringMaterial,
      }).pressureCoefficientMPa,
      ballLoadN,
    );
  return {
    clearanceMm,
    axialPlayMm: axialPlayMm(grooveDistanceMm, clearanceMm),
    displacementMm,
    contactAngleRad: contactAngleRad(displacementMm, grooveDistanceMm, clearanceMm),
    ballLoadN,
    innerPressureMPa: pressureMPa("inner", values.innerRatio),
    outerPressureMPa: pressureMPa("outer", values.outerRatio),
  };
}

function placeOfBit(bit: number): number {
  return 31 - Math.clz32(bit);
}
