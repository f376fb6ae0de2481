import { prepare } from "../../distributions/index.ts";
import { compileDraw, createInputs, drawBlock } from "../../engine/draw.ts";
import { countedColumns, countedStates } from "../../engine/tally.ts";
import { createWorkspace, type Workspace } from "../../model/columns.ts";
import { evaluateBlock } from "../../model/evaluate.ts";
import { OUTCOMES } from "../../model/outcome.ts";
import { compilePlan } from "../../model/plan.ts";
import { createWindowColumns } from "../../model/window.ts";
import { normalPdf, studentTPdf } from "../../numeric/special.ts";
import { grooveCentreDistanceMm } from "../../physics/axial-contact.ts";
import { BLOCK_SIZE } from "../../random/streams.ts";
import type { ResolvedScenario, VariableIndex } from "../../scenario/types.ts";
import { emptyWeights, type WeightSums } from "../../stats/weighted.ts";
import type { Evidence, PlayDraw } from "./evidence.ts";

/** Equiprobable bins of a quantity when it is asked what knowing it would tell. */
const BINS = 32;

/** Something that could still be measured: a drawn quantity, or what follows from several. */
export interface Unknown {
  readonly label: string;
  /** `service`: varies in the unit's life, so that no measurement of the unit settles it. */
  readonly kind: "dimension" | "bearing" | "pair play" | "all dimensions" | "service";
  readonly variable: VariableIndex | null;
  readonly isMeasured: boolean;
  /** Weight of all and of the good units in each bin of its value. */
  readonly weights: Float64Array;
  readonly good: Float64Array;
}

/** The unit as it may be, given what was measured: one entry a sample, each with its weight. */
export interface Posterior {
  readonly samples: number;
  readonly weights: Float64Array;
  readonly machinedMm: Float64Array;
  readonly benchOffsetMm: Float64Array;
  readonly onsetMm: Float64Array;
  readonly lowMm: Float64Array;
  readonly highMm: Float64Array;
  readonly all: WeightSums;
  readonly good: WeightSums;
  /** One row a counted state, one column an outcome. */
  readonly outcomes: readonly (readonly WeightSums[])[];
  readonly unknowns: readonly Unknown[];
}

/**
 * Draws the unit over and over as its measurements leave it, and weighs every draw by how well it agrees with what else is known.
 *
 * A measured play of a single bearing gives its clearance: P = 2·√(G·(A − G/4)) is solved for G with the drawn groove distance A, and the
 * draw is weighed by g(G)·dG/dP, g the density of the clearance group; together that is the posterior of Bayes. A measured play of the
 * assembled shaft weighs the draw by the density of the reading given its play on the bench.
 *
 * @param usesGroup without it a measured play stands for itself and the clearance group no longer counts
 */
export function drawPosterior(
  scenario: ResolvedScenario,
  evidence: Evidence,
  samples: number,
  usesGroup: boolean,
): Posterior {
  const plan = compilePlan({ ...scenario, variables: evidence.planned });
  const draw = compileDraw(evidence.draw);
  const inputs = createInputs(draw, BLOCK_SIZE);
  const constants = inputs.map((column) => column.slice());
  const workspace = createWorkspace(plan, BLOCK_SIZE);
  const windows = createWindowColumns(plan, BLOCK_SIZE);
  const bench = plan.states.findIndex(({ isBench }) => isBench);
  const column = () => new Float64Array(samples);
  const result = {
    samples,
    weights: column(),
    machinedMm: column(),
    benchOffsetMm: column(),
    onsetMm: column(),
    lowMm: column(),
    highMm: column(),
    all: emptyWeights(),
    good: emptyWeights(),
    outcomes: Array.from({ length: countedStates(plan) }, () => OUTCOMES.map(emptyWeights)),
  };
  const watched = watch(scenario, evidence);
  const groups = evidence.plays.map((play) => {
    const bearing = play.bearing === 0 ? scenario.bearings.a : scenario.bearings.b;
    return { play, bearing, prior: prepare(scenario.variables[bearing.clearance].distribution) };
  });
  const weight = new Float64Array(BLOCK_SIZE);
  const isGood = new Uint8Array(BLOCK_SIZE);
  for (let first = 0; first < samples; first += BLOCK_SIZE) {
    const count = Math.min(BLOCK_SIZE, samples - first);
    drawBlock(draw, first / BLOCK_SIZE, inputs, count);
    weight.fill(1, 0, count);
    for (const { target, source, factor, constant } of evidence.adjustments) {
      const from = inputs[source];
      const to = inputs[target];
      for (let i = 0; i < count; i += 1) to[i] += factor * from[i] + constant;
    }
    for (const { play, bearing, prior } of groups) {
      const density = usesGroup ? prior.pdf : null;
      solveClearance(play, bearing, density, inputs, count, weight);
    }
    evaluateBlock(plan, inputs, count, workspace, windows);
    if (evidence.pairPlay !== null) weighByPair(evidence.pairPlay, workspace.states[bench].playMm, count, weight);
    isGood.fill(1, 0, count);
    countedColumns(workspace).forEach(({ outcome, good }, s) => {
      const sums = result.outcomes[s];
      for (let i = 0; i < count; i += 1) {
        if (good[i] !== 1) isGood[i] = 0;
        addWeight(sums[outcome[i]], weight[i]);
      }
    });
    for (let i = 0; i < count; i += 1) {
      addWeight(result.all, weight[i]);
      if (isGood[i] === 1) addWeight(result.good, weight[i]);
    }
    result.weights.set(weight.subarray(0, count), first);
    result.machinedMm.set(workspace.machinedOffsetMm.subarray(0, count), first);
    result.benchOffsetMm.set(workspace.states[bench].offsetMm.subarray(0, count), first);
    result.onsetMm.set(windows.states[bench].onsetMm.subarray(0, count), first);
    result.lowMm.set(windows.lowMm.subarray(0, count), first);
    result.highMm.set(windows.highMm.subarray(0, count), first);
    for (const unknown of watched) unknown.add(inputs, workspace, windows.states[bench].onsetMm, count, weight, isGood);
    // Adjusted constants start afresh.
    for (const { target } of evidence.adjustments) {
      if (evidence.variables[target].distribution.kind === "constant") inputs[target].set(constants[target]);
    }
  }
  return { ...result, unknowns: watched.map(({ unknown }) => unknown) };
}

function addWeight(sums: WeightSums, weight: number): void {
  sums.weight += weight;
  sums.squares += weight * weight;
}

/** Puts the clearance that gives the drawn play in its column: G = 2·(A − √(A² − P²/4)), written so that it keeps its digits. */
function solveClearance(
  { terms }: PlayDraw,
  bearing: ResolvedScenario["bearings"]["a"],
  density: ((clearanceMm: number) => number) | null,
  inputs: readonly Float64Array[],
  count: number,
  weight: Float64Array,
): void {
  const inner = inputs[bearing.conformityInner];
  const outer = inputs[bearing.conformityOuter];
  const clearance = inputs[bearing.clearance];
  for (let i = 0; i < count; i += 1) {
    let play = 0;
    for (const { source, factor } of terms) play += factor * inputs[source][i];
    const distance = grooveCentreDistanceMm(inner[i], outer[i], bearing.ballDiameterMm);
    const half = 0.5 * play;
    const square = distance * distance - half * half;
    if (!(half > 0 && square > 0)) {
      weight[i] = 0;
      clearance[i] = 0;
      continue;
    }
    const radial = Math.sqrt(square);
    clearance[i] = (2 * half * half) / (distance + radial);
    // dG/dP = half/radial.
    if (density !== null) weight[i] *= (density(clearance[i]) * half) / radial;
  }
}

function weighByPair(
  { meanMm, standardMm, degreesOfFreedom }: NonNullable<Evidence["pairPlay"]>,
  playMm: Float64Array,
  count: number,
  weight: Float64Array,
): void {
  const isNormal = degreesOfFreedom > 1e6;
  for (let i = 0; i < count; i += 1) {
    const z = (meanMm - playMm[i]) / standardMm;
    weight[i] *= isNormal ? normalPdf(z) : studentTPdf(z, degreesOfFreedom);
  }
}

interface Watched {
  readonly unknown: Unknown;
  add(
    inputs: readonly Float64Array[],
    workspace: Workspace,
    onsetMm: Float64Array,
    count: number,
    weight: Float64Array,
    isGood: Uint8Array,
  ): void;
}

/** Quantities of the unit that a measurement could settle; the bins of each stand at the quantiles of the first block. */
function watch(scenario: ResolvedScenario, evidence: Evidence): Watched[] {
  const { variables } = scenario;
  const dimensions = new Set(scenario.chain.map(({ length }) => length));
  const parts: readonly VariableIndex[] = variables.flatMap(({ group, distribution }, index) => {
    return group !== "seat friction" && (distribution.kind !== "constant" || evidence.measured.has(index))
      ? [index]
      : [];
  });
  const kindOf = (index: VariableIndex): Unknown["kind"] => {
    const { group } = variables[index];
    if (group === "temperature" || group === "heat") return "service";
    return dimensions.has(index) ? "dimension" : "bearing";
  };
  const make = (unknown: Omit<Unknown, "weights" | "good">, pick: (at: PickFrom) => Float64Array): Watched => {
    const weights = new Float64Array(BINS);
    const good = new Float64Array(BINS);
    let bins: Bins | null = null;
    return {
      unknown: { ...unknown, weights, good },
      add(inputs, workspace, onsetMm, count, weight, isGood) {
        const values = pick({ inputs, workspace, onsetMm });
        bins ??= guided(cutPoints(values, weight, count));
        const { cuts, guide, low, scale } = bins;
        for (let i = 0; i < count; i += 1) {
          const value = values[i];
          let bin = guide[Math.max(0, Math.min(GUIDE - 1, Math.floor((value - low) * scale)))];
          while (bin < cuts.length && value > cuts[bin]) bin += 1;
          weights[bin] += weight[i];
          if (isGood[i] === 1) good[bin] += weight[i];
        }
      },
    };
  };
  const past = new Float64Array(BLOCK_SIZE);
  const single = parts.map((index) =>
    make(
      {
        label: variables[index].label,
        kind: kindOf(index),
        variable: index,
        isMeasured: evidence.measured.has(index),
      },
      ({ inputs }) => inputs[index],
    ),
  );
  return [
    ...single,
    make(
      {
        label: "play of the assembled pair",
        kind: "pair play",
        variable: null,
        isMeasured: evidence.pairPlay !== null,
      },
      // How far the unit stands past its onset; with a thicker shim of known size a preloaded one shows it as play.
      ({ workspace, onsetMm }) => {
        const { machinedOffsetMm } = workspace;
        for (let i = 0; i < past.length; i += 1) past[i] = machinedOffsetMm[i] - onsetMm[i];
        return past;
      },
    ),
    make(
      { label: "set of all spacings", kind: "all dimensions", variable: null, isMeasured: false },
      ({ workspace }) => workspace.machinedOffsetMm,
    ),
  ];
}

interface PickFrom {
  readonly inputs: readonly Float64Array[];
  readonly workspace: Workspace;
  readonly onsetMm: Float64Array;
}

/** Inner ends of bins of equal weight. */
function cutPoints(values: Float64Array, weight: Float64Array, count: number): Float64Array {
  const order = Uint32Array.from({ length: count }, (_, i) => i).sort((a, b) => values[a] - values[b]);
  let total = 0;
  for (let i = 0; i < count; i += 1) total += weight[i];
  const cuts = new Float64Array(BINS - 1);
  let sum = 0;
  let next = 0;
  for (const i of order) {
    sum += weight[i];
    while (next < cuts.length && sum >= ((next + 1) * total) / BINS) {
      cuts[next] = values[i];
      next += 1;
    }
  }
  return cuts;
}

/** Cells over the cut points that lead to a bin in a step or two. */
const GUIDE = 512;

interface Bins {
  readonly cuts: Float64Array;
  /** First bin that a value in a cell may lie in. */
  readonly guide: Uint8Array;
  readonly low: number;
  readonly scale: number;
}

function guided(cuts: Float64Array): Bins {
  const low = cuts[0];
  const width = cuts[cuts.length - 1] - low;
  const guide = new Uint8Array(GUIDE);
  const scale = width > 0 ? (GUIDE - 1) / width : 0;
  for (let cell = 1; cell < GUIDE; cell += 1) {
    let bin = guide[cell - 1];
    // A cell begins a hair lower than rounding may put a value in it.
    while (scale > 0 && bin < cuts.length && cuts[bin] < low + (cell - 1e-6) / scale) bin += 1;
    guide[cell] = bin;
  }
  return { cuts, guide, low, scale };
}
