import * as Plot from "@observablehq/plot";
import type { RunResult, SampleTable, StateResult } from "../../studies/result.ts";
import { columnValues } from "../columns.ts";
import type { Markup } from "../html.ts";
import { LOOKS, lineSwatch, swatch } from "../palette.ts";
import { quantileOf } from "../quantile.ts";
import { capital, clip, count, listing, newtons, percent, tick, tidyNewtons, units } from "../words.ts";
import { type Bins, binValues, outline, peakShare, sampleQuantile } from "./bins.ts";
import { figure } from "./figure.ts";
import { drawPlot, type Format } from "./plot.ts";

type Result = Omit<RunResult, "verdict">;

interface Panel {
  readonly state: StateResult;
  readonly bins: Bins;
  readonly noPreload: number;
}

/** Preload of each state against the window, all on one scale. Null where no preload column was kept. */
export function preloadFigure(result: Result, samples: SampleTable): Markup | null {
  const kept = result.states.flatMap((state) => {
    const values = columnValues(samples, `${state.name}.preloadN`);
    return values === null || values.length === 0 ? [] : [{ state, values }];
  });
  if (kept.length === 0) return null;
  const axis = axisHigh(
    result,
    kept.map(({ values }) => values),
  );
  const panels = kept.map(({ state, values }): Panel => {
    const loaded = values.map((value) => (value === 0 ? Number.NaN : value));
    const bins = binValues(loaded, 0, axis, 56);
    return { state, bins, noPreload: bins.undefinedCount };
  });
  const { lowN, highN, bindN } = result.limits;
  return figure({
    title: "Preload in each state against the window",
    draw: (format, name) => draw(result, panels, axis, format, name),
    sentence: panels
      .map(({ state }) => {
        if (state.preloadN.count === 1) return `${capital(state.label)}: ${newtons(state.preloadN.mean)}.`;
        const middle = newtons(quantileOf(state.preloadN, 0.5));
        const ends = `${newtons(quantileOf(state.preloadN, 0.05))} to ${newtons(quantileOf(state.preloadN, 0.95))}`;
        return `${capital(state.label)}: half of the units lie below ${middle}, nine in ten from ${ends}.`;
      })
      .join(" "),
    caption: `${capital(units(samples.count))} in each state. ${panels.map(outsideWords).join(" ")} Window ${tidyNewtons(lowN)} to ${tidyNewtons(highN)}; bind limit ${tidyNewtons(bindN)}${bindN > axis ? ", beyond the axis" : ""}.`,
    legend: [
      { sample: swatch({ fill: "var(--band)", ink: "", hatch: null }), words: "the window" },
      ...(bindN > axis ? [] : [{ sample: lineSwatch(LOOKS.bind.fill, "6 3"), words: "bind limit" }]),
      { sample: swatch({ fill: "var(--bar)", ink: "", hatch: null }), words: "units with preload" },
    ],
    table: {
      head: ["state", "5 %", "median", "95 %", "in the window"],
      rows: panels.map(({ state }) => [
        state.label,
        ...[0.05, 0.5, 0.95].map((probability) => newtons(quantileOf(state.preloadN, probability))),
        percent(state.outcomes.target.shareRatio),
      ]),
    },
  });
}

/** The axis ends past the window and most units; a bind limit far out does not squeeze the rest. */
function axisHigh(result: Result, columns: readonly Float64Array[]): number {
  const { highN, bindN } = result.limits;
  const reach = Math.max(
    ...columns.map((values) => sampleQuantile(values, 0.995)).filter((value) => Number.isFinite(value)),
    0,
  );
  const wanted = Math.max(highN * 1.4, Math.min(reach, Math.max(bindN * 1.15, highN * 10)));
  return bindN < wanted * 1.25 ? Math.max(wanted, bindN * 1.08) : wanted;
}

/** What of a state is not drawn. */
function outsideWords({ state, bins, noPreload }: Panel): string {
  const parts = [
    [noPreload, "without preload"],
    [bins.above, "above the axis"],
    [bins.below, "below zero (wrong way round)"],
  ] as const;
  const some = parts.filter(([number]) => number > 0).map(([number, words]) => `${count(number)} ${words}`);
  return `${capital(state.label)}: ${some.length === 0 ? "all of them inside the axis" : `not drawn are ${listing(some)}`}.`;
}

function heading({ state }: Panel, narrow: boolean): string {
  const parts = [`${percent(state.outcomes.target.shareRatio)} in the window`];
  const none = state.outcomes.play.shareRatio;
  if (none > 0) parts.push(`${percent(none)} no preload`);
  if (!narrow && state.outcomes.bind.shareRatio > 0) parts.push(`${percent(state.outcomes.bind.shareRatio)} bind`);
  return parts.join(", ");
}

function draw(result: Result, panels: readonly Panel[], axis: number, format: Format, name: string): Markup {
  const narrow = format === "narrow";
  const { lowN, highN, bindN } = result.limits;
  const labels = panels.map(({ state }) => state.label);
  const peak = Math.max(...panels.map(({ bins }) => peakShare(bins)), 1e-9) * 1.08;
  const top = peak * (narrow ? 1.55 : 1.28);
  const lines = panels.flatMap(({ state, bins }) => outline(bins).map((point) => ({ ...point, panel: state.label })));
  return drawPlot(
    {
      height: panels.length * (narrow ? 124 : 128) + 46,
      marginLeft: 10,
      marginRight: 16,
      marginTop: 4,
      marginBottom: 40,
      x: {
        domain: [0, axis],
        ticks: narrow ? 4 : 9,
        tickFormat: tick,
        label: "preload, N",
        labelArrow: "none",
        labelAnchor: "center",
      },
      y: { domain: [0, top], axis: null },
      fy: { domain: labels, axis: null, padding: 0.06 },
      marks: [
        Plot.rect([{ lowN, highN: Math.min(highN, axis) }], {
          x1: "lowN",
          x2: "highN",
          y1: 0,
          y2: peak,
          fill: "var(--band)",
        }),
        Plot.ruleX(
          [lowN, highN].filter((value) => value <= axis),
          { y1: 0, y2: peak, stroke: "var(--target)", strokeWidth: 1 },
        ),
        Plot.areaY(lines, { x: "x", y1: 0, y2: "y", fy: "panel", fill: "var(--bar)" }),
        Plot.line(lines, { x: "x", y: "y", fy: "panel", stroke: "var(--bar-edge)", strokeWidth: 1, curve: "linear" }),
        ...(bindN <= axis
          ? [Plot.ruleX([bindN], { y1: 0, y2: peak, stroke: "var(--bind)", strokeWidth: 2, strokeDasharray: "6 3" })]
          : []),
        Plot.ruleY([0], { stroke: "var(--ink)", strokeWidth: 1 }),
        Plot.text(panels, {
          fy: ({ state }: Panel) => state.label,
          frameAnchor: "top-left",
          dy: 4,
          text: ({ state }: Panel) => clip(state.label, narrow ? 36 : 42),
          fontWeight: 700,
          fontSize: 14,
          fill: "var(--ink)",
        }),
        Plot.text(panels, {
          fy: ({ state }: Panel) => state.label,
          frameAnchor: narrow ? "top-left" : "top-right",
          dy: narrow ? 21 : 4,
          text: (panel: Panel) => heading(panel, narrow),
          fill: "var(--soft)",
        }),
      ],
    },
    format,
    name,
  );
}
