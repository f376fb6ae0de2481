import { affine } from "../distributions/affine.ts";
import { mean, standardDeviation } from "../distributions/moments.ts";
import type { Distribution, DistributionKind } from "../distributions/types.ts";
import type { ModelPlan } from "../model/plan.ts";
import { sumLaw } from "../reliability/sum-law.ts";
import type { ResolvedScenario, VariableIndex } from "../scenario/types.ts";
import { combineTables, type OffsetTable, tabulateLaw } from "./offset-table.ts";

/**
 * The law of the part of the offset that enters every state linearly: the chain's dimensions and the stand-outs. Given
 * everything else, the chance of a window is a difference of its CDF, with no sampling. Plain data.
 */
export interface OffsetLaw {
  /** Variables that the law integrates over; held at their means in the samples. */
  readonly variables: readonly VariableIndex[];
  /** What each contributes: the dimensions of the chain, and the stand-outs. */
  readonly chain: readonly OffsetTerm[];
  readonly standOuts: readonly OffsetTerm[];
  /** Law of the offset's deviation from its mean, mm. */
  readonly law: OffsetTable;
  /** Spread of the offset in each counted state over that of the law: growth stretches a deviation too. */
  readonly stateScale: Float64Array;
  /** The same law with the tolerances of the chain (not the stand-outs) multiplied by each of `spreads`. */
  readonly spreads: readonly number[];
  readonly spreadLaws: readonly OffsetTable[];
}

/** One quantity in the sum: its slope and its distribution about its mean. */
export interface OffsetTerm {
  readonly variable: VariableIndex;
  readonly factor: number;
  readonly distribution: Distribution;
}

/** Kinds whose law a table of equal steps follows: no heavy tails, no jumps of the density inside the limits. */
const TABULATED: ReadonlySet<DistributionKind> = new Set([
  "normal",
  "truncated-normal",
  "uniform",
  "triangular",
  "trapezoidal",
  "skewed",
]);

/**
 * Whether a unit's fate hangs on its offset only through the windows: the preload is set by position, the temperatures are
 * given and nothing but the preload is required. Springs that stick, settings that follow the unit's own play, heat that
 * follows the preload and other requirements leave plain sampling.
 */
export function windowsDecide(plan: ModelPlan): boolean {
  const isPosition = plan.spring === null && plan.adjuster === null && plan.shim === null;
  return isPosition && plan.requirements.length === 0 && plan.states.every((state) => state.network === null);
}

/**
 * Sets up the law, or null where nothing enters linearly on its own (every such quantity constant or correlated).
 *
 * A deviation of a member moves the offset of a state by (1 + α(T − 20) − P/(E·A)) times what it moves the machined offset:
 * a few thousandths more. The law is stretched by that much a state, at the mean temperature and clamp force, and the states
 * are taken to move together; the yield is off by less than 1e-5 for it (held by a test against plain sampling).
 *
 * @param spreads factors above 0
 * @param tables laws worked out before, by what they are the laws of: variants of one scenario share most of them
 */
export function compileOffsetLaw(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  spreads: readonly number[],
  tables: Map<string, OffsetTable> = new Map(),
): OffsetLaw | null {
  if (!windowsDecide(plan)) return null;
  const correlated = new Set(scenario.correlations.flatMap(({ variables }) => variables));
  const isFree = (index: VariableIndex) =>
    TABULATED.has(scenario.variables[index].distribution.kind) && !correlated.has(index);
  const slopes = new Map<VariableIndex, number>();
  for (const member of plan.members) {
    if (!isFree(member.length)) continue;
    slopes.set(member.length, (slopes.get(member.length) ?? 0) + member.sign * member.measuredFactor);
  }
  const chain = [...slopes.keys()].filter((index) => slopes.get(index) !== 0);
  const standOuts = plan.bearings.map((bearing) => bearing.standOut).filter(isFree);
  const variables = [...chain, ...standOuts];
  if (variables.length === 0) return null;
  const remembered = (key: string, make: () => OffsetTable): OffsetTable => {
    const table = tables.get(key) ?? make();
    tables.set(key, table);
    return table;
  };
  const termOf = (variable: VariableIndex): OffsetTerm => ({
    variable,
    factor: slopes.get(variable) ?? 1,
    distribution: centred(scenario, variable),
  });
  const chainTerms = chain.map(termOf);
  const restTerms = standOuts.map(termOf);
  const keyOf = (terms: readonly OffsetTerm[]) =>
    JSON.stringify(terms.map(({ factor, distribution }) => ({ factor, distribution })));
  const tableOf = (terms: readonly OffsetTerm[]): OffsetTable | null =>
    terms.length === 0 ? null : remembered(keyOf(terms), () => tabulateLaw(sumLaw(terms)));
  const chainTable = tableOf(chainTerms);
  const restTable = tableOf(restTerms);
  const spreadBy = (spread: number): OffsetTable => {
    if (chainTable === null) return restTable!;
    if (restTable === null) return stretched(chainTable, spread);
    return remembered(`${keyOf(chainTerms)} ${keyOf(restTerms)} ${spread}`, () =>
      combineTables(chainTable, restTable, spread, chain.length > 1),
    );
  };
  return {
    variables,
    chain: chainTerms,
    standOuts: restTerms,
    law: spreadBy(1),
    stateScale: stateScales(scenario, plan, variables, slopes),
    spreads,
    spreadLaws: spreads.map(spreadBy),
  };
}

function stateScales(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  variables: readonly VariableIndex[],
  slopes: ReadonlyMap<VariableIndex, number>,
): Float64Array {
  const clampN = plan.clampForce === null ? 0 : mean(scenario.variables[plan.clampForce].distribution);
  const spreadOf = (stretch: (index: VariableIndex) => number): number => {
    let variance = 0;
    for (const index of variables) {
      const slope = slopes.get(index) ?? 1;
      const sd = slope * stretch(index) * standardDeviation(scenario.variables[index].distribution);
      variance += sd * sd;
    }
    return Math.sqrt(variance);
  };
  const machined = spreadOf(() => 1);
  const scales = plan.states.map((state) => {
    const stretch = (index: VariableIndex): number => {
      const member = plan.members.find(({ length }) => length === index);
      if (member === undefined) return 1;
      const temperatureC = state.temperatures[state.zones[member.zone]].reduce(
        (sum, { variable, factor }) => sum + factor * mean(scenario.variables[variable].distribution),
        0,
      );
      return 1 + member.expansionPerK * (temperatureC - 20) - member.clampPerN * clampN;
    };
    return spreadOf(stretch) / machined;
  });
  const bench = plan.states.findIndex((state) => state.isBench);
  return Float64Array.from(plan.canWalk ? [...scales, scales[bench]] : scales);
}

function stretched(table: OffsetTable, factor: number): OffsetTable {
  return { ...table, low: factor * table.low, high: factor * table.high };
}

/** A variable's distribution about its mean. */
function centred(scenario: ResolvedScenario, index: VariableIndex) {
  const { distribution } = scenario.variables[index];
  return affine(distribution, 1, -mean(distribution));
}
