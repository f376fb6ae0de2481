import { standardDeviation } from "../../distributions/moments.ts";
import { compileDraw, compileSobol, createInputs, drawBlock, drawSobolBlock } from "../../engine/draw.ts";
import { countedStateNames } from "../../engine/kept.ts";
import { countedColumns } from "../../engine/tally.ts";
import { createWorkspace } from "../../model/columns.ts";
import { evaluateBlock } from "../../model/evaluate.ts";
import { compilePlan } from "../../model/plan.ts";
import { normalQuantile } from "../../numeric/special.ts";
import { BLOCK_SIZE } from "../../random/streams.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { groupIndices } from "../../stats/group-indices.ts";
import { addScores, emptyScoreSums, yieldSlope } from "../../stats/score-gradients.ts";
import { type CauseGroup, causeGroups } from "../variations.ts";
import type { Maker } from "../yield.ts";
import type { AssessSize } from "./assess.ts";
import { type Finding, headOf } from "./compare.ts";
import { plainShare } from "./plain-share.ts";
import type { CauseIndices, ContributorsStudyResult, VariableSlope } from "./result.ts";

const REPLICATES = 8;

const NORMAL_95 = 1.959963984540054;

export interface ContributorsRequest {
  readonly size: AssessSize;
  readonly maker: Maker;
}

/**
 * What drives the preload in every state and the yield: first-order and total indices of every cause, and the slope of the yield
 * by every mean and spread.
 */
export function studyContributors(
  scenario: ResolvedScenario,
  { size, maker }: ContributorsRequest,
): Finding<ContributorsStudyResult> {
  const plan = compilePlan(scenario);
  const names = countedStateNames(plan);
  const causes = joinCorrelated(scenario, causeGroups(scenario));
  const draw = compileDraw(scenario);
  const points = Math.max(64, size.points / 2);
  const block = Math.min(BLOCK_SIZE, points);
  const workspace = createWorkspace(plan, block);
  const first = compileSobol(draw, []);
  const second = compileSobol(draw, [], true);
  const indices = groupIndices(
    (inputs, outputs, count) => {
      evaluateBlock(plan, inputs, count, workspace);
      const good = outputs[names.length];
      good.fill(1, 0, count);
      countedColumns(workspace).forEach((columns, s) => {
        outputs[s].set(columns.preloadN.subarray(0, count));
        for (let i = 0; i < count; i += 1) if (columns.good[i] === 0) good[i] = 0;
      });
    },
    names.length + 1,
    causes.map(({ variables }) => variables),
    REPLICATES,
    block,
    (replicate, a, b) => {
      drawSobolBlock(draw, first, replicate, 0, a, block);
      drawSobolBlock(draw, second, replicate, 0, b, block);
    },
    () => createInputs(draw, block),
  );
  const rows = causes.map(
    ({ groupLabel, group, origin, variables }, g): CauseIndices => ({
      cause: groupLabel,
      group,
      origin,
      quantities: variables.length,
      preload: names.map((state, s) => ({
        state,
        firstOrder: indices[s].firstOrder[g],
        total: indices[s].total[g],
      })),
      yield: { firstOrder: indices[names.length].firstOrder[g], total: indices[names.length].total[g] },
    }),
  );
  const slopes = slopesOf(scenario, size.samples);
  return {
    ...headOf("contributors", scenario, { size, maker }),
    indexBasis: {
      replicates: REPLICATES,
      pointsPerReplicate: block,
      evaluations: REPLICATES * block * (causes.length + 2),
    },
    good: slopes.good,
    causes: rows.sort((a, b) => b.yield.total.indexRatio - a.yield.total.indexRatio),
    slopes: slopes.rows,
  };
}

/** Causes that hold correlated quantities are one: they cannot be exchanged apart. */
function joinCorrelated(scenario: ResolvedScenario, causes: readonly CauseGroup[]): CauseGroup[] {
  let joined = causes.slice();
  for (const { variables } of scenario.correlations) {
    const touched = joined.filter((cause) => cause.variables.some((index) => variables.includes(index)));
    if (touched.length < 2) continue;
    const [head] = touched;
    const together: CauseGroup = {
      ...head,
      groupLabel: touched.map(({ groupLabel }) => groupLabel).join(" with "),
      variables: touched.flatMap((cause) => cause.variables),
    };
    joined = [together, ...joined.filter((cause) => !touched.includes(cause))];
  }
  return joined;
}

function slopesOf(scenario: ResolvedScenario, samples: number) {
  const plan = compilePlan(scenario);
  const draw = compileDraw(scenario);
  const size = Math.min(BLOCK_SIZE, samples);
  const inputs = createInputs(draw, size);
  const uniforms = inputs.map(() => new Float64Array(size));
  const workspace = createWorkspace(plan, size);
  const failing = emptyScoreSums(draw.drawn.length);
  const passing = emptyScoreSums(draw.drawn.length);
  const scores = draw.drawn.map(() => new Float64Array(size));
  const fates = new Uint8Array(samples);
  const failures = new Uint8Array(size);
  const goods = new Uint8Array(size);
  for (let start = 0; start < samples; start += BLOCK_SIZE) {
    const count = Math.min(BLOCK_SIZE, samples - start);
    drawBlock(draw, start / BLOCK_SIZE, inputs, count, uniforms);
    evaluateBlock(plan, inputs, count, workspace);
    failures.fill(0, 0, count);
    for (const { good } of countedColumns(workspace)) {
      for (let i = 0; i < count; i += 1) if (good[i] === 0) failures[i] = 1;
    }
    fates.set(failures.subarray(0, count), start);
    draw.drawn.forEach(({ index }, place) => {
      const from = uniforms[index];
      const into = scores[place];
      for (let i = 0; i < count; i += 1) into[i] = normalQuantile(from[i]);
    });
    for (let i = 0; i < count; i += 1) goods[i] = 1 - failures[i];
    addScores(failing, scores, failures, count);
    addScores(passing, scores, goods, count);
  }
  const good = plainShare(fates);
  // Both sums have the same mean but for their sign; that over the fewer units has the less spread.
  const [sums, sign] = good.ratio < 0.5 ? [passing, -1] : [failing, 1];
  const correlated = new Set(scenario.correlations.flatMap(({ variables }) => variables));
  const rows = draw.drawn
    .flatMap(({ index }, place): VariableSlope[] => {
      // A score of one of several correlated quantities is not its own.
      if (correlated.has(index)) return [];
      const { name, label, unit, distribution } = scenario.variables[index];
      const { byMean, bySpread } = yieldSlope(sums, place);
      const estimate = (value: number, error: number) => ({
        changeRatio: sign * value,
        lowRatio: sign * value - NORMAL_95 * error,
        highRatio: sign * value + NORMAL_95 * error,
      });
      return [
        {
          name,
          label,
          unit,
          sd: standardDeviation(distribution),
          byTenthOfSd: estimate(0.1 * byMean.value, 0.1 * byMean.standardError),
          byTenPercentSpread: estimate(0.1 * bySpread.value, 0.1 * bySpread.standardError),
        },
      ];
    })
    .sort((a, b) => a.byTenPercentSpread.changeRatio - b.byTenPercentSpread.changeRatio);
  return { rows, good };
}
