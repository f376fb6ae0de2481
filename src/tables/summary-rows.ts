import { FLAGS, OUTCOMES } from "../model/outcome.ts";
import type { QuantitySummary, RunResult, Share } from "../studies/result.ts";

/**
 * One figure of a run. `scope` is the name of a state, or one of `every state`, `averaged`, `bench scrap`, `service`,
 * `batch`, `window`, `nominal`. `low` and `high` are the ends of the 95 % interval where the figure has one (90 % of
 * batches for scope `batch`), else NaN; `count` is the number of units behind it, else NaN.
 */
export interface SummaryRow {
  readonly scope: string;
  /** What was found: `outcome`, `flag`, `preload`, `clearance a`, `yield gain`, ... */
  readonly measure: string;
  /** Which one of them: a class, a flag, a group of causes, a pair of states; empty where there is only one. */
  readonly item: string;
  /** `share`, `mean`, `sd`, `min`, `max`, `q0.05`, `first-order`, `gain`, `value`, ... */
  readonly statistic: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly count: number;
  readonly unit: string;
  /** Method of an interval, origin of a cause, end of an assumed range; empty where there is nothing to say. */
  readonly note: string;
}

/** Every figure of a run as tidy rows, in the order of the report. */
export function summaryRows(result: RunResult): SummaryRow[] {
  return [
    ...overallRows(result),
    ...result.states.flatMap(stateRows),
    ...batchRows(result),
    ...contributorRows(result),
    ...windowRows(result),
    ...requirementRows(result),
    ...rareRows(result),
    ...extendedRows(result),
    ...nominalRows(result),
  ];
}

export type Place = Pick<SummaryRow, "scope" | "measure" | "item">;

export function figure(
  place: Place,
  statistic: string,
  value: number,
  unit: string,
  rest: Partial<SummaryRow> = {},
): SummaryRow {
  const nothing = { low: Number.NaN, high: Number.NaN, count: Number.NaN, note: "" };
  return { ...place, statistic, value, unit, ...nothing, ...rest };
}

export function shareRow(scope: string, measure: string, item: string, share: Share): SummaryRow {
  const { shareRatio, lowRatio: low, highRatio: high, count, method: note } = share;
  return figure({ scope, measure, item }, "share", shareRatio, "1", { low, high, count, note });
}

export function quantityRows(scope: string, measure: string, quantity: QuantitySummary): SummaryRow[] {
  const place = { scope, measure, item: "" };
  const { unit, count } = quantity;
  return [
    ...(["mean", "sd", "min", "max"] as const).map((name) => figure(place, name, quantity[name], unit, { count })),
    ...quantity.quantiles.map(({ probabilityRatio, value }) =>
      figure(place, `q${probabilityRatio}`, value, unit, { count }),
    ),
  ];
}

function overallRows({ overall }: RunResult): SummaryRow[] {
  const { shareRatio, lowRatio: low, highRatio: high } = overall.averagedOverStates;
  return [
    shareRow("every state", "yield", "", overall.goodInEveryState),
    figure({ scope: "averaged", measure: "yield", item: "" }, "share", shareRatio, "1", { low, high }),
    shareRow("bench scrap", "failures", "", overall.failsAtBench),
    shareRow("service", "failures", "", overall.failsInService),
    ...overall.serviceCauses.map(({ state, outcome, share }) =>
      shareRow("service", "cause", `${state}: ${outcome}`, share),
    ),
  ];
}

function stateRows(state: RunResult["states"][number]): SummaryRow[] {
  const scope = state.name;
  return [
    shareRow(scope, "good", "", state.good),
    ...OUTCOMES.map((outcome) => shareRow(scope, "outcome", outcome, state.outcomes[outcome])),
    ...FLAGS.map((flag) => shareRow(scope, "flag", flag, state.flags[flag])),
    ...quantityRows(scope, "preload", state.preloadN),
    ...quantityRows(scope, "axial play", state.playMm),
    ...quantityRows(scope, "offset", state.offsetMm),
    ...quantityRows(scope, "clearance a", state.clearanceMm.a),
    ...quantityRows(scope, "clearance b", state.clearanceMm.b),
    ...Object.entries(state.temperatureC).flatMap(([item, { mean, sd }]) => [
      figure({ scope, measure: "temperature", item }, "mean", mean, "degC"),
      figure({ scope, measure: "temperature", item }, "sd", sd, "K"),
    ]),
  ];
}

function batchRows({ batch }: RunResult): SummaryRow[] {
  const kinds = { good: batch.good, "bench failures": batch.benchFailures, "service failures": batch.serviceFailures };
  return Object.entries(kinds).map(([item, { expected, low, high }]) =>
    figure({ scope: "batch", measure: "units", item }, "expected", expected, "1", {
      low,
      high,
      count: batch.size,
      note: batch.method,
    }),
  );
}

function contributorRows({ contributors }: RunResult): SummaryRow[] {
  const count = contributors.samples;
  return [
    ...contributors.yieldGain.map((row) =>
      figure({ scope: "every state", measure: "yield gain", item: row.groupLabel }, "gain", row.gainRatio, "1", {
        low: row.lowRatio,
        high: row.highRatio,
        count,
        note: row.origin,
      }),
    ),
    ...contributors.preloadVariance.flatMap(({ state, rows }) =>
      rows.map((row) =>
        figure(
          { scope: state, measure: "preload variance", item: row.groupLabel },
          "first-order",
          row.firstOrderRatio,
          "1",
          {
            count,
            note: row.origin,
          },
        ),
      ),
    ),
    ...contributors.assumptions.flatMap(({ label, lowEnd, highEnd }) =>
      [lowEnd, highEnd].map((end, index) =>
        figure(
          { scope: "every state", measure: "assumption", item: label },
          index === 0 ? "yield at low end" : "yield at high end",
          end.yieldRatio,
          "1",
          { count, note: end.value },
        ),
      ),
    ),
  ];
}

function windowRows({ window }: RunResult): SummaryRow[] {
  return [
    ...quantityRows("window", "machined offset", window.machinedOffsetMm),
    ...quantityRows("window", "window low", window.lowMm),
    ...quantityRows("window", "window high", window.highMm),
    ...quantityRows("window", "window width", window.widthMm),
    shareRow("window", "empty", "", window.empty),
    ...window.collisions.map(({ states, share }) => shareRow("window", "collision", states.join(" and "), share)),
    ...window.states.flatMap((state) => [
      ...quantityRows(state.state, "window onset", state.onsetMm),
      ...quantityRows(state.state, "window low", state.lowMm),
      ...quantityRows(state.state, "window high", state.highMm),
      ...quantityRows(state.state, "window bind", state.bindMm),
    ]),
  ];
}

function requirementRows({ requirements, runaway }: RunResult): SummaryRow[] {
  return [
    ...requirements.flatMap(({ quantity, states }) =>
      states.map(({ state, share }) => shareRow(state, "requirement met", quantity, share)),
    ),
    ...runaway.flatMap(({ state, bySpeed, byAmbient }) => [
      ...bySpeed.map(({ speedPerMin, share }) => shareRow(state, "thermal runaway", `${speedPerMin} 1/min`, share)),
      ...byAmbient.map(({ ambientC, share }) => shareRow(state, "thermal runaway", `${ambientC} degC`, share)),
    ]),
  ];
}

function rareRows({ rare }: RunResult): SummaryRow[] {
  return rare.map(({ what, state, outcome, shareRatio, lowRatio, highRatio, effectiveCount, method }) =>
    figure({ scope: state ?? what, measure: "rare", item: outcome ?? "failures" }, "share", shareRatio, "1", {
      low: lowRatio,
      high: highRatio,
      count: effectiveCount,
      note: method,
    }),
  );
}

function extendedRows({ extended, states }: RunResult): SummaryRow[] {
  const gaps = states.flatMap(({ name, gapMm, movementMm, frictionHeatW }) => [
    ...(gapMm === null ? [] : quantityRows(name, "gap", gapMm)),
    ...(movementMm === null ? [] : quantityRows(name, "movement of the gap", movementMm)),
    ...(frictionHeatW === null ? [] : quantityRows(name, "friction heat", frictionHeatW)),
  ]);
  if (extended === null) return gaps;
  return [
    ...gaps,
    shareRow("every state", "yield, first units", "", extended.goodInEveryState),
    ...extended.states.flatMap(({ state, quantities, truncated }) => [
      shareRow(state, "truncated", "", truncated),
      ...quantities.flatMap(({ label, summary }) => quantityRows(state, label, summary)),
    ]),
  ];
}

function nominalRows({ nominal }: RunResult): SummaryRow[] {
  const overall = { scope: "nominal", measure: "machined offset", item: "" };
  return [
    figure(overall, "value", nominal.machinedOffsetMm, "mm"),
    figure(overall, "worst case low", nominal.worstCaseMm.low, "mm"),
    figure(overall, "worst case high", nominal.worstCaseMm.high, "mm"),
    figure(overall, "root sum square low", nominal.rootSumSquareMm.low, "mm"),
    figure(overall, "root sum square high", nominal.rootSumSquareMm.high, "mm"),
    ...nominal.states.flatMap((state) => {
      const lengths = {
        offset: state.offsetMm,
        onset: state.onsetMm,
        "sum of plays": state.sumOfPlaysMm,
        "window low": state.lowMm,
        "window high": state.highMm,
        bind: state.bindMm,
        "clearance a": state.clearanceMm.a,
        "clearance b": state.clearanceMm.b,
        "axial play a": state.axialPlayMm.a,
        "axial play b": state.axialPlayMm.b,
      };
      return [
        ...Object.entries(lengths).map(([measure, value]) =>
          figure({ scope: state.state, measure, item: "nominal" }, "value", value, "mm"),
        ),
        figure({ scope: state.state, measure: "preload", item: "nominal" }, "value", state.preloadN, "N", {
          note: state.outcome,
        }),
      ];
    }),
  ];
}
