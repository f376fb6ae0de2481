import type { InternalUnit, ResolvedScenario, VariableGroup, VariableIndex } from "./types.ts";
import { usualRange } from "./words.ts";

/** Range of the offset at 20 °C by one way of adding tolerances, mm. */
export interface OffsetBand {
  readonly lowMm: number;
  readonly highMm: number;
}

/** One length in the offset with what a unit of it does. */
export interface OffsetPart {
  readonly name: string;
  readonly label: string;
  readonly group: VariableGroup;
  readonly unit: InternalUnit;
  /** Change of the offset per change of the length. */
  readonly sensitivityRatio: number;
  /** Limits and middle, in `unit`. */
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

/** The dimension chain added up, without drawing a sample. */
export interface ScenarioCheck {
  /** Machined offset at 20 °C with every part in the middle of its limits; without clamp and stand-out. */
  readonly nominalMm: number;
  readonly worstCase: OffsetBand;
  readonly rootSumSquare: OffsetBand;
  /** The same with both stand-outs, and the clamp path shortened. */
  readonly worstCaseWithStandOut: OffsetBand;
  readonly rootSumSquareWithStandOut: OffsetBand;
  /** What the middle clamp force does to the offset, mm. */
  readonly clampShiftMm: number;
  /** The members of the chain, then the two stand-outs. */
  readonly parts: readonly OffsetPart[];
}

/**
 * Nominal offset at 20 °C with its worst-case and root-sum-square bands, from the dimension chain alone.
 *
 * Worst case: every part at that end of its limits that drives the offset further, Σ|c|·w/2 to either side. Root sum
 * square: √Σ(c·w/2)² to either side; c → `sensitivityRatio`, w the width of the limits. A part without limits counts with
 * the range that holds 99.73 % of it. Dimensions measured away from 20 °C are brought back to it. Temperatures of the
 * states are not in it.
 *
 * Source: common practice for dimension chains, no source.
 */
export function checkScenario(scenario: ResolvedScenario): ScenarioCheck {
  const direction = scenario.arrangement === "back-to-back" ? 1 : -1;
  const sensitivities = new Map<VariableIndex, number>();
  let clampShiftMm = 0;
  for (const { side, factor, length, material, areaMm2, inClampPath } of scenario.chain) {
    const sign = direction * (side === "housing" ? 1 : -1) * factor;
    const sensitivity = sign / (1 + material.expansionPerK * (scenario.measuredAtC - 20));
    sensitivities.set(length, (sensitivities.get(length) ?? 0) + sensitivity);
    if (inClampPath && areaMm2 !== null && scenario.clamp !== null) {
      const force = partOf(scenario, scenario.clamp.force, 1).middle;
      const lengthMm = partOf(scenario, length, 1).middle;
      clampShiftMm -= (sensitivity * lengthMm * force) / (material.youngsModulusMPa * areaMm2);
    }
  }
  const members = [...sensitivities].map(([index, sensitivity]) => partOf(scenario, index, sensitivity));
  const standOuts = [scenario.bearings.a, scenario.bearings.b].map(({ standOut }) => partOf(scenario, standOut, 1));
  const parts = [...members, ...standOuts];
  return {
    nominalMm: nominal(members),
    worstCase: band(members, 0, worstCaseHalfWidth),
    rootSumSquare: band(members, 0, rootSumSquareHalfWidth),
    worstCaseWithStandOut: band(parts, clampShiftMm, worstCaseHalfWidth),
    rootSumSquareWithStandOut: band(parts, clampShiftMm, rootSumSquareHalfWidth),
    clampShiftMm,
    parts,
  };
}

function partOf(scenario: ResolvedScenario, index: VariableIndex, sensitivityRatio: number): OffsetPart {
  const { name, label, group, unit, distribution } = scenario.variables[index];
  const { low, high } = usualRange(distribution);
  return { name, label, group, unit, sensitivityRatio, low, middle: (low + high) / 2, high };
}

function nominal(parts: readonly OffsetPart[]): number {
  return parts.reduce((sum, { sensitivityRatio, middle }) => sum + sensitivityRatio * middle, 0);
}

function band(
  parts: readonly OffsetPart[],
  shiftMm: number,
  halfWidth: (parts: readonly OffsetPart[]) => number,
): OffsetBand {
  const middle = nominal(parts) + shiftMm;
  const half = halfWidth(parts);
  return { lowMm: middle - half, highMm: middle + half };
}

function worstCaseHalfWidth(parts: readonly OffsetPart[]): number {
  return parts.reduce(
    (sum, { sensitivityRatio, low, high }) => sum + (Math.abs(sensitivityRatio) * (high - low)) / 2,
    0,
  );
}

function rootSumSquareHalfWidth(parts: readonly OffsetPart[]): number {
  const halves = parts.map(({ sensitivityRatio, low, high }) => (sensitivityRatio * (high - low)) / 2);
  return Math.sqrt(halves.reduce((sum, half) => sum + half * half, 0));
}
