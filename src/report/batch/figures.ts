import * as Plot from "@observablehq/plot";
import type { BatchStudyResult, CountDistribution } from "../../studies/batch/result.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { lineSwatch, swatch } from "../palette.ts";
import { count, interval, percent, tick } from "../words.ts";
import { countText, planText } from "./words.ts";

type Finding = Omit<BatchStudyResult, "verdict">;

/** How a count varies from batch to batch. */
export function countFigure(
  title: string,
  distribution: CountDistribution,
  { batches, size, requiredYieldRatio }: Finding,
  isGood: boolean,
): Markup {
  const { low, width, batches: bars } = distribution.histogram;
  const rects = bars.map((number, place) => ({ x1: low + place * width, x2: low + (place + 1) * width, y: number }));
  const need = isGood && requiredYieldRatio !== null ? requiredYieldRatio * size : null;
  const high = Math.max(low + bars.length * width, need ?? 0);
  const start = Math.min(low, need ?? low);
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        height: format === "narrow" ? 210 : 220,
        marginLeft: 12,
        marginRight: 16,
        marginBottom: 40,
        x: {
          domain: [start, high + (high - start) * 0.03 + 1],
          label: "units of a batch",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 4 : 8,
          tickFormat: tick,
        },
        y: { axis: null, domain: [0, Math.max(...bars, 1) * 1.08] },
        marks: [
          Plot.rect(rects, {
            x1: "x1",
            x2: "x2",
            y1: 0,
            y2: "y",
            fill: "var(--bar)",
            stroke: "var(--bar-edge)",
            strokeWidth: 0.8,
          }),
          Plot.ruleX([distribution.expected], { stroke: "var(--accent)", strokeWidth: 2 }),
          ...(need === null
            ? []
            : [Plot.ruleX([need], { stroke: "var(--bind)", strokeWidth: 1.8, strokeDasharray: "6 3" })]),
          Plot.ruleY([0], { stroke: "var(--ink)" }),
        ],
      },
      format,
      name,
    );
  return figure({
    title,
    draw,
    sentence: `Expected ${countText(distribution)}.`,
    caption: `${count(batches)} batches drawn, all inside the axis; bars are ${count(width)} ${width === 1 ? "unit" : "units"} wide.`,
    legend: [
      { sample: swatch({ fill: "var(--bar)", ink: "", hatch: null }), words: "batches" },
      { sample: lineSwatch("var(--accent)", "none"), words: "expected" },
      ...(need === null ? [] : [{ sample: lineSwatch("var(--bind)", "6 3"), words: "required" }]),
    ],
    table: {
      head: ["more than", "chance", "95 % interval"],
      rows: distribution.more.map((row) => [count(row.count), percent(row.chanceRatio), interval(row)]),
      numeric: [0, 1, 2],
    },
  });
}

const DASHES = ["none", "7 3", "2 3", "9 3 2 3"];
const STROKES = ["var(--accent)", "var(--line-low)", "var(--line-high)", "var(--service)"];

/** Operating characteristics of the sampling plans against the batches that come. */
export function samplingFigure({ sampling, benchFailures, size }: Finding): Markup | null {
  if (sampling.length === 0) return null;
  const plans = sampling.slice(0, DASHES.length);
  const lines = plans.map(({ curve }) =>
    curve.map(({ failingRatio, acceptanceRatio }) => ({ x: failingRatio * 100, y: acceptanceRatio * 100 })),
  );
  const bars = benchFailures.histogram;
  const most = Math.max(...bars.batches, 1);
  const rects = bars.batches.map((number, place) => ({
    x1: (100 * (bars.low + place * bars.width)) / size,
    x2: (100 * (bars.low + (place + 1) * bars.width)) / size,
    y: (100 * number) / most,
  }));
  const reach = Math.max(...lines.flat().map(({ x }) => x), ...rects.filter(({ y }) => y > 1).map(({ x2 }) => x2));
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        height: format === "narrow" ? 240 : 280,
        marginLeft: 46,
        marginRight: 16,
        marginBottom: 42,
        x: {
          domain: [0, reach],
          label: "failing at the bench, % of the batch",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 4 : 8,
          tickFormat: tick,
        },
        y: { domain: [0, 100], label: "chance of acceptance, %", labelArrow: "none", ticks: 5 },
        marks: [
          Plot.rect(
            rects.filter(({ x1 }) => x1 < reach),
            { x1: "x1", x2: "x2", y1: 0, y2: "y", fill: "var(--bar)" },
          ),
          ...lines.map((line, place) =>
            Plot.line(line, {
              x: "x",
              y: "y",
              stroke: STROKES[place],
              strokeWidth: 2.2,
              strokeDasharray: DASHES[place],
            }),
          ),
          Plot.ruleY([0], { stroke: "var(--ink)" }),
        ],
      },
      format,
      name,
    );
  return figure({
    title: "What sampling would pass",
    draw,
    sentence: `${plans.map(({ sample, accept, acceptedRatio }) => `A ${planText(sample, accept)} passes ${percent(acceptedRatio)} of the batches`).join("; ")}.`,
    caption:
      "Curves: chance of acceptance over the failing share of the process (binomial). Bars: the batches as they are drawn, the highest bar to full height.",
    legend: [
      ...plans.map(({ sample, accept }, place) => ({
        sample: lineSwatch(STROKES[place], DASHES[place]),
        words: `${count(sample)} units, ${accept === 0 ? "none" : `up to ${count(accept)}`} failing`,
      })),
      { sample: swatch({ fill: "var(--bar)", ink: "", hatch: null }), words: "batches" },
    ],
  });
}
