import * as Plot from "@observablehq/plot";
import type { Finding } from "../../studies/decide/compare.ts";
import type { CentrePoint, CentreResult } from "../../studies/decide/result.ts";
import { formatLength } from "../../units/format.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { lineSwatch } from "../palette.ts";
import { count, decimal, interval, listing, micrometres, percent, significant, tick, tidyPercent } from "../words.ts";
import type { DecisionView } from "./view.ts";
import { differenceWords, reaches, signedMicrometres, signOf, withInterval } from "./words.ts";

type Centre = Finding<CentreResult>;

function costWords(cost: NonNullable<CentrePoint["costPerGoodUnit"]>, currency: string): string {
  return `${significant(cost.mean)}${currency === "" ? "" : ` ${currency}`} a good unit (${significant(cost.low)} to ${significant(cost.high)})`;
}

/** A length on the drawing: as many decimals as its resolution asks for. */
export function lengthWords(mm: number, resolutionMm: number): string {
  let decimals = 2;
  while (decimals < 5 && Math.abs(Number(resolutionMm.toFixed(decimals)) - resolutionMm) > 1e-9) decimals += 1;
  return formatLength(mm, decimals).replaceAll(" ", "\u00a0");
}

export function centreVerdict(result: Centre): string[] {
  const { member, current, rounded, gain, steps, resolutionMm, check, requiredYieldRatio, best, others } = result;
  const drawn = (mm: number) => lengthWords(mm, resolutionMm);
  const offset = rounded.offsetMm - current.offsetMm;
  const isSame = Math.abs(member.toMm - member.fromMm) < 1e-9;
  const lead = isSame
    ? `Leave the ${member.name} at ${drawn(member.fromMm)}: ${withInterval(current.good)} of the units are good in every state, and no other nominal on a grid of ${micrometres(resolutionMm)} does better.`
    : `Change the ${member.name} from ${drawn(member.fromMm)} to ${drawn(member.toMm)} (±${micrometres(member.toleranceMm)} as before): ${withInterval(rounded.good)} of the units are then good in every state, ${percent(current.good.ratio)} as drawn, ${differenceWords(gain)}.`;
  const move = isSame
    ? ""
    : ` That moves the nominal offset by ${signedMicrometres(offset)} to ${micrometres(rounded.offsetMm)}${others.length === 0 ? "" : `; ${listing(others)} would do as well`}.`;
  const cost =
    rounded.costPerGoodUnit === null
      ? ""
      : `It is the cheapest nominal, not the one with the most good units: failures then cost ${costWords(rounded.costPerGoodUnit, result.currency)}, ${costWords(current.costPerGoodUnit!, result.currency)} as drawn.`;
  const lost = steps.map(({ nominalMm, lost: change }) => `${differenceWords(change)} at ${drawn(nominalMm)}`);
  const flat = steps.every(({ lost: change }) => Math.abs(change.differenceRatio) < 0.005);
  const rest = 1 - best.good.ratio;
  return [
    `${lead}${move}`,
    cost,
    `One step of ${micrometres(resolutionMm)} to either side changes the yield by ${listing(lost)}: ${flat ? "the optimum is flat, the step does not matter" : "hold the nominal"}.`,
    signOf(gain) > 0 || isSame
      ? `What the nominal cannot give, ${percent(rest)} of the units, is lost to tolerances, bearings and heat.`
      : "",
    requiredYieldRatio === null
      ? ""
      : `Required are ${tidyPercent(requiredYieldRatio)}: ${{ yes: "reached", no: "not reached by the nominal alone", "cannot tell": "cannot be told yet" }[reaches(rounded.good, requiredYieldRatio)]}.`,
    `Drawn plainly with the changed nominal, ${count(check.samples)} other units give ${withInterval(check)}.`,
  ].filter((paragraph) => paragraph !== "");
}

export function centreView(result: CentreResult): DecisionView {
  const { member, current, rounded, gain, steps, resolutionMm, currency } = result;
  const rows: [string, number, CentrePoint][] = [
    ["as drawn", member.fromMm, current],
    ["one step less", steps[0].nominalMm, steps[0].point],
    ["recommended", member.toMm, rounded],
    ["one step more", steps[1].nominalMm, steps[1].point],
  ];
  const hasCost = current.costPerGoodUnit !== null;
  return {
    heading: `nominal of the ${member.name}`,
    cells: [
      {
        label: `${member.name}, nominal`,
        value: lengthWords(member.toMm, resolutionMm),
        note: `${lengthWords(member.fromMm, resolutionMm)} as drawn`,
        kind: "main",
      },
      {
        label: "Good in every state",
        value: percent(rounded.good.ratio),
        note: `95 %: ${interval(rounded.good)}`,
        kind: "main",
      },
      { label: "Gain", value: differenceWords(gain), note: "on the same units" },
      { label: "At the bench", value: percent(rounded.bench.ratio), note: `${percent(current.bench.ratio)} as drawn` },
      {
        label: "In service",
        value: percent(rounded.service.ratio),
        note: `${percent(current.service.ratio)} as drawn`,
      },
    ],
    figures: [curveFigure(result)],
    tables: [
      {
        title: "The nominals in question",
        isMain: true,
        table: {
          head: [
            "",
            member.name,
            "offset",
            "good",
            "95 %",
            "bench",
            "service",
            ...(hasCost ? [`failures, ${currency === "" ? "cost" : currency} a good unit`] : []),
          ],
          rows: rows.map(([name, mm, point]) => [
            name,
            lengthWords(mm, resolutionMm),
            micrometres(point.offsetMm),
            percent(point.good.ratio),
            interval(point.good),
            percent(point.bench.ratio),
            percent(point.service.ratio),
            ...(point.costPerGoodUnit === null ? [] : [decimal(point.costPerGoodUnit.mean, 3)]),
          ]),
        },
      },
    ],
    method: [
      "Every unit, drawn without its own offset, has a window of offsets that are good in every state; the yield at a nominal is the mean chance of that window under the law of the offset, so that all nominals are judged on one set of units. The best is found by a look over the range of the windows and golden section, then put on the drawing's grid, its neighbours tried.",
    ],
  };
}

function curveFigure(result: CentreResult): Markup {
  const { curve, current, rounded } = result;
  const percentOf = (pick: (point: CentrePoint) => number) =>
    curve.map((point) => ({ x: 1000 * point.offsetMm, y: 100 * pick(point) }));
  const marks = [current, rounded].map((point) => ({
    x: 1000 * point.offsetMm,
    words: point === current ? "as drawn" : "recommended",
  }));
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        height: format === "narrow" ? 240 : 280,
        marginLeft: 54,
        marginRight: 16,
        marginTop: 30,
        marginBottom: 40,
        x: {
          label: "nominal machined offset at 20 °C, µm",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 4 : 9,
          tickFormat: tick,
        },
        y: { domain: [0, 100], ticks: 5, tickFormat: (value: number) => `${value} %`, label: null, grid: true },
        marks: [
          Plot.areaY(curve, {
            x: (point: CentrePoint) => 1000 * point.offsetMm,
            y1: (point: CentrePoint) => 100 * point.good.lowRatio,
            y2: (point: CentrePoint) => 100 * point.good.highRatio,
            fill: "var(--band)",
          }),
          Plot.line(
            percentOf(({ good }) => good.ratio),
            { x: "x", y: "y", stroke: "var(--target)", strokeWidth: 2.4 },
          ),
          Plot.line(
            percentOf(({ bench }) => bench.ratio),
            { x: "x", y: "y", stroke: "var(--scrap)", strokeWidth: 1.8, strokeDasharray: "7 3" },
          ),
          Plot.line(
            percentOf(({ service }) => service.ratio),
            { x: "x", y: "y", stroke: "var(--service)", strokeWidth: 1.8, strokeDasharray: "2 3" },
          ),
          Plot.ruleX(marks, { x: "x", stroke: "var(--ink)", strokeDasharray: "1 3" }),
          ...marks.map((mark, place) =>
            Plot.text([mark], {
              x: "x",
              text: "words",
              frameAnchor: "top",
              dy: -8 - 13 * place,
              fontWeight: 600,
              fill: "var(--ink)",
            }),
          ),
        ],
      },
      format,
      name,
    );
  return figure({
    title: "What a nominal gives",
    draw,
    sentence: `As drawn, at ${micrometres(current.offsetMm)}, ${percent(current.good.ratio)} are good in every state; at ${micrometres(rounded.offsetMm)} it is ${percent(rounded.good.ratio)}.`,
    caption: "The band about the yield is its 95 % interval and may be thinner than the line.",
    legend: [
      { sample: lineSwatch("var(--target)", "none"), words: "good in every state" },
      { sample: lineSwatch("var(--scrap)", "7 3"), words: "fails at the bench" },
      { sample: lineSwatch("var(--service)", "2 3"), words: "passes there, fails in service" },
    ],
  });
}
