import * as Plot from "@observablehq/plot";
import type { IndexEstimate } from "../../stats/group-indices.ts";
import type { Finding } from "../../studies/decide/compare.ts";
import type { CauseIndices, ContributorsStudyResult, SlopeEstimate } from "../../studies/decide/result.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { swatch } from "../palette.ts";
import { capital, count, decimal, listing, quantity } from "../words.ts";
import { namedRows } from "./named-rows.ts";
import type { DecisionView } from "./view.ts";
import { signedPoints, signOf, withInterval } from "./words.ts";

type Contributions = Finding<ContributorsStudyResult>;

/** Bars that a picture holds. */
const MOST_BARS = 16;

function indexWords({ indexRatio }: IndexEstimate): string {
  return decimal(indexRatio, 3);
}

function indexCell({ indexRatio, lowRatio, highRatio }: IndexEstimate): string {
  return `${decimal(indexRatio, 3)} (${decimal(lowRatio, 3)} to ${decimal(highRatio, 3)})`;
}

function slopeCell({ changeRatio, lowRatio, highRatio }: SlopeEstimate): string {
  return `${signedPoints(changeRatio)} (${signedPoints(lowRatio)} to ${signedPoints(highRatio)})`;
}

function short({ cause, origin }: CauseIndices): string {
  return `${cause.replace(/^the /, "")}${origin === "assumption" ? " (assumed)" : ""}`;
}

function bareLabel(label: string): string {
  return label.replace(/^the /, "");
}

export function contributorsVerdict(result: Contributions): string[] {
  const { causes, slopes, good } = result;
  const top = causes.filter((cause) => cause.yield.total.lowRatio > 0.01).slice(0, 4);
  const alone = causes.reduce((sum, cause) => sum + Math.max(0, cause.yield.firstOrder.indexRatio), 0);
  const lead =
    top.length === 0
      ? `Of the units ${withInterval(good)} are good in every state; no cause can be told to decide which.`
      : `Which units fail is decided above all by ${listing(top.map((cause) => `${short(cause)} (total index ${indexWords(cause.yield.total)})`))}; ${withInterval(good)} of the units are good in every state.`;
  const together = `The causes one by one explain ${decimal(100 * Math.min(1, alone), 0)} % of it: the rest is what they do together, so that the total indices rank them and first-order ones do not.`;
  const first = slopes[0];
  const tighten =
    first !== undefined && signOf(first.byTenPercentSpread) < 0
      ? `A tenth less spread gains most at the ${bareLabel(first.label)}: ${signedPoints(-first.byTenPercentSpread.changeRatio)} points (${signedPoints(-first.byTenPercentSpread.highRatio)} to ${signedPoints(-first.byTenPercentSpread.lowRatio)}).`
      : "No spread can be told to cost yield by itself: look at the means.";
  const move = slopes.reduce<(typeof slopes)[number] | null>(
    (a, b) => (a === null || Math.abs(b.byTenthOfSd.changeRatio) > Math.abs(a.byTenthOfSd.changeRatio) ? b : a),
    null,
  );
  const shift =
    move !== null && signOf(move.byTenthOfSd) !== 0
      ? `Of the means, that of “${bareLabel(move.label)}” counts most: ${signedPoints(move.byTenthOfSd.changeRatio)} points for a tenth of its standard deviation (${quantity(0.1 * move.sd, move.unit as Parameters<typeof quantity>[1])}) more.`
      : "";
  const states = causes[0].preload.map(({ state }, s) => {
    const most = causes.reduce((a, b) => (b.preload[s].total.indexRatio > a.preload[s].total.indexRatio ? b : a));
    return `${state}: ${short(most)} (${indexWords(most.preload[s].total)})`;
  });
  const assumed = top.filter(({ origin }) => origin === "assumption");
  return [
    lead,
    together,
    [tighten, shift].filter((sentence) => sentence !== "").join(" "),
    `What drives the preload most: ${states.join("; ")}.`,
    assumed.length === 0
      ? ""
      : `Assumed, not given: ${listing(assumed.map(({ cause }) => cause))}. Measure before spending money on the others.`,
  ].filter((paragraph) => paragraph !== "");
}

export function contributorsView(result: ContributorsStudyResult): DecisionView {
  const { causes, slopes, good, indexBasis } = result;
  return {
    heading: "what drives the preload and the yield",
    cells: [
      { label: "Good in every state", value: withInterval(good), note: `${count(good.samples)} units` },
      ...causes.slice(0, 3).map((cause) => ({
        label: capital(short(cause)),
        value: indexWords(cause.yield.total),
        note: "total index of the yield",
      })),
    ],
    figures: [indexFigure(result)],
    tables: [
      {
        title: "Causes",
        isMain: true,
        table: {
          head: ["cause", "yield: total", "alone", ...causes[0].preload.map(({ state }) => `preload, ${state}: total`)],
          rows: causes.map((cause) => [
            short(cause),
            indexWords(cause.yield.total),
            indexWords(cause.yield.firstOrder),
            ...cause.preload.map(({ total }) => indexWords(total)),
          ]),
        },
        remark:
          "Total: share of the variance that would be left were everything else known. Alone (first order): share that would go were this one known. Indices may fall a little below 0 by chance.",
      },
      {
        title: "Indices with their intervals",
        table: {
          head: [
            "cause",
            "yield: total",
            "yield: alone",
            ...causes[0].preload.flatMap(({ state }) => [`preload, ${state}: total`, "alone"]),
          ],
          rows: causes.map((cause) => [
            short(cause),
            indexCell(cause.yield.total),
            indexCell(cause.yield.firstOrder),
            ...cause.preload.flatMap(({ total, firstOrder }) => [indexCell(total), indexCell(firstOrder)]),
          ]),
        },
      },
      {
        title: "Slopes of the yield",
        isMain: true,
        table: {
          head: ["quantity", "10 % more spread, points", "mean + a tenth of its sd, points"],
          rows: slopes.map((slope) => [slope.label, slopeCell(slope.byTenPercentSpread), slopeCell(slope.byTenthOfSd)]),
        },
        remark:
          "By the score function on the failing units. For a quantity that is not normal it is the answer to a shift or stretch of its normal score. Correlated quantities are left out.",
      },
    ],
    method: [
      `Indices by exchanging the quantities of one cause at a time between two sets of scrambled Sobol' points (${count(indexBasis.replicates)} scrambles of ${count(indexBasis.pointsPerReplicate)} points, ${count(indexBasis.evaluations)} evaluations): first order after Saltelli and others (2010), total after Jansen (1999). Correlated quantities are one cause.`,
    ],
  };
}

function indexFigure(result: ContributorsStudyResult): Markup {
  const shown = result.causes.slice(0, MOST_BARS);
  const rows = shown.map((cause, place) => ({
    key: String(place),
    total: Math.max(0, cause.yield.total.indexRatio),
    low: cause.yield.total.lowRatio,
    high: cause.yield.total.highRatio,
    alone: Math.max(0, cause.yield.firstOrder.indexRatio),
  }));
  const names = shown.map((cause) => capital(short(cause)));
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        ...namedRows(names, format, { narrow: 16, wide: 40 }),
        x: {
          domain: [0, Math.max(1e-3, ...rows.map(({ high, total }) => Math.max(high, total)))],
          label: "index of the yield",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 4 : 8,
        },
        marks: [
          Plot.barX(rows, { x1: 0, x2: "total", y: "key", fill: "var(--bar)", insetTop: 3, insetBottom: 3 }),
          Plot.barX(rows, { x1: 0, x2: "alone", y: "key", fill: "var(--bar-edge)", insetTop: 9, insetBottom: 9 }),
          Plot.ruleY(rows, { x1: "low", x2: "high", y: "key", stroke: "var(--ink)", strokeWidth: 1.6 }),
        ],
      },
      format,
      name,
    );
  return figure({
    title: "Which causes decide whether a unit is good",
    draw,
    sentence: `Largest total indices: ${listing(shown.slice(0, 3).map((cause) => `${short(cause)} ${indexWords(cause.yield.total)}`))}.`,
    caption: `${count(shown.length)} of ${count(result.causes.length)} causes; the dark line is the 95 % interval of the total index.`,
    legend: [
      { sample: swatch({ fill: "var(--bar)", ink: "", hatch: null }), words: "total: with all that it takes part in" },
      { sample: swatch({ fill: "var(--bar-edge)", ink: "", hatch: null }), words: "alone (first order)" },
    ],
  });
}
