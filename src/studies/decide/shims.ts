import { compileDraw, createInputs, drawBlock } from "../../engine/draw.ts";
import { InternalError } from "../../errors.ts";
import { compilePlan } from "../../model/plan.ts";
import { BLOCK_SIZE } from "../../random/streams.ts";
import type { VariableScenario } from "../../scenario/source.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { binomialInterval } from "../../stats/intervals.ts";
import { stockFor } from "../../stats/stock.ts";
import type { Maker } from "../yield.ts";
import { type AssessSize, drawFates, type RatioEstimate } from "./assess.ts";
import { chooseMember, refusal } from "./centre.ts";
import { type Finding, headOf } from "./compare.ts";
import { drawnMembers } from "./moved.ts";
import { plainShare } from "./plain-share.ts";
import type { ShimRow, ShimsResult, StockedShim } from "./result.ts";
import { applyShims, bestAim, type ShimRule, type ShimUnits, shimUnits } from "./shim-units.ts";

/** Steps that stocks come in, mm. */
export const USUAL_STEPS_MM = [0.005, 0.01, 0.02, 0.025, 0.05, 0.1];

/** Yield that a coarser step, or the easier measurement, may cost. */
const WORTH_RATIO = 0.003;

export interface ShimsRequest {
  /** Null: both ways are tried. */
  readonly measure: ShimRule["measure"] | null;
  /** Steps to choose from, mm, rising. */
  readonly stepsMm: readonly number[];
  /** Error of the measurement, as in a scenario; null: that of the scenario, or ±3 µm. */
  readonly error: string | null;
  readonly batchSize: number;
  /** Chance with which the stock lasts for the batch. */
  readonly serviceRatio: number;
  /** The member that the shim is, or null for the shortest. */
  readonly member: string | null;
  readonly size: AssessSize;
  readonly maker: Maker;
}

/** Which shims to stock, in which steps, and how many of each for a batch. */
export function planShims(source: VariableScenario, request: ShimsRequest): Finding<ShimsResult> {
  const position =
    source.base.method.kind === "position"
      ? source.base
      : source.vary([{ path: "preload", value: { method: "position" } }]);
  if (position.requirements.length > 0 || position.states.some(({ network }) => network !== null)) {
    throw refusal(position);
  }
  const written = source.at("preload.shim.error");
  const error = request.error ?? (typeof written === "string" ? written : null);
  const errorText = error ?? "0 ±3 um";
  const units = shimUnits(position, compilePlan(position), request.size.samples);
  const shimmed = (rule: ShimRule): ResolvedScenario =>
    source.vary([
      {
        path: "preload",
        value: {
          method: "shim",
          shim: { measure: rule.measure, step: mm(rule.stepMm), error: errorText, aim: mm(rule.aimMm) },
        },
      },
    ]);
  const errorMm = errorsOf(shimmed({ measure: "play", stepMm: request.stepsMm[0], aimMm: 0 }), units.count);
  const measures = request.measure === null ? (["dimensions", "play"] as const) : [request.measure];
  const rows = measures.flatMap((measure) => request.stepsMm.map((stepMm) => rowOf(units, measure, stepMm, errorMm)));
  const chosen = choose(rows);
  const rule: ShimRule = chosen;
  const { classes } = applyShims(units, rule, errorMm);
  const members = drawnMembers(position, compilePlan(position));
  const member = chooseMember(members, request.member);
  const stock = stockOf(classes, units.count, rule.stepMm, member, request);
  const scenario = shimmed(rule);
  const check = plainShare(
    drawFates({ ...scenario, seed: `${scenario.seed} again` }, compilePlan(scenario), request.size.samples).fates,
  );
  return {
    ...headOf("shims", position, request, source.base.content),
    before: asMachined(units),
    rows,
    chosen,
    member: { name: member.name, nominalMm: member.nominalMm },
    error: { words: errorText, isAssumed: error === null },
    byError: [0, 1, 2].map((factor) => {
      const scaled = errorMm.map((value) => factor * value);
      return { factorRatio: factor, good: rowOf(units, rule.measure, rule.stepMm, scaled).good };
    }),
    stock: stock.shims,
    shimBatchSize: request.batchSize,
    serviceRatio: request.serviceRatio,
    coverRatio: stock.coverRatio,
    check,
  };
}

function mm(value: number): string {
  return `${Number(value.toPrecision(9))} mm`;
}

/** The errors that the first units of a run are measured with. */
function errorsOf(scenario: ResolvedScenario, count: number): Float64Array {
  if (scenario.method.kind !== "shim") throw new InternalError("shims without a measurement");
  const draw = compileDraw(scenario);
  const inputs = createInputs(draw, Math.min(BLOCK_SIZE, count));
  const errors = new Float64Array(count);
  for (let first = 0; first < count; first += BLOCK_SIZE) {
    const here = Math.min(BLOCK_SIZE, count - first);
    drawBlock(draw, first / BLOCK_SIZE, inputs, here);
    errors.set(inputs[scenario.method.error].subarray(0, here), first);
  }
  return errors;
}

function shareOfCount(count: number, total: number): RatioEstimate {
  const { low, high } = binomialInterval(count, total);
  return { ratio: count / total, lowRatio: low, highRatio: high };
}

function asMachined({ count, machinedMm, lowMm, highMm }: ShimUnits): RatioEstimate {
  let good = 0;
  for (let i = 0; i < count; i += 1) if (machinedMm[i] >= lowMm[i] && machinedMm[i] <= highMm[i]) good += 1;
  return shareOfCount(good, count);
}

function rowOf(units: ShimUnits, measure: ShimRule["measure"], stepMm: number, errorMm: Float64Array): ShimRow {
  const aimMm = bestAim(units, measure, stepMm, errorMm);
  const { goodCount, classes, residualSdMm } = applyShims(units, { measure, stepMm, aimMm }, errorMm);
  const steps = [...classes.keys()];
  return {
    measure,
    stepMm,
    aimMm,
    good: shareOfCount(goodCount, units.count),
    residualSdMm,
    thicknesses: classes.size,
    lowMm: stepMm * Math.min(...steps),
    highMm: stepMm * Math.max(...steps),
  };
}

/** The easier measurement where it is as good; then the coarsest step that costs next to nothing. */
function choose(rows: readonly ShimRow[]): ShimRow {
  const bestOf = (list: readonly ShimRow[]) => Math.max(...list.map(({ good }) => good.ratio));
  const most = bestOf(rows);
  const easy = rows.filter(({ measure }) => measure === "dimensions");
  const kind = easy.length > 0 && bestOf(easy) >= most - WORTH_RATIO ? easy : rows;
  const enough = kind.filter(({ good }) => good.ratio >= bestOf(kind) - WORTH_RATIO);
  return enough.reduce((a, b) => (b.stepMm > a.stepMm ? b : a));
}

function stockOf(
  classes: ReadonlyMap<number, number>,
  count: number,
  stepMm: number,
  member: { readonly nominalMm: number; readonly slopeRatio: number },
  { batchSize, serviceRatio }: ShimsRequest,
): { shims: StockedShim[]; coverRatio: number } {
  const entries = [...classes].sort((a, b) => a[0] - b[0]);
  const shares = entries.map(([, units]) => units / count);
  const { stock, coverRatio } = stockFor(batchSize, shares, serviceRatio);
  // The sign of a dimension's slope is all that is left of it on a shim: 1 part in 10 000 of a correction is nothing.
  const direction = Math.sign(member.slopeRatio);
  return {
    coverRatio,
    shims: entries
      .map(([steps], place) => ({
        correctionMm: steps * stepMm,
        thicknessMm: member.nominalMm + direction * steps * stepMm,
        share: shareOfCount(entries[place][1], count),
        expected: batchSize * shares[place],
        stock: stock[place],
      }))
      .sort((a, b) => a.thicknessMm - b.thicknessMm),
  };
}
