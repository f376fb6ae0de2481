import * as Plot from "@observablehq/plot";
import type { QuantitySummary, RunResult, SampleTable } from "../../studies/result.ts";
import { clearanceColumn } from "../columns.ts";
import type { Markup } from "../html.ts";
import { lineSwatch, swatch } from "../palette.ts";
import { quantileOf } from "../quantile.ts";
import { clip, count, micrometres, tick, units } from "../words.ts";
import { axisOver, type Bins, binValues, outline, peakShare, sampleQuantile } from "./bins.ts";
import { figure } from "./figure.ts";
import { drawPlot, type Format } from "./plot.ts";

type Result = Omit<RunResult, "verdict">;

interface Panel {
  readonly label: string;
  readonly bearings: readonly [Bins, Bins];
  readonly medianUm: readonly [number, number];
}

/** Radial clearance free, mounted and at temperature. Null where the columns were not kept. */
export function clearanceFigure(result: Result, samples: SampleTable): Markup | null {
  const rows = [
    { label: "free, before mounting", state: null },
    ...result.states.map((state) => ({ label: `mounted: ${state.label}`, state: state.name })),
  ].flatMap(({ label, state }) => {
    const a = clearanceColumn(samples, state, "a");
    const b = clearanceColumn(samples, state, "b");
    if (a === null || b === null || samples.count === 0) return [];
    return [{ label, a: a.map((value) => value * 1000), b: b.map((value) => value * 1000) }];
  });
  if (rows.length === 0) return null;
  const axis = axisOver(
    rows.flatMap(({ a, b }) => [a, b]),
    [0],
  );
  const panels = rows.map(({ label, a, b }): Panel => {
    const bins = (values: Float64Array) => binValues(values, axis.low, axis.high, 56);
    return { label, bearings: [bins(a), bins(b)], medianUm: [sampleQuantile(a, 0.5), sampleQuantile(b, 0.5)] };
  });
  const outside = panels.reduce(
    (sum, { bearings }) => sum + bearings.reduce((part, bins) => part + bins.below + bins.above, 0),
    0,
  );
  const tail = (summary: QuantitySummary) => [0.05, 0.5, 0.95].map((part) => micrometres(quantileOf(summary, part)));
  return figure({
    title: "Radial clearance before and after mounting",
    draw: (format, name) => draw(panels, axis, format, name),
    sentence: `Median of bearing a and b: ${panels
      .map(
        ({ label, medianUm }) => `${label} ${micrometres(medianUm[0] / 1000)} and ${micrometres(medianUm[1] / 1000)}`,
      )
      .join("; ")}.`,
    caption: `${units(samples.count)} drawn in each row; values outside the axis: ${count(outside)}. Below zero the balls are pinched radially before any preload.`,
    legend: [
      { sample: swatch({ fill: "var(--bar)", ink: "", hatch: null }), words: "bearing a" },
      { sample: lineSwatch("var(--line-low)", "7 3"), words: "bearing b" },
    ],
    table: {
      head: ["state and bearing", "5 %", "median", "95 %"],
      rows: result.states.flatMap((state) => [
        [`${state.label}, bearing a`, ...tail(state.clearanceMm.a)],
        [`${state.label}, bearing b`, ...tail(state.clearanceMm.b)],
      ]),
    },
  });
}

function draw(panels: readonly Panel[], axis: { low: number; high: number }, format: Format, name: string): Markup {
  const narrow = format === "narrow";
  const peak = Math.max(...panels.flatMap(({ bearings }) => bearings.map(peakShare)), 1e-9) * (narrow ? 1.65 : 1.5);
  const lines = (index: 0 | 1) =>
    panels.flatMap(({ label, bearings }) => outline(bearings[index]).map((point) => ({ ...point, panel: label })));
  return drawPlot(
    {
      height: panels.length * (narrow ? 84 : 78) + 46,
      marginLeft: 10,
      marginRight: 16,
      marginTop: 4,
      marginBottom: 40,
      x: {
        domain: [axis.low, axis.high],
        ticks: narrow ? 4 : 9,
        tickFormat: tick,
        label: "radial clearance, µm",
        labelArrow: "none",
        labelAnchor: "center",
      },
      y: { domain: [0, peak], axis: null },
      fy: { domain: panels.map(({ label }) => label), axis: null, padding: 0.08 },
      marks: [
        Plot.areaY(lines(0), { x: "x", y1: 0, y2: "y", fy: "panel", fill: "var(--bar)" }),
        Plot.line(lines(0), { x: "x", y: "y", fy: "panel", stroke: "var(--bar-edge)", strokeWidth: 1 }),
        Plot.line(lines(1), {
          x: "x",
          y: "y",
          fy: "panel",
          stroke: "var(--line-low)",
          strokeWidth: 2,
          strokeDasharray: "7 3",
        }),
        Plot.ruleX([0], { stroke: "var(--ink)", strokeWidth: 1.2 }),
        Plot.ruleY([0], { stroke: "var(--ink)", strokeWidth: 1 }),
        Plot.text(panels, {
          fy: "label",
          frameAnchor: "top-right",
          dy: 3,
          text: ({ label }: Panel) => clip(label, narrow ? 36 : 42),
          fontWeight: 700,
          stroke: "var(--paper)",
          strokeWidth: 4,
          fill: "var(--ink)",
        }),
      ],
    },
    format,
    name,
  );
}
