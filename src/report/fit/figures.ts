import * as Plot from "@observablehq/plot";
import { prepare } from "../../distributions/index.ts";
import type { FitResult } from "../../studies/fit/result.ts";
import { axisOver, binValues, outline, peakShare } from "../figures/bins.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { lineSwatch, swatch } from "../palette.ts";
import { count, tick } from "../words.ts";
import { FAMILY_NAMES, RULE_WORDS, valueText } from "./words.ts";

type Finding = Omit<FitResult, "verdict">;

/** Lengths are drawn as micrometres from their mean, so that an axis can be read. */
function axisOf(result: Finding): { shown: (value: number) => number; label: string } {
  const { unit, mean } = result.values;
  if (unit !== "mm") return { shown: (value) => value, label: unit === "1" ? "value" : `value, ${unit}` };
  const zero = Math.abs(mean) >= 0.5 ? Number(mean.toFixed(3)) : 0;
  return { shown: (value) => 1000 * (value - zero), label: zero === 0 ? "µm" : `µm from ${zero} mm` };
}

/** Histogram of the values with the chosen distribution and the limits. */
export function shapeFigure(result: Finding, values: Float64Array): Markup {
  const { shown, label } = axisOf(result);
  const { limits, candidates, values: summary } = result;
  const xs = values.map(shown);
  const ends = limits === null ? [] : [shown(limits.low), shown(limits.high)];
  const axis = axisOver([xs], ends, 0);
  const bins = binValues(xs, axis.low, axis.high, Math.min(48, Math.max(10, Math.round(2 * Math.sqrt(values.length)))));
  const width = (axis.high - axis.low) / bins.counts.length;
  const chosen = candidates.find(({ isChosen }) => isChosen);
  const prepared = chosen === undefined ? null : prepare(chosen.distribution);
  const scale = summary.unit === "mm" ? 1000 : 1;
  const zero = summary.unit === "mm" ? summary.mean - shown(summary.mean) / 1000 : 0;
  const curve =
    prepared === null
      ? []
      : Array.from({ length: 201 }, (_, index) => {
          const x = axis.low + ((axis.high - axis.low) * index) / 200;
          return { x, y: (prepared.pdf(zero + x / scale) * width) / scale };
        }).filter(({ y }) => Number.isFinite(y));
  const top = Math.max(peakShare(bins), ...curve.map(({ y }) => y), 1e-9) * 1.1;
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        height: format === "narrow" ? 230 : 260,
        marginLeft: 12,
        marginRight: 16,
        marginBottom: 40,
        x: {
          domain: [axis.low, axis.high],
          ticks: format === "narrow" ? 4 : 9,
          tickFormat: tick,
          label,
          labelArrow: "none",
          labelAnchor: "center",
        },
        y: { domain: [0, top], axis: null },
        marks: [
          Plot.areaY(outline(bins), { x: "x", y1: 0, y2: "y", fill: "var(--bar)" }),
          Plot.line(outline(bins), { x: "x", y: "y", stroke: "var(--bar-edge)", strokeWidth: 1, curve: "linear" }),
          Plot.line(curve, { x: "x", y: "y", stroke: "var(--accent)", strokeWidth: 2.2 }),
          Plot.ruleX(ends, { stroke: "var(--bind)", strokeWidth: 1.6, strokeDasharray: "6 3" }),
          Plot.ruleY([0], { stroke: "var(--ink)", strokeWidth: 1 }),
        ],
      },
      format,
      name,
    );
  return figure({
    title: "Measured parts and what is fitted to them",
    draw,
    sentence: `${count(values.length)} parts from ${valueText(summary.min, summary.unit)} to ${valueText(summary.max, summary.unit)}${chosen === undefined ? "" : `; fitted: ${FAMILY_NAMES[chosen.family]}`}${limits === null ? "" : `; limits ${valueText(limits.low, summary.unit)} and ${valueText(limits.high, summary.unit)}`}.`,
    caption: `All ${count(values.length)} values are drawn.${result.instrument === null ? "" : " The gauge's spread is taken out of them."}`,
    legend: [
      { sample: swatch({ fill: "var(--bar)", ink: "", hatch: null }), words: "parts" },
      ...(chosen === undefined
        ? []
        : [{ sample: lineSwatch("var(--accent)", "none"), words: FAMILY_NAMES[chosen.family] }]),
      ...(limits === null ? [] : [{ sample: lineSwatch("var(--bind)", "6 3"), words: "limits of the drawing" }]),
    ],
  });
}

/** Parts that a run plot shows before it is thinned. */
const MOST_POINTS = 1000;

/** The readings in the order of the file with control limits. Null where there are too few. */
export function runFigure(result: Finding, read: Float64Array): Markup | null {
  const { control } = result;
  if (control === null) return null;
  const { shown, label } = axisOf(result);
  const signalled = new Set(
    control.signals.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, i) => from + i)),
  );
  const step = Math.ceil(read.length / MOST_POINTS);
  const points = Array.from(read, (value, index) => ({
    index: index + 1,
    y: shown(value),
    flagged: signalled.has(index),
  })).filter(({ index, flagged }) => flagged || index % step === 0 || step === 1);
  const lines = [control.lowLimit, control.highLimit].map(shown);
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        height: format === "narrow" ? 230 : 260,
        marginLeft: 52,
        marginRight: 12,
        marginBottom: 40,
        x: {
          label: "part, in the order of the file",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 4 : 8,
          tickFormat: tick,
        },
        y: { label, labelArrow: "none", ticks: 5, tickFormat: tick },
        marks: [
          Plot.ruleY([shown(control.centre)], { stroke: "var(--soft)" }),
          Plot.ruleY(lines, { stroke: "var(--bind)", strokeDasharray: "6 3", strokeWidth: 1.6 }),
          Plot.line(points, { x: "index", y: "y", stroke: "var(--bar-edge)", strokeWidth: 1 }),
          Plot.dot(points, {
            x: "index",
            y: "y",
            r: (point: (typeof points)[number]) => (point.flagged ? 4.5 : 2),
            symbol: (point: (typeof points)[number]) => (point.flagged ? "diamond" : "circle"),
            fill: (point: (typeof points)[number]) => (point.flagged ? "var(--bind)" : "var(--bar-edge)"),
          }),
        ],
        symbol: { legend: false },
        color: { type: "identity" },
        r: { type: "identity" },
      },
      format,
      name,
    );
  const { unit } = result.values;
  return figure({
    title: "Was the process steady?",
    draw,
    sentence:
      control.signals.length === 0
        ? `No run that a steady process would seldom show; control limits ${valueText(control.lowLimit, unit)} and ${valueText(control.highLimit, unit)}.`
        : `${control.signals.length === 1 ? "One run" : `${count(control.signals.length)} runs`} that a steady process would seldom show; control limits ${valueText(control.lowLimit, unit)} and ${valueText(control.highLimit, unit)}.`,
    caption: `Individuals with limits at three short-term standard deviations (from the mean moving range; ISO 7870-2). ${step === 1 ? `All ${count(read.length)} parts are drawn.` : `Every ${count(step)}th of ${count(read.length)} parts is drawn, and all in a run.`}`,
    legend: [
      { sample: lineSwatch("var(--bar-edge)", "none"), words: "reading" },
      { sample: lineSwatch("var(--bind)", "6 3"), words: "control limits; a large diamond is part of a run" },
    ],
    table: {
      head: ["run", "from part", "to part"],
      rows: control.signals.map(({ rule, from, to }) => [RULE_WORDS[rule], count(from + 1), count(to + 1)]),
      numeric: [1, 2],
    },
  });
}
