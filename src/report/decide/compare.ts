import * as Plot from "@observablehq/plot";
import type { Finding } from "../../studies/decide/compare.ts";
import type { ComparedVariant, CompareResult } from "../../studies/decide/result.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { count, interval, listing, NOTHING, percent, tidyPercent } from "../words.ts";
import { namedRows } from "./named-rows.ts";
import { variantsFigure } from "./variants-figure.ts";
import type { DecisionView } from "./view.ts";
import {
  differenceCell,
  differenceWords,
  reaches,
  signedMicrometres,
  signedPoints,
  signOf,
  withInterval,
} from "./words.ts";

/** Bars that a picture holds. With more variants the tables go by yield, best first. */
const MOST_BARS = 24;

export function compareVerdict(result: Finding<CompareResult>): string[] {
  const [base, ...variants] = result.variants;
  const order = variants.slice().sort((a, b) => b.shares.good.ratio - a.shares.good.ratio);
  const best = order[0];
  const gain = best.difference!.good;
  const better = signOf(gain) > 0;
  const lead = better
    ? `Best is “${best.name}”: ${withInterval(best.shares.good)} of the units are good in every state, ${differenceWords(gain)} against the scenario as it stands (${percent(base.shares.good.ratio)}).`
    : `${variants.length === 1 ? "The change gains" : `None of the ${count(variants.length)} changes gains`} ${variants.length === 1 ? (signOf(gain) < 0 ? "nothing" : "nothing that can be told") : signOf(gain) < 0 ? "anything" : "anything that can be told"}: as it stands ${withInterval(base.shares.good)} of the units are good in every state, “${best.name}” makes ${differenceWords(gain)} of it.`;
  return [
    `${lead}${leadSentence(result, better)}`,
    failuresSentence(base, best, result.batchSize),
    requiredSentence(result),
    worseSentence(variants),
    centredSentence(base, variants),
    cautionSentence(variants),
  ].filter((paragraph) => paragraph !== "");
}

function leadSentence({ lead }: Finding<CompareResult>, better: boolean): string {
  if (lead === null || !better) return "";
  return signOf(lead.difference) > 0
    ? ` It is ahead of “${lead.second}” by ${differenceWords(lead.difference)}.`
    : ` It cannot be told apart from “${lead.second}” (${differenceWords(lead.difference)}): take the cheaper of the two.`;
}

function failuresSentence(base: ComparedVariant, best: ComparedVariant, batchSize: number): string {
  const of = ({ shares }: ComparedVariant, fate: "bench" | "service") => count(batchSize * shares[fate].ratio);
  return `Of ${count(batchSize)} units with “${best.name}”, expect ${of(best, "bench")} outside the window at the bench (${of(base, "bench")} as it stands) and ${of(best, "service")} that pass there and fail in service (${of(base, "service")}).`;
}

function requiredSentence({ requiredYieldRatio, variants }: Finding<CompareResult>): string {
  if (requiredYieldRatio === null) return "";
  const sure = variants.filter(({ shares }) => reaches(shares.good, requiredYieldRatio) === "yes");
  const open = variants.filter(({ shares }) => reaches(shares.good, requiredYieldRatio) === "cannot tell");
  const names = (rows: readonly ComparedVariant[]) => firstOf(rows, 8, ({ name }) => `“${name}”`);
  if (sure.length === 0 && open.length === 0)
    return `None of them reaches the required ${tidyPercent(requiredYieldRatio)}.`;
  const parts = [
    sure.length === 0 ? "" : `${names(sure)} ${sure.length === 1 ? "reaches" : "reach"} it`,
    open.length === 0 ? "" : `for ${names(open)} it cannot be told yet`,
  ].filter((part) => part !== "");
  return `Required are ${tidyPercent(requiredYieldRatio)}: ${parts.join("; ")}.`;
}

function worseSentence(variants: readonly ComparedVariant[]): string {
  const worse = variants.filter(({ difference }) => signOf(difference!.good) < 0);
  if (worse.length === 0 || worse.length === variants.length) return "";
  const words = ({ name, difference }: ComparedVariant) =>
    `“${name}” (${signedPoints(difference!.good.differenceRatio)} points)`;
  return `Worse than as it stands: ${firstOf(worse, 6, words)}.`;
}

/** The first of a list by name, the others by their number. */
function firstOf(rows: readonly ComparedVariant[], most: number, words: (row: ComparedVariant) => string): string {
  const named = rows.slice(0, most).map(words);
  const rest = rows.length - named.length;
  return listing(rest > 0 ? [...named, `${count(rest)} more`] : named);
}

/** A variant that would win with a spacing of its own. */
function centredSentence(base: ComparedVariant, variants: readonly ComparedVariant[]): string {
  const rows = [base, ...variants].filter(({ centred }) => centred !== null);
  if (rows.length === 0) return "";
  const top = rows.reduce((a, b) => (b.centred!.good.ratio > a.centred!.good.ratio ? b : a));
  const most = Math.max(...[base, ...variants].map(({ shares }) => shares.good.highRatio));
  if (top.centred!.good.lowRatio <= most + 0.005) return "";
  const name = top === base ? "the scenario as it stands" : `“${top.name}”`;
  return `With a spacing of its own ${name} would do better than any of them: ${withInterval(top.centred!.good)} with the nominal offset moved by ${signedMicrometres(top.centred!.shiftMm)}.`;
}

function cautionSentence(variants: readonly ComparedVariant[]): string {
  const all = variants.flatMap(({ name, cautions }) => cautions.map((caution) => `“${name}”: ${caution}`));
  const rest = all.length - 4;
  return [...all.slice(0, 4), ...(rest > 0 ? [`${count(rest)} more cautions stand in result.json.`] : [])].join(" ");
}

export function compareView(result: CompareResult): DecisionView {
  const [base, ...variants] = result.variants;
  const best = variants.reduce((a, b) => (b.shares.good.ratio > a.shares.good.ratio ? b : a));
  const isLong = variants.length > MOST_BARS;
  const listed = isLong ? variants.slice().sort((a, b) => b.shares.good.ratio - a.shares.good.ratio) : variants;
  return {
    heading: `${count(variants.length)} ${variants.length === 1 ? "change" : "changes"} compared on the same units`,
    cells: [
      {
        label: "As it stands",
        value: percent(base.shares.good.ratio),
        note: `good in every state; 95 %: ${interval(base.shares.good)}`,
        kind: "main",
      },
      {
        label: `Best: ${best.name}`,
        value: percent(best.shares.good.ratio),
        note: `95 %: ${interval(best.shares.good)}`,
        kind: "main",
      },
      { label: "Difference", value: differenceWords(best.difference!.good), note: "on the same units" },
      { label: "At the bench", value: differenceWords(best.difference!.bench), note: "units outside the window" },
      { label: "In service", value: differenceWords(best.difference!.service), note: "units that pass and then fail" },
    ],
    figures: [differenceFigure(result), variantsFigure(result)],
    tables: [
      {
        title: isLong ? "All variants, best first" : "All variants",
        isMain: true,
        table: {
          head: ["variant", "good", "95 %", "difference, points", "bench", "service", "re-centred", "by"],
          rows: [base, ...listed].map((row) => [
            row.name,
            percent(row.shares.good.ratio),
            interval(row.shares.good),
            row.difference === null ? "" : differenceCell(row.difference.good),
            percent(row.shares.bench.ratio),
            percent(row.shares.service.ratio),
            row.centred === null ? NOTHING : percent(row.centred.good.ratio),
            row.centred === null ? NOTHING : signedMicrometres(row.centred.shiftMm),
          ]),
        },
        remark:
          "Good: in every state. Re-centred: the yield with the nominal offset moved by so much, to where it suits the variant best; it tells a variant that is bad in itself from one that only asks for another spacing.",
      },
      {
        title: "On target in each state",
        table: {
          head: ["variant", ...base.states.map(({ state }) => state)],
          rows: [base, ...listed]
            .filter(({ states }) => states.length === base.states.length)
            .map((row) => [row.name, ...row.states.map(({ good }) => percent(good.ratio))]),
        },
      },
      {
        title: "What each changes",
        table: {
          head: ["variant", "changes", "judged by"],
          rows: listed.map((row) => [
            row.name,
            row.changes.join("; "),
            row.method === "integrated" ? "windows" : "plain sampling",
          ]),
          numeric: [],
        },
      },
    ],
    method: ["Each variant is resolved and checked like a scenario of its own and judged on the units of the base."],
  };
}

function differenceFigure(result: CompareResult): Markup {
  const rows = result.variants
    .slice(1)
    .sort((a, b) => b.difference!.good.differenceRatio - a.difference!.good.differenceRatio)
    .slice(0, MOST_BARS)
    .map(({ name, difference }, place) => ({
      key: String(place),
      name,
      value: 100 * difference!.good.differenceRatio,
      low: 100 * difference!.good.lowRatio,
      high: 100 * difference!.good.highRatio,
    }));
  const all = rows.flatMap(({ value, low, high }) => [value, low, high]);
  const ends = [Math.min(0, ...all), Math.max(0, ...all)];
  const room = Math.max(1e-3, ends[1] - ends[0]) * 0.06;
  const names = rows.map((row) => row.name);
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        ...namedRows(names, format, { narrow: 16, wide: 36 }),
        x: {
          domain: [ends[0] - room, ends[1] + room],
          label: "points of yield against as it stands",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 4 : 8,
        },
        marks: [
          Plot.barX(rows, { x1: 0, x2: "value", y: "key", fill: "var(--bar)", insetTop: 4, insetBottom: 4 }),
          Plot.ruleY(rows, { x1: "low", x2: "high", y: "key", stroke: "var(--ink)", strokeWidth: 2 }),
          Plot.ruleX([0], { stroke: "var(--ink)", strokeWidth: 1 }),
        ],
      },
      format,
      name,
    );
  return figure({
    title: "What each change does to the yield",
    draw,
    sentence: `${count(rows.length)} of ${count(result.variants.length - 1)} changes, best first: ${listing(rows.slice(0, 3).map((row) => `${row.name} ${signedPoints(row.value / 100)} points`))}.`,
    caption: `${rows.length < result.variants.length - 1 ? "The others stand in the table. " : ""}Bars are differences on the same units; the dark line is the 95 % interval and may be thinner than it looks.`,
  });
}
