import * as Plot from "@observablehq/plot";
import type { RunResult } from "../../studies/result.ts";
import type { Markup } from "../html.ts";
import { clip, count, ORIGIN_NAMES, points, tick, units } from "../words.ts";
import { figure } from "./figure.ts";
import { drawPlot, type Format } from "./plot.ts";

type Result = Omit<RunResult, "verdict">;
type Gain = Result["contributors"]["yieldGain"][number];

const MOST_ROWS = 12;
/** A gain that would print as 0.0 points is left to the table. */
const LEAST_RATIO = 0.0005;

/** What each cause costs: the yield gained were it gone. Null without contributors. */
export function gainFigure(result: Result): Markup | null {
  const all = result.contributors.yieldGain.filter(({ gainRatio }) => Number.isFinite(gainRatio));
  if (all.length === 0) return null;
  const first = all[0]!;
  const rows = all
    .filter(({ gainRatio }, index) => index === 0 || Math.abs(gainRatio) >= LEAST_RATIO)
    .slice(0, MOST_ROWS);
  return figure({
    title: "What costs yield",
    draw: (format, name) => draw(rows, format, name),
    sentence: `Were ${first.groupLabel} exactly at the median in every unit, the yield (good in every state) would ${first.gainRatio < 0 ? "lose" : "gain"} ${points(Math.abs(first.gainRatio))}.`,
    caption: `From ${units(result.contributors.samples)}, each evaluated again with one cause held at its median; the line over a bar is the 95 % interval. ${all.length > rows.length ? `${count(all.length - rows.length)} smaller causes are not drawn. ` : ""}An asterisk marks a cause that rests on an assumption. Gains do not add up: causes act together.`,
    table: {
      head: ["cause", "origin", "gain of yield", "95 % interval"],
      rows: all.map((row) => [
        row.groupLabel,
        ORIGIN_NAMES[row.origin],
        points(row.gainRatio),
        `${points(row.lowRatio)} to ${points(row.highRatio)}`,
      ]),
      numeric: [2, 3],
    },
  });
}

function draw(rows: readonly Gain[], format: Format, name: string): Markup {
  const narrow = format === "narrow";
  const label = (row: Gain) =>
    `${clip(row.groupLabel.replace(/^the /, ""), narrow ? 40 : 36)}${row.origin === "assumption" ? " *" : ""}`;
  const bars = rows.map((row, index) => ({
    key: String(index),
    label: label(row),
    gain: row.gainRatio * 100,
    low: Number.isFinite(row.lowRatio) ? row.lowRatio * 100 : row.gainRatio * 100,
    high: Number.isFinite(row.highRatio) ? row.highRatio * 100 : row.gainRatio * 100,
  }));
  const high = Math.max(...bars.map((bar) => bar.high), 0.5);
  const low = Math.min(...bars.map((bar) => bar.low), 0);
  const nameOf = new Map(bars.map((bar) => [bar.key, bar.label]));
  return drawPlot(
    {
      height: rows.length * (narrow ? 46 : 32) + 48,
      marginLeft: narrow ? 10 : 280,
      marginRight: narrow ? 62 : 90,
      marginTop: 4,
      marginBottom: 40,
      x: {
        domain: [low, high * 1.04],
        ticks: narrow ? 4 : 7,
        tickFormat: tick,
        label: "gain of yield, points",
        labelArrow: "none",
        labelAnchor: "center",
      },
      y: { domain: bars.map((bar) => bar.key), label: null, axis: null, padding: 0.3 },
      marks: [
        ...(narrow
          ? [
              Plot.text(bars, {
                x: 0,
                y: "key",
                dy: -13,
                dx: 3,
                text: "label",
                textAnchor: "start",
              }),
            ]
          : [Plot.axisY({ tickFormat: (key: string) => nameOf.get(key) ?? key, tickSize: 0, label: null })]),
        Plot.barX(bars, { x1: 0, x2: "gain", y: "key", fill: "var(--bar-edge)", insetTop: narrow ? 14 : 0 }),
        Plot.ruleY(bars, {
          x1: "low",
          x2: "high",
          y: "key",
          dy: narrow ? 7 : 0,
          stroke: "var(--ink)",
          strokeWidth: 1.6,
        }),
        Plot.ruleX([0], { stroke: "var(--ink)", strokeWidth: 1 }),
        Plot.text(bars, {
          x: (bar: (typeof bars)[number]) => Math.max(bar.high, bar.gain, 0),
          y: "key",
          dx: 7,
          dy: narrow ? 7 : 0,
          textAnchor: "start",
          text: (bar: (typeof bars)[number]) =>
            `${bar.gain >= 0 ? "+" : ""}${points(bar.gain / 100).replace(/ points?/, "")}`,
          fontWeight: 600,
        }),
      ],
    },
    format,
    name,
  );
}
