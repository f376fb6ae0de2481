import * as Plot from "@observablehq/plot";
import type { CurvePoint, RunResult } from "../../studies/result.ts";
import type { Markup } from "../html.ts";
import { count, decimal, interval, micrometres, percent, tick } from "../words.ts";
import { figure } from "./figure.ts";
import { drawPlot, type Format } from "./plot.ts";

/** A point of either curve with where it stands: offset in mm, or multiple of the tolerances. */
interface PlacedPoint extends CurvePoint {
  readonly at: number;
}

type Result = Omit<RunResult, "verdict">;

interface Curve {
  readonly points: readonly { readonly x: number; readonly y: number; readonly low: number; readonly high: number }[];
  readonly label: string;
  readonly at: number;
  readonly atWords: string;
}

/** Yield over the nominal offset, tolerances as given. Null where nothing was integrated. */
export function nominalCurveFigure(result: Result): Markup | null {
  const { integration, nominal } = result;
  if (integration === null || integration.overNominal.length === 0) return null;
  const nominals = integration.overNominal.map((row) => ({ ...row, at: row.nominalOffsetMm }));
  const best = bestOf(nominals);
  const given = nearest(nominals, nominal.machinedOffsetMm);
  return curveFigure({
    title: "Yield over the nominal offset",
    sentence: `At the nominal offset of ${micrometres(nominal.machinedOffsetMm)}, ${percent(given.yieldRatio)} of the units are good in every state; at the best one, ${micrometres(best.at)}, it would be ${percent(best.yieldRatio)}, with tolerances, bearings and heat as they are.`,
    points: nominals,
    curve: {
      points: nominals.map((point) => inPercent(point, point.at * 1000)),
      label: "nominal machined offset at 20 °C, µm",
      at: nominal.machinedOffsetMm * 1000,
      atWords: `as drawn ${micrometres(nominal.machinedOffsetMm)}`,
    },
    head: "nominal offset",
    name: ({ at }) => micrometres(at),
    result,
  });
}

/** Yield over the tolerances of the chain, nominal as given. Null where nothing was integrated. */
export function toleranceCurveFigure(result: Result): Markup | null {
  const { integration } = result;
  if (integration === null || integration.overTolerance.length === 0) return null;
  const tolerances = integration.overTolerance.map((row) => ({ ...row, at: row.toleranceRatio }));
  const first = tolerances[0]!;
  const given = nearest(tolerances, 1);
  return curveFigure({
    title: "Yield over the tolerances of the spacings",
    sentence: `With the tolerances as drawn ${percent(given.yieldRatio)} of the units are good in every state; with a tenth of them ${percent(first.yieldRatio)}: what is missing from there to 100 % comes from the bearings, the heat and the nominal, not from the tolerances.`,
    points: tolerances,
    curve: {
      points: tolerances.map((point) => inPercent(point, point.at)),
      label: "tolerances of all spacings, as multiples of those drawn",
      at: 1,
      atWords: "as drawn",
    },
    head: "tolerances",
    name: ({ at }) => `× ${decimal(at, 2)}`,
    result,
  });
}

function curveFigure(parts: {
  title: string;
  sentence: string;
  points: readonly PlacedPoint[];
  curve: Curve;
  head: string;
  name: (point: PlacedPoint) => string;
  result: Result;
}): Markup {
  const { integration } = parts.result;
  const { replicates } = integration!;
  const step = Math.max(1, Math.round(parts.points.length / 24));
  return figure({
    title: parts.title,
    draw: (format, name) => draw(parts.curve, format, name),
    sentence: parts.sentence,
    caption: `Over ${count(replicates)} independent sets of units on scrambled Sobol' points, the offset's own spread integrated in closed form; the band is the 95 % interval over the sets and may be thinner than the line.`,
    table: {
      head: [parts.head, "yield", "95 % interval"],
      rows: parts.points
        .filter((_, index) => index % step === 0)
        .map((point) => [parts.name(point), percent(point.yieldRatio), interval(point)]),
      numeric: [1, 2],
    },
  });
}

function inPercent({ yieldRatio, lowRatio, highRatio }: PlacedPoint, x: number): Curve["points"][number] {
  return { x, y: 100 * yieldRatio, low: 100 * lowRatio, high: 100 * highRatio };
}

function bestOf(points: readonly PlacedPoint[]): PlacedPoint {
  return points.reduce((best, point) => (point.yieldRatio > best.yieldRatio ? point : best));
}

function nearest(points: readonly PlacedPoint[], at: number): PlacedPoint {
  return points.reduce((best, point) => (Math.abs(point.at - at) < Math.abs(best.at - at) ? point : best));
}

function draw(curve: Curve, format: Format, name: string): Markup {
  const narrow = format === "narrow";
  const xs = curve.points.map(({ x }) => x);
  const low = Math.min(...xs);
  const high = Math.max(...xs);
  const top = Math.min(100, Math.max(5, ...curve.points.map((point) => point.high)) * 1.15);
  const anchor = curve.at > (low + high) / 2 ? "end" : "start";
  return drawPlot(
    {
      height: narrow ? 230 : 250,
      marginLeft: 54,
      marginRight: 16,
      marginTop: 18,
      marginBottom: 40,
      x: {
        domain: [low, high],
        ticks: narrow ? 4 : 9,
        tickFormat: tick,
        label: curve.label,
        labelArrow: "none",
        labelAnchor: "center",
      },
      y: { domain: [0, top], ticks: 5, tickFormat: (value: number) => `${value} %`, label: null, grid: true },
      marks: [
        Plot.areaY(curve.points, { x: "x", y1: "low", y2: "high", fill: "var(--band)" }),
        Plot.line(curve.points, { x: "x", y: "y", stroke: "var(--target)", strokeWidth: 2 }),
        Plot.ruleX([curve.at], { stroke: "var(--ink)", strokeWidth: 1.2, strokeDasharray: "1 3" }),
        Plot.ruleY([0], { stroke: "var(--ink)", strokeWidth: 1 }),
        Plot.text([curve.at], {
          x: (value: number) => value,
          frameAnchor: "top",
          dy: -12,
          dx: anchor === "end" ? -5 : 5,
          textAnchor: anchor,
          text: () => curve.atWords,
          fontWeight: 600,
          fill: "var(--ink)",
        }),
      ],
    },
    format,
    name,
  );
}
