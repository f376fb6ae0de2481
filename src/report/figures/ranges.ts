import * as Plot from "@observablehq/plot";
import type { QuantitySummary, RunResult } from "../../studies/result.ts";
import type { Markup } from "../html.ts";
import { lineSwatch } from "../palette.ts";
import { quantileOf } from "../quantile.ts";
import { capital, clip, quantity, stateLabel, tick, units } from "../words.ts";
import { figure } from "./figure.ts";
import { drawPlot, type Format } from "./plot.ts";

type Result = Omit<RunResult, "verdict">;

interface Bar {
  readonly key: string;
  readonly state: string;
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

/** What an axis is in, and how the numbers of a quantity are brought to it. */
const AXES: Readonly<Record<string, { readonly unit: string; readonly scale: number }>> = {
  rad: { unit: "°", scale: 180 / Math.PI },
  mm: { unit: "µm", scale: 1000 },
  "N.mm": { unit: "N·mm", scale: 1 },
  "N.mm/rad": { unit: "N·m/mrad", scale: 1e-6 },
  "N/mm": { unit: "N/µm", scale: 1e-3 },
};

/** Columns that are drawn; the rest stands in the table. */
const DRAWN = [
  "pressureInnerMPa",
  "axialStiffnessNPerMm",
  "radialStiffnessNPerMm",
  "tiltStiffnessNMmPerRad",
  "movementAtRadiusMm",
  "liftOffN",
  "frictionTorqueNMm",
  "ballLoadLifeH",
];

/** One small picture a quantity: its middle nine tenths in every state. */
export function rangeFigures(result: Result): Markup[] {
  const { extended } = result;
  if (extended === null) return [];
  return DRAWN.flatMap((column) => {
    const rows = extended.states.flatMap(({ state, quantities }) => {
      const found = quantities.find((candidate) => candidate.column === column);
      return found === undefined ? [] : [{ state: stateLabel(result.states, state), ...found }];
    });
    const first = rows[0];
    return first === undefined || first.summary.count === 0 ? [] : [rangeFigure(first.label, rows, extended.samples)];
  });
}

function rangeFigure(
  label: string,
  rows: readonly { readonly state: string; readonly summary: QuantitySummary }[],
  samples: number,
): Markup {
  const { unit } = rows[0]!.summary;
  const axis = AXES[unit] ?? { unit, scale: 1 };
  const bars = rows.map(({ state, summary }, place): Bar => {
    const at = (part: number) => quantileOf(summary, part) * axis.scale;
    return { key: String(place), state, low: at(0.05), middle: at(0.5), high: at(0.95) };
  });
  const words = rows.map(
    ({ state, summary }) =>
      `${state} ${quantity(quantileOf(summary, 0.5), unit)} (nine in ten from ${quantity(quantileOf(summary, 0.05), unit)} to ${quantity(quantileOf(summary, 0.95), unit)})`,
  );
  return figure({
    title: capital(label),
    draw: (format, name) => draw(bars, `${label}, ${axis.unit}`, format, name),
    sentence: `Median: ${words.join("; ")}.`,
    caption: `The first ${units(samples)} of the run; a line holds nine in ten of them, one in twenty lies beyond either end.`,
    legend: [{ sample: lineSwatch("var(--bar-edge)", "none"), words: "nine units in ten, with the median" }],
    table: {
      head: ["state", "5 %", "median", "95 %"],
      rows: rows.map(({ state, summary }) => [
        state,
        ...[0.05, 0.5, 0.95].map((part) => quantity(quantileOf(summary, part), unit)),
      ]),
    },
  });
}

function draw(bars: readonly Bar[], label: string, format: Format, name: string): Markup {
  const narrow = format === "narrow";
  const high = Math.max(...bars.map((bar) => bar.high), 0);
  const nameOf = new Map(bars.map((bar) => [bar.key, bar.state]));
  return drawPlot(
    {
      height: bars.length * (narrow ? 44 : 34) + 50,
      marginLeft: narrow ? 10 : 190,
      marginRight: 30,
      marginTop: 6,
      marginBottom: 40,
      x: {
        domain: [0, high > 0 ? high * 1.05 : 1],
        ticks: narrow ? 4 : 7,
        tickFormat: tick,
        label: narrow ? label.split(", ").at(-1) : label,
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
                dy: -14,
                dx: 3,
                text: (bar: Bar) => clip(bar.state, 42),
                textAnchor: "start",
                fontWeight: 600,
              }),
            ]
          : [Plot.axisY({ tickFormat: (key: string) => clip(nameOf.get(key) ?? key, 27), tickSize: 0, label: null })]),
        Plot.ruleY(bars, { x1: "low", x2: "high", y: "key", stroke: "var(--bar-edge)", strokeWidth: 5 }),
        Plot.dot(bars, { x: "middle", y: "key", r: 5, fill: "var(--ink)", stroke: "var(--paper)" }),
        Plot.ruleX([0], { stroke: "var(--ink)", strokeWidth: 1 }),
      ],
    },
    format,
    name,
  );
}
