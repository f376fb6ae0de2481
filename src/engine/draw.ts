import { combineBatch } from "../distributions/batch.ts";
import { applyCopula, type Copula, createCopula } from "../distributions/copula.ts";
import { prepare } from "../distributions/prepare.ts";
import type { ColumnTransform } from "../distributions/prepared.ts";
import type { Distribution } from "../distributions/types.ts";
import type { Kernel } from "../kernel/kernel.ts";
import { PLAIN_KERNEL } from "../kernel/plain.ts";
import { fillScrambledSobol, type ScrambleKey, scrambleKey } from "../random/owen.ts";
import { SOBOL_DIMENSIONS } from "../random/sobol.ts";
import {
  BLOCK_SIZE,
  DRAW_DOMAIN,
  fillUniform,
  openStream,
  type SeedKey,
  seedKey,
  uniformAt,
  variableId,
} from "../random/streams.ts";
import type { ResolvedScenario, Variable } from "../scenario/types.ts";
import { createFrameRoom, type FrameRoom, type ScoreFrame, turnUniforms } from "./frame.ts";

/** Blocks set apart for each replicate of a variable that has no Sobol' dimension. */
const REPLICATE_BLOCKS = 1_048_576;

interface DrawnVariable {
  /** Place in the scenario's list, and in every list of columns. */
  readonly index: number;
  readonly id: readonly [number, number];
  readonly batchShare: number;
  readonly transform: ColumnTransform;
}

/** How the columns of a block are drawn: one uniform a variable and sample, through the inverse CDF. */
export interface DrawPlan {
  readonly kernel: Kernel;
  readonly key: SeedKey;
  readonly variableCount: number;
  readonly drawn: readonly DrawnVariable[];
  readonly constants: readonly { readonly index: number; readonly value: number }[];
  readonly copulas: readonly { readonly variables: readonly number[]; readonly copula: Copula }[];
  /** Median of every variable: what "exactly nominal" means for a contributor. */
  readonly medians: Float64Array;
}

/** What is drawn: all of a scenario that the draws depend on. */
export interface DrawSource extends Pick<ResolvedScenario, "seed" | "correlations"> {
  readonly variables: readonly Pick<Variable, "name" | "distribution" | "batchShare">[];
}

/** Turns a distribution into what a draw needs of it. */
export interface DrawnLaw {
  readonly transform: ColumnTransform;
  readonly median: number;
}

/**
 * Prepares drawing: inverse CDFs, names of streams, copulas and constants.
 *
 * @param kernel whose columns the draws are written to
 * @param lawOf where the constants of a distribution come from; by default they are worked out anew
 * @throws InputError for correlations that contradict one another
 */
export function compileDraw(
  scenario: DrawSource,
  kernel: Kernel = PLAIN_KERNEL,
  lawOf: (variable: DrawSource["variables"][number]) => DrawnLaw = (variable) =>
    drawnLaw(variable.distribution, kernel),
): DrawPlan {
  const drawn: DrawnVariable[] = [];
  const constants: { index: number; value: number }[] = [];
  const medians = new Float64Array(scenario.variables.length);
  scenario.variables.forEach((variable, index) => {
    if (variable.distribution.kind === "constant") {
      constants.push({ index, value: variable.distribution.value });
      medians[index] = variable.distribution.value;
    } else {
      const law = lawOf(variable);
      drawn.push({
        index,
        id: variableId(variable.name),
        batchShare: variable.batchShare,
        transform: law.transform,
      });
      medians[index] = law.median;
    }
  });
  return {
    kernel,
    key: seedKey(scenario.seed),
    variableCount: scenario.variables.length,
    drawn,
    constants,
    copulas: scenario.correlations.map(({ variables, matrix }) => ({
      variables,
      copula: createCopula(matrix, variables.length),
    })),
    medians,
  };
}

/** The kernel's own loop for the hot laws; the others are plain in every kernel. */
export function drawnLaw(distribution: Distribution, kernel: Kernel): DrawnLaw {
  const { law, transform, quantile } = prepare(distribution);
  return {
    transform: law === undefined ? transform : (column, count) => kernel.transform(law, column, count),
    median: quantile(0.5),
  };
}

/** Columns of a block, one a variable; those of constants are filled once here. */
export function createInputs(plan: DrawPlan, size: number): Float64Array[] {
  const inputs = Array.from({ length: plan.variableCount }, () => plan.kernel.column(size));
  for (const { index, value } of plan.constants) inputs[index].fill(value);
  return inputs;
}

/**
 * Draws block `block` of independent units. Element i of every column is that of sample block·BLOCK_SIZE + i, whatever
 * else is drawn and wherever.
 *
 * @param uniforms where to keep the uniforms as well, one column a variable, or null
 */
export function drawBlock(
  plan: DrawPlan,
  block: number,
  inputs: readonly Float64Array[],
  count: number,
  uniforms: readonly Float64Array[] | null = null,
): void {
  fillUniforms(plan, block, inputs, count, DRAW_DOMAIN.unit);
  correlate(plan, inputs, count);
  if (uniforms !== null) for (const { index } of plan.drawn) uniforms[index].set(inputs[index]);
  for (const { index, transform } of plan.drawn) transform(inputs[index], count);
}

/** Opens the stream of every drawn variable and fills its column with uniforms. */
function fillUniforms(
  plan: DrawPlan,
  block: number,
  inputs: readonly Float64Array[],
  count: number,
  domain: number,
): void {
  const states = new Uint32Array(4 * plan.drawn.length);
  plan.drawn.forEach(({ id }, place) => {
    openStream(plan.key, id, block, domain, states.subarray(4 * place, 4 * place + 4));
  });
  plan.kernel.fillUniforms(
    states,
    plan.drawn.map(({ index }) => inputs[index]),
    count,
  );
}

/** Which Sobol' dimension each drawn variable takes, most telling first, and what each replicate scrambles by. */
export interface SobolPlan {
  /** Places in `DrawPlan.drawn`; those past the published dimensions are drawn as pseudo-random numbers. */
  readonly order: readonly number[];
  readonly scrambles: Map<number, readonly ScrambleKey[]>;
  /** First of the dimensions taken, and what is added to a replicate's number: a second, independent set has its own. */
  readonly firstDimension: number;
  readonly replicateOffset: number;
  /** Directions of normal scores that the dimensions run along in place of the variables; null: the variables themselves. */
  readonly frame: { readonly frame: ScoreFrame; readonly room: FrameRoom } | null;
}

/** Replicates of the second of two independent sets are numbered from here. */
const SECOND_SET = 2048;

/**
 * @param skip variables that are not drawn at all but held by the caller
 * @param isSecond a set of points of its own, on the dimensions behind those of the first
 * @param frame directions of the scores of what is not skipped, in the order of the plan
 * @param size most points drawn at a time
 */
export function compileSobol(
  plan: DrawPlan,
  skip: readonly number[],
  isSecond = false,
  frame: ScoreFrame | null = null,
  size = BLOCK_SIZE,
): SobolPlan {
  const order = plan.drawn.map((_, place) => place).filter((place) => !skip.includes(plan.drawn[place].index));
  return {
    order,
    scrambles: new Map(),
    firstDimension: isSecond ? order.length : 0,
    replicateOffset: isSecond ? SECOND_SET : 0,
    frame: frame === null ? null : { frame, room: createFrameRoom(frame, size) },
  };
}

/**
 * Draws points `first` … of one replicate: a Sobol' sequence with a scramble of its own for every replicate and variable.
 * The columns of variables that the plan skips are left as they are.
 */
export function drawSobolBlock(
  plan: DrawPlan,
  sobol: SobolPlan,
  replicate: number,
  first: number,
  inputs: readonly Float64Array[],
  count: number,
): void {
  const { firstDimension, replicateOffset } = sobol;
  const published = SOBOL_DIMENSIONS - firstDimension;
  const numbered = replicate + replicateOffset;
  let scrambles = sobol.scrambles.get(replicate);
  if (scrambles === undefined) {
    scrambles = sobol.order
      .slice(0, Math.max(0, published))
      .map((place) => scrambleKey(plan.key, numbered, plan.drawn[place].id));
    sobol.scrambles.set(replicate, scrambles);
  }
  sobol.order.forEach((place, dimension) => {
    const { index, id } = plan.drawn[place];
    if (dimension < published) {
      fillScrambledSobol(scrambles[dimension], firstDimension + dimension + 1, first, count, inputs[index]);
    } else {
      const block = numbered * REPLICATE_BLOCKS + Math.floor(first / BLOCK_SIZE);
      fillUniform(plan.key, id, block, inputs[index], count, DRAW_DOMAIN.replicate);
    }
  });
  if (sobol.frame !== null) {
    const columns = sobol.order.map((place) => inputs[plan.drawn[place].index]);
    turnUniforms(sobol.frame.frame, sobol.frame.room, columns, count);
  }
  correlate(plan, inputs, count);
  for (const place of sobol.order) plan.drawn[place].transform(inputs[plan.drawn[place].index], count);
}

/** Draws `count` units of one batch: the shared part of a spread is drawn once for the batch, the rest for every unit. */
export function drawBatchBlock(
  plan: DrawPlan,
  batch: number,
  block: number,
  inputs: readonly Float64Array[],
  count: number,
): void {
  fillUniforms(plan, block, inputs, count, DRAW_DOMAIN.batchUnit);
  correlate(plan, inputs, count);
  const shared = sharedScores(plan, batch);
  for (const { index, batchShare, transform } of plan.drawn) {
    if (batchShare > 0) combineBatch(inputs[index], count, shared[index], batchShare);
    transform(inputs[index], count);
  }
}

/** The uniforms that a batch has in common, one a variable, correlated like those of the units. */
function sharedScores(plan: DrawPlan, batch: number): Float64Array {
  const columns = Array.from({ length: plan.variableCount }, () => new Float64Array(1));
  for (const { index, id } of plan.drawn) columns[index][0] = uniformAt(plan.key, id, batch, DRAW_DOMAIN.batch);
  correlate(plan, columns, 1);
  return Float64Array.from(columns, (column) => column[0]);
}

/** Turns independent uniforms of correlated variables into such that hang together. */
export function correlate(plan: DrawPlan, columns: readonly Float64Array[], count: number): void {
  for (const { variables, copula } of plan.copulas) {
    applyCopula(
      copula,
      variables.map((index) => columns[index]),
      count,
    );
  }
}
