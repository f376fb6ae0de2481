import * as Plot from "@observablehq/plot";
import type { Finding } from "../../studies/decide/compare.ts";
import type { SweepAxis, SweepResult, SweepSeries } from "../../studies/decide/result.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { lineSwatch } from "../palette.ts";
import { capital, clip, count, interval, listing, percent, significant, tick, tidyPercent } from "../words.ts";
import type { DecisionView, ViewTable } from "./view.ts";
import { shown, withInterval } from "./words.ts";

type Sweep = Finding<SweepResult>;

/** Curves are told apart by colour and dashes alike. */
const STROKES: readonly (readonly [string, string])[] = [
  ["var(--target)", "none"],
  ["var(--bind)", "7 3"],
  ["var(--accent)", "2 3"],
  ["var(--line-low)", "10 3 2 3"],
  ["var(--reversed)", "4 2"],
  ["var(--soft)", "1 2"],
];

/** Crossings that the verdict tells one by one. */
const MOST_SENTENCES = 12;

/** Columns and rows that a map draws; of more every second, third, … is drawn. */
const MOST_DRAWN = 120;

/** Rows of a map that have room for their name. */
const MOST_NAMED = 34;

/** A value of an axis with its unit. */
function valueWords(axis: SweepAxis, number: number): string {
  const unit =
    axis.unit === null || axis.unit === "" ? "" : `\u00a0${axis.unit.replace("degC", "°C").replace("um", "µm")}`;
  return `${significant(number, 4)}${unit}`;
}

function best(result: Sweep): { series: SweepSeries; place: number } {
  let found = { series: result.series[0], place: 0 };
  for (const series of result.series) {
    series.cells.forEach((cell, place) => {
      if (cell.shares.good.ratio > found.series.cells[found.place].shares.good.ratio) found = { series, place };
    });
  }
  return found;
}

export function sweepVerdict(result: Sweep): string[] {
  const { over, and } = result;
  const { series, place } = best(result);
  const where = `the ${over.label} at ${shown(over.values[place].text)}${and === null ? "" : ` and the ${and.label} ${series.name}`}`;
  const lead = `The yield is greatest with ${where}: ${withInterval(series.cells[place].shares.good)} of the units are good in every state.`;
  const kept = [over, ...(and === null ? [] : [and])]
    .filter((axis) => axis.kept !== "")
    .map((axis) => `every value of the ${axis.label} carries ${shown(axis.kept)}`);
  return [lead, crossingWords(result), kept.length === 0 ? "" : `${capital(kept.join("; "))}.`].filter(
    (paragraph) => paragraph !== "",
  );
}

function crossingWords(result: Sweep): string {
  const { targetRatio, over, series } = result;
  if (targetRatio === null) {
    return over.unit === null ? "" : "No yield is required: with --target the place where it falls below one is found.";
  }
  if (over.unit === null) return "";
  const target = tidyPercent(targetRatio);
  const sentences = series.map(({ name, crossings, cells }) => {
    const subject = name === "" ? "The yield" : `${name}: the yield`;
    if (crossings.length === 0) {
      const above = cells.every(({ shares }) => shares.good.ratio >= targetRatio);
      return `${subject} is ${above ? "above" : "below"} ${target} throughout.`;
    }
    const parts = crossings.map(
      ({ direction, at, low, high }) =>
        `${direction} ${target} at ${valueWords(over, at)} (95 %: ${valueWords(over, low)} to ${valueWords(over, high)})`,
    );
    return `${subject} ${listing(parts)}.`;
  });
  const rest = sentences.length - MOST_SENTENCES;
  const more = rest > 0 ? [`Those of ${count(rest)} further values stand in result.json.`] : [];
  return [...sentences.slice(0, MOST_SENTENCES), ...more].join(" ");
}

export function sweepView(result: SweepResult): DecisionView {
  const { over, and, series } = result;
  const { series: top, place } = best(result);
  const cell = top.cells[place].shares;
  const isCurve = over.unit !== null && over.values.length > 1;
  return {
    heading: and === null ? `yield over the ${over.label}` : `yield over the ${over.label} and the ${and.label}`,
    cells: [
      {
        label: "Greatest yield",
        value: percent(cell.good.ratio),
        note: `95 %: ${interval(cell.good)}`,
        kind: "main",
      },
      {
        label: "at",
        value: `${shown(over.values[place].text)}${and === null ? "" : `, ${top.name}`}`,
        note: over.label,
        kind: "main",
      },
      ...series
        .filter(({ crossings }) => crossings.length > 0)
        .slice(0, 6)
        .map(({ name, crossings }) => ({
          label: `${name === "" ? "Yield" : name} ${crossings.at(-1)!.direction} ${tidyPercent(result.targetRatio!)}`,
          value: valueWords(over, crossings.at(-1)!.at),
          note: `95 %: ${valueWords(over, crossings.at(-1)!.low)} to ${valueWords(over, crossings.at(-1)!.high)}`,
        })),
    ],
    figures: [...(isCurve ? [curvesFigure(result)] : []), ...(and === null ? [] : [mapFigure(result)])],
    tables: [
      {
        title: "Good in every state",
        isMain: true,
        table: and === null ? curveTable(result) : mapTable(result),
      },
    ],
    method: [
      "Every cell is the scenario with these values set, resolved and checked on its own, on the same drawn units. Where the yield passes the target: false position between two cells, then the interval of the yield there over the slope of the curve.",
    ],
  };
}

function curveTable({ over, series: [{ cells }] }: SweepResult): ViewTable["table"] {
  return {
    head: [over.label, "yield", "95 %", "fails at the bench", "fails in service"],
    rows: over.values.map(({ text }, index) => {
      const { good, bench, service } = cells[index].shares;
      return [shown(text), percent(good.ratio), interval(good), percent(bench.ratio), percent(service.ratio)];
    }),
  };
}

/** A column a value of the second parameter, or a row where that has more values than the first and than a page is wide. */
function mapTable({ over, and, series }: SweepResult): ViewTable["table"] {
  const yieldAt = (row: SweepSeries, index: number) => percent(row.cells[index].shares.good.ratio);
  if (series.length > 12 && series.length > over.values.length) {
    return {
      head: [and!.label, ...over.values.map(({ text }) => shown(text))],
      rows: series.map((row) => [shown(row.name), ...over.values.map((_, index) => yieldAt(row, index))]),
    };
  }
  return {
    head: [over.label, ...series.map(({ name }) => name)],
    rows: over.values.map(({ text }, index) => [shown(text), ...series.map((row) => yieldAt(row, index))]),
  };
}

/** So many curves, evenly spaced, that each can be told from the others. */
function shownSeries({ series }: SweepResult): readonly SweepSeries[] {
  const most = STROKES.length;
  if (series.length <= most) return series;
  return STROKES.map((_, place) => series[Math.round((place * (series.length - 1)) / (most - 1))]);
}

function curvesFigure(result: SweepResult): Markup {
  const { over, targetRatio } = result;
  const curves = shownSeries(result);
  const unit = over.unit === null || over.unit === "" ? "" : `, ${over.unit.replace("degC", "°C").replace("um", "µm")}`;
  const points = curves.map(({ cells }) =>
    cells.map(({ shares: { good } }, place) => ({
      x: over.values[place].number!,
      y: 100 * good.ratio,
      low: 100 * good.lowRatio,
      high: 100 * good.highRatio,
    })),
  );
  const top = Math.min(100, Math.max(5, ...points.flat().map(({ high }) => high)) * 1.1);
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        height: format === "narrow" ? 240 : 300,
        marginLeft: 54,
        marginRight: 16,
        marginBottom: 40,
        x: {
          label: `${over.label}${unit}`,
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 4 : 9,
          tickFormat: tick,
        },
        y: { domain: [0, top], ticks: 5, tickFormat: (value: number) => `${value} %`, label: null, grid: true },
        marks: [
          ...points.map((curve) =>
            Plot.areaY(curve, { x: "x", y1: "low", y2: "high", fill: "var(--band)", fillOpacity: 0.7 }),
          ),
          ...(targetRatio === null
            ? []
            : [Plot.ruleY([100 * targetRatio], { stroke: "var(--ink)", strokeDasharray: "1 3" })]),
          ...points.map((curve, place) =>
            Plot.line(curve, {
              x: "x",
              y: "y",
              stroke: STROKES[place][0],
              strokeDasharray: STROKES[place][1],
              strokeWidth: 2,
            }),
          ),
          Plot.ruleY([0], { stroke: "var(--ink)" }),
        ],
      },
      format,
      name,
    );
  const left = result.series.length - curves.length;
  return figure({
    title: `Yield over the ${over.label}`,
    draw,
    sentence: `${count(over.values.length)} values from ${shown(over.values[0].text)} to ${shown(over.values.at(-1)!.text)}.`,
    caption: `The bands are 95 % intervals and may be thinner than the lines.${left > 0 ? ` ${count(left)} further curves stand in the table only.` : ""}`,
    legend:
      result.and === null
        ? undefined
        : curves.map(({ name }, place) => ({ sample: lineSwatch(STROKES[place][0], STROKES[place][1]), words: name })),
  });
}

/** A map of the yield: darker is more, and each cell says its number where there is room. */
function mapFigure(result: SweepResult): Markup {
  const { over, and, series } = result;
  const columns = drawnPlaces(over.values.length);
  const rows = drawnPlaces(series.length);
  const cells = rows.flatMap((y) =>
    columns.map((x) => ({ x: String(x), y: String(y), value: 100 * series[y].cells[x].shares.good.ratio })),
  );
  const { series: topSeries, place } = best(result);
  const top = Math.max(1e-9, 100 * topSeries.cells[place].shares.good.ratio);
  const draw = (format: Format, name: string) => {
    const narrow = format === "narrow";
    const labelled = over.values.length <= (narrow ? 5 : 14);
    const most = narrow ? 10 : 24;
    const widest = Math.max(...rows.map((place) => clip(series[place].name, most).length));
    const named = new Set(columns.filter((_, at) => at % Math.ceil(columns.length / (narrow ? 4 : 10)) === 0));
    const namedRows = new Set(rows.filter((_, at) => at % Math.ceil(rows.length / MOST_NAMED) === 0));
    return drawPlot(
      {
        height: 60 + Math.min(520, (narrow ? 26 : 30) * rows.length),
        marginLeft: 16 + 7.2 * widest,
        marginRight: 12,
        marginBottom: 42,
        padding: cells.length > 2000 ? 0 : 0.03,
        x: {
          domain: columns.map(String),
          tickFormat: (place: string) => {
            const value = over.values[Number(place)];
            if (!named.has(Number(place))) return "";
            return value.number === null ? clip(value.text, narrow ? 8 : 14) : tick(value.number);
          },
          tickSize: 0,
          label: `${over.label}${over.unit === null || over.unit === "" ? "" : `, ${over.unit.replace("degC", "°C")}`}`,
          labelArrow: "none",
          labelAnchor: "center",
        },
        y: {
          domain: rows.map(String),
          tickFormat: (place: string) => (namedRows.has(Number(place)) ? clip(series[Number(place)].name, most) : ""),
          tickSize: 0,
          label: null,
        },
        marks: [
          Plot.cell(cells, {
            x: "x",
            y: "y",
            fill: "var(--target)",
            fillOpacity: (cell) => 0.06 + (0.94 * cell.value) / top,
          }),
          ...(labelled
            ? [
                Plot.text(cells, {
                  x: "x",
                  y: "y",
                  text: (cell) => (cell.value >= 9.95 ? cell.value.toFixed(0) : cell.value.toFixed(1)),
                  fill: "var(--ink)",
                  stroke: "var(--paper)",
                  strokeWidth: 3,
                  fontSize: 11,
                }),
              ]
            : []),
        ],
        opacity: { type: "identity" },
      },
      format,
      name,
    );
  };
  return figure({
    title: "Map of the yield",
    draw,
    sentence: `${count(series.length * over.values.length)} cells; the fullest colour is ${percent(top / 100)} at ${shown(over.values[place].text)}, ${topSeries.name}.`,
    caption: `${cells.length < series.length * over.values.length ? `${count(columns.length)} × ${count(rows.length)} of them are drawn, evenly spaced; all stand in the table. ` : ""}Columns: ${over.label}; rows: ${and!.label}. Numbers are per cent; the fill grows with the yield, from nothing to the greatest.`,
  });
}

/** Evenly spaced places of a list, all of them where there are few. */
function drawnPlaces(length: number): number[] {
  const step = Math.ceil(length / MOST_DRAWN);
  return Array.from({ length: Math.ceil(length / step) }, (_, place) => place * step);
}
