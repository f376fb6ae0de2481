import * as Plot from "@observablehq/plot";
import type { Finding } from "../../studies/decide/compare.ts";
import type { ParameterRange, RangesResult } from "../../studies/decide/result.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { lineSwatch, swatch } from "../palette.ts";
import { clip, count, interval, listing, percent, points } from "../words.ts";
import type { DecisionView } from "./view.ts";
import { differenceCell, differenceWords, shown, signOf, withInterval } from "./words.ts";

type Ranges = Finding<RangesResult>;

/** Bars that a picture holds; all parameters stand in the table. */
const MOST_BARS = 24;

/** Parameters that the verdict names one by one. */
const MOST_NAMED = 5;

/** The parameters, the widest span first; among equals in the order given. */
function widestFirst({ parameters }: Ranges): ParameterRange[] {
  return parameters.slice().sort((a, b) => b.span.differenceRatio - a.span.differenceRatio);
}

function valueAt({ values }: ParameterRange, place: number): string {
  return shown(values[place].text);
}

function goodAt({ cells }: ParameterRange, place: number) {
  return cells[place].shares.good;
}

export function rangesVerdict(result: Ranges): string[] {
  const order = widestFirst(result);
  const telling = order.filter(({ span }) => signOf(span) > 0);
  const { good } = result.base.shares;
  const stands = `As it stands ${withInterval(good)} of the units are good in every state.`;
  if (telling.length === 0) {
    const subject = order.length === 1 ? "The parameter moves" : `None of the ${count(order.length)} parameters moves`;
    return [`${subject} the yield by ${order.length === 1 ? "nothing" : "anything"} that can be told. ${stands}`];
  }
  const [first, ...others] = telling;
  const lead = `The ${first.label} takes the yield furthest: from ${percent(goodAt(first, first.least).ratio)} at ${valueAt(first, first.least)} to ${percent(goodAt(first, first.most).ratio)} at ${valueAt(first, first.most)}. ${stands}`;
  const next = others
    .slice(0, MOST_NAMED - 1)
    .map(({ label, span }) => `the ${label} (${points(span.differenceRatio)})`);
  const still = order.length - telling.length;
  return [
    lead,
    next.length === 0 ? "" : `Next ${next.length === 1 ? "is" : "are"} ${listing(next)}.`,
    gainSentence(order),
    still === 0
      ? ""
      : `${still === 1 ? "One parameter moves" : `${count(still)} parameters move`} it by nothing that can be told.`,
  ].filter((paragraph) => paragraph !== "");
}

/** The value that would do best in place of what stands in the scenario. */
function gainSentence(order: readonly ParameterRange[]): string {
  const gains = order.map((parameter) => ({ parameter, gain: parameter.cells[parameter.most].difference }));
  const best = gains.reduce((a, b) => (b.gain.differenceRatio > a.gain.differenceRatio ? b : a));
  if (signOf(best.gain) <= 0) return "No single value of any of them does better than the scenario as it stands.";
  const { parameter, gain } = best;
  return `Most is gained with the ${parameter.label} at ${valueAt(parameter, parameter.most)}: ${differenceWords(gain)} against the scenario as it stands.`;
}

export function rangesView(result: RangesResult): DecisionView {
  const order = widestFirst(result);
  const [first] = order;
  const { good } = result.base.shares;
  const values = order.reduce((sum, { cells }) => sum + cells.length, 0);
  return {
    heading: `${count(order.length)} ${order.length === 1 ? "parameter" : "parameters"}, one at a time`,
    cells: [
      {
        label: "As it stands",
        value: percent(good.ratio),
        note: `good in every state; 95 %: ${interval(good)}`,
        kind: "main",
      },
      {
        label: `Furthest: ${first.label}`,
        value: points(first.span.differenceRatio),
        note: `${valueAt(first, first.least)} to ${valueAt(first, first.most)}`,
        kind: "main",
      },
    ],
    figures: [rangesFigure(order, good.ratio)],
    tables: [
      {
        title: "All parameters, the furthest first",
        isMain: true,
        table: {
          head: ["parameter", "lowest", "at", "highest", "at", "span, points"],
          rows: order.map((parameter) => [
            parameter.label,
            percent(goodAt(parameter, parameter.least).ratio),
            valueAt(parameter, parameter.least),
            percent(goodAt(parameter, parameter.most).ratio),
            valueAt(parameter, parameter.most),
            differenceCell(parameter.span),
          ]),
          numeric: [1, 3, 5],
        },
        remark:
          "Lowest and highest: yield in every state over the values of the parameter, with the 95 % interval of their span.",
      },
      {
        title: "All values",
        table: {
          head: ["address", "value", "yield", "against as it stands, points", "fails at the bench", "fails in service"],
          rows: order.flatMap(({ path, cells, values: axis }) =>
            cells.map(({ shares, difference }, place) => [
              path,
              shown(axis[place].text),
              percent(shares.good.ratio),
              differenceCell(difference),
              percent(shares.bench.ratio),
              percent(shares.service.ratio),
            ]),
          ),
          numeric: [2, 3, 4, 5],
        },
      },
    ],
    method: [
      `Each of the ${count(values)} values is set alone in the scenario, which is resolved and checked on its own and judged on the same drawn units. What parameters do together is told by contributors, or by sweep for two of them.`,
    ],
  };
}

/** A bar a parameter, from its lowest yield to its highest, around the yield as it stands. */
function rangesFigure(order: readonly ParameterRange[], baseRatio: number): Markup {
  const rows = order.slice(0, MOST_BARS).map((parameter, place) => ({
    key: String(place),
    name: parameter.label,
    low: 100 * goodAt(parameter, parameter.least).ratio,
    high: 100 * goodAt(parameter, parameter.most).ratio,
  }));
  const dots = order
    .slice(0, MOST_BARS)
    .flatMap(({ cells }, place) => cells.map(({ shares }) => ({ key: String(place), value: 100 * shares.good.ratio })));
  const ends = [
    Math.min(100 * baseRatio, ...rows.map(({ low }) => low)),
    Math.max(100 * baseRatio, ...rows.map(({ high }) => high)),
  ];
  const room = Math.max(1e-3, ends[1] - ends[0]) * 0.06;
  const draw = (format: Format, name: string) => {
    const narrow = format === "narrow";
    const labels = new Map(rows.map((row) => [row.key, clip(row.name, narrow ? 16 : 36)]));
    const widest = Math.max(...[...labels.values()].map((label) => label.length));
    return drawPlot(
      {
        height: 56 + 26 * rows.length,
        marginLeft: 20 + 7.2 * widest,
        marginRight: 18,
        marginBottom: 40,
        x: {
          domain: [Math.max(0, ends[0] - room), Math.min(100, ends[1] + room)],
          label: "good in every state, %",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: narrow ? 4 : 8,
        },
        y: {
          domain: rows.map(({ key }) => key),
          label: null,
          tickFormat: (key: string) => labels.get(key) ?? "",
          tickSize: 0,
        },
        marks: [
          Plot.barX(rows, { x1: "low", x2: "high", y: "key", fill: "var(--bar)", insetTop: 5, insetBottom: 5 }),
          Plot.tickX(dots, {
            x: "value",
            y: "key",
            stroke: "var(--ink)",
            strokeWidth: 1.5,
            insetTop: 3,
            insetBottom: 3,
          }),
          Plot.ruleX([100 * baseRatio], { stroke: "var(--line-low)", strokeWidth: 2.5 }),
        ],
      },
      format,
      name,
    );
  };
  return figure({
    title: "How far each parameter takes the yield",
    draw,
    sentence: `${count(rows.length)} of ${count(order.length)} parameters: ${listing(rows.slice(0, 3).map((row) => `${row.name} ${percent(row.low / 100)} to ${percent(row.high / 100)}`))}.`,
    caption: `${rows.length < order.length ? "The others stand in the table. " : ""}A bar goes from the lowest to the highest yield over the values of the parameter, each value a tick; everything else stays as it stands.`,
    legend: [
      { sample: swatch({ fill: "var(--bar)", ink: "", hatch: null }), words: "range of the yield" },
      { sample: lineSwatch("var(--line-low)", "none"), words: "as it stands" },
    ],
  });
}
