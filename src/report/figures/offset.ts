import * as Plot from "@observablehq/plot";
import type { RunResult, SampleTable } from "../../studies/result.ts";
import { acceptanceCurve } from "../acceptance.ts";
import { columnValues } from "../columns.ts";
import type { Markup } from "../html.ts";
import { lineSwatch, swatch } from "../palette.ts";
import { quantileOf } from "../quantile.ts";
import { count, micrometres, percent, roundPercent, tick, units } from "../words.ts";
import { axisOver, binValues, outline, peakShare } from "./bins.ts";
import { figure } from "./figure.ts";
import { drawPlot, type Format } from "./plot.ts";

type Result = Omit<RunResult, "verdict">;

interface Drawing {
  readonly low: number;
  readonly high: number;
  readonly machined: ReturnType<typeof binValues>;
  readonly windowLow: ReturnType<typeof binValues>;
  readonly windowHigh: ReturnType<typeof binValues>;
  readonly curve: readonly { readonly offsetUm: number; readonly shareRatio: number }[];
  readonly best: { readonly offsetUm: number; readonly shareRatio: number };
  readonly medianUm: number;
}

/** What is machined against what the units would accept. Null where the columns were not kept. */
export function offsetFigure(result: Result, samples: SampleTable): Markup | null {
  const machined = columnValues(samples, "machinedOffsetMm");
  const lowEnds = columnValues(samples, "window.lowMm");
  const highEnds = columnValues(samples, "window.highMm");
  if (machined === null || lowEnds === null || highEnds === null || samples.count === 0) return null;
  // Ends that have passed each other are no window.
  const isWindow = (unit: number) => lowEnds[unit]! <= highEnds[unit]!;
  const low = lowEnds.map((value, unit) => (isWindow(unit) ? value : Number.NaN));
  const high = highEnds.map((value, unit) => (isWindow(unit) ? value : Number.NaN));
  const drawing = prepare(machined, low, high, quantileOf(result.window.machinedOffsetMm, 0.5) * 1000);
  const outside = (bins: Drawing["machined"]) => count(bins.below + bins.above);
  const noWindow = drawing.windowLow.undefinedCount;
  const { window } = result;
  const anyWindow = window.lowMm.count > 0;
  return figure({
    title: "Offset as machined against the offset the units need",
    draw: (format, name) => draw(drawing, format, name),
    sentence: anyWindow
      ? `The machined offset lies around ${micrometres(quantileOf(window.machinedOffsetMm, 0.5))} (nine in ten from ${micrometres(quantileOf(window.machinedOffsetMm, 0.05))} to ${micrometres(quantileOf(window.machinedOffsetMm, 0.95))}). A typical unit is good in every state from ${micrometres(quantileOf(window.lowMm, 0.5))} to ${micrometres(quantileOf(window.highMm, 0.5))}. Machined exactly to ${micrometres(drawing.best.offsetUm / 1000)}, ${roundPercent(drawing.best.shareRatio)} of the units would be good; no single offset does better.`
      : "No unit has an offset at which it is good in every state.",
    caption: `${units(samples.count)} drawn; outside the axis: ${outside(drawing.machined)} machined offsets, ${outside(drawing.windowLow)} lower and ${outside(drawing.windowHigh)} upper ends. ${noWindow === 0 ? "Every unit drawn has a window." : `${units(noWindow)} without any window: their states ask for offsets that exclude each other.`}`,
    legend: [
      { sample: swatch({ fill: "var(--bar)", ink: "", hatch: null }), words: "offset as machined" },
      { sample: lineSwatch("var(--line-low)", "7 3"), words: "lower end of the window" },
      { sample: lineSwatch("var(--line-high)", "2 3"), words: "upper end of the window" },
      { sample: swatch({ fill: "var(--band)", ink: "", hatch: null }), words: "share of units that accept an offset" },
    ],
    table: {
      head: ["offset", "5 %", "median", "95 %"],
      rows: (
        [
          ["as machined", window.machinedOffsetMm],
          ["lower end of the window", window.lowMm],
          ["upper end of the window", window.highMm],
          ["width of the window", window.widthMm],
        ] as const
      ).map(([label, summary]) => [label, ...[0.05, 0.5, 0.95].map((part) => micrometres(quantileOf(summary, part)))]),
    },
  });
}

function prepare(machined: Float64Array, low: Float64Array, high: Float64Array, medianUm: number): Drawing {
  const inUm = (values: Float64Array) => values.map((value) => value * 1000);
  const columns = [inUm(machined), inUm(low), inUm(high)] as const;
  const axis = axisOver(columns, []);
  const bins = columns.map((values) => binValues(values, axis.low, axis.high, 64));
  const steps = Array.from({ length: 161 }, (_, index) => axis.low + ((axis.high - axis.low) * index) / 160);
  const curve = acceptanceCurve(
    low,
    high,
    steps.map((um) => um / 1000),
  ).map(({ shareRatio }, index) => ({ offsetUm: steps[index]!, shareRatio }));
  const most = curve.reduce((share, point) => Math.max(share, point.shareRatio), 0);
  const plateau = curve.filter(({ shareRatio }) => shareRatio === most);
  const best = plateau[Math.floor(plateau.length / 2)]!;
  return { ...axis, machined: bins[0]!, windowLow: bins[1]!, windowHigh: bins[2]!, curve, best, medianUm };
}

const UPPER = "distributions";
const LOWER = "acceptance";

function draw(drawing: Drawing, format: Format, name: string): Markup {
  const narrow = format === "narrow";
  const peak = Math.max(peakShare(drawing.machined), peakShare(drawing.windowLow), peakShare(drawing.windowHigh), 1e-9);
  // Both panels share one vertical scale from 0 to 1, so that no second axis has to be explained.
  const scaled = (bins: Drawing["machined"]) =>
    outline(bins).map(({ x, y }) => ({ x, y: (y / peak) * 0.86, panel: UPPER }));
  const curve = drawing.curve.map((point) => ({ ...point, panel: LOWER }));
  const bestSide = drawing.best.offsetUm > (drawing.low + drawing.high) / 2 ? "end" : "start";
  const medianSide = drawing.medianUm > (drawing.low + drawing.high) / 2 ? "end" : "start";
  return drawPlot(
    {
      height: narrow ? 330 : 360,
      marginLeft: 54,
      marginRight: 16,
      marginTop: 8,
      marginBottom: 40,
      x: {
        domain: [drawing.low, drawing.high],
        ticks: narrow ? 4 : 9,
        tickFormat: tick,
        label: "offset at 20 °C, µm",
        labelArrow: "none",
        labelAnchor: "center",
      },
      y: { domain: [0, 1.12], axis: null },
      fy: { domain: [UPPER, LOWER], axis: null, padding: 0.1 },
      marks: [
        Plot.areaY(scaled(drawing.machined), { x: "x", y1: 0, y2: "y", fy: "panel", fill: "var(--bar)" }),
        Plot.line(scaled(drawing.machined), { x: "x", y: "y", fy: "panel", stroke: "var(--bar-edge)", strokeWidth: 1 }),
        Plot.line(scaled(drawing.windowLow), {
          x: "x",
          y: "y",
          fy: "panel",
          stroke: "var(--line-low)",
          strokeWidth: 2.2,
          strokeDasharray: "7 3",
        }),
        Plot.line(scaled(drawing.windowHigh), {
          x: "x",
          y: "y",
          fy: "panel",
          stroke: "var(--line-high)",
          strokeWidth: 2.2,
          strokeDasharray: "2 3",
        }),
        Plot.areaY(curve, { x: "offsetUm", y1: 0, y2: "shareRatio", fy: "panel", fill: "var(--band)" }),
        Plot.line(curve, { x: "offsetUm", y: "shareRatio", fy: "panel", stroke: "var(--target)", strokeWidth: 2 }),
        Plot.axisY([0, 0.5, 1], {
          fy: [LOWER, LOWER, LOWER],
          tickFormat: (ratio: number) => `${ratio * 100} %`,
          tickSize: 4,
          label: null,
        }),
        ...(Number.isFinite(drawing.medianUm)
          ? [Plot.ruleX([drawing.medianUm], { stroke: "var(--ink)", strokeWidth: 1.2, strokeDasharray: "1 3" })]
          : []),
        Plot.ruleY([0], { stroke: "var(--ink)", strokeWidth: 1 }),
        ...[
          { panel: UPPER, words: narrow ? "" : "how often", anchor: medianSide },
          { panel: LOWER, words: narrow ? "accepted by" : "accepted by this share of units", anchor: bestSide },
        ].map(({ panel, words, anchor }) =>
          // In the corner that the labels of the curves leave free.
          Plot.text([{ panel }], {
            fy: "panel",
            text: () => words,
            frameAnchor: anchor === "end" ? "top-left" : "top-right",
            dx: anchor === "end" ? 4 : -4,
            dy: 2,
            fill: "var(--soft)",
          }),
        ),
        ...(drawing.best.shareRatio > 0
          ? [
              Plot.dot([{ ...drawing.best, panel: LOWER }], {
                x: "offsetUm",
                y: "shareRatio",
                fy: "panel",
                r: 4.5,
                fill: "var(--target)",
                stroke: "var(--paper)",
              }),
              Plot.text([{ ...drawing.best, panel: LOWER }], {
                x: "offsetUm",
                y: "shareRatio",
                fy: "panel",
                dx: bestSide === "end" ? -9 : 9,
                dy: -9,
                textAnchor: bestSide,
                text: ({ offsetUm, shareRatio }: { offsetUm: number; shareRatio: number }) =>
                  `best ${micrometres(offsetUm / 1000)}: ${percent(shareRatio)}`,
                fontWeight: 600,
                stroke: "var(--paper)",
                strokeWidth: 4,
                fill: "var(--ink)",
              }),
            ]
          : []),
        ...(Number.isFinite(drawing.medianUm)
          ? [
              Plot.text([{ x: drawing.medianUm, panel: UPPER }], {
                x: "x",
                fy: "panel",
                frameAnchor: "top",
                dy: 2,
                dx: medianSide === "end" ? -5 : 5,
                textAnchor: medianSide,
                text: () => `machined ${micrometres(drawing.medianUm / 1000)}`,
                fontWeight: 600,
                stroke: "var(--paper)",
                strokeWidth: 4,
                fill: "var(--ink)",
              }),
            ]
          : []),
      ],
    },
    format,
    name,
  );
}
