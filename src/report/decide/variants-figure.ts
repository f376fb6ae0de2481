import * as Plot from "@observablehq/plot";
import type { ComparedVariant, CompareResult } from "../../studies/decide/result.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { lineSwatch, swatch } from "../palette.ts";
import { clip, count, listing, percent } from "../words.ts";

/** Panels that a picture holds; what stands behind them is in the tables. */
const MOST_PANELS = 12;
const EVERY = "every state";
const PANELS_A_ROW: Readonly<Record<Format, number>> = { wide: 3, narrow: 1 };
const ROW_PX = 19;
const TITLE_PX = 34;

interface Bar {
  readonly panel: number;
  readonly state: string;
  /** Percent. */
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Of the scenario as it stands, percent; NaN in its own panel and where it has no such state. */
  readonly base: number;
}

/** One small picture a variant, all on the same scales: units on target in each state, and in every one. */
export function variantsFigure({ variants }: CompareResult): Markup {
  const shown = variants.slice(0, MOST_PANELS);
  const bars = shown.flatMap((variant, panel) => barsOf(variant, panel, variants[0]));
  const states = [...new Set(bars.map(({ state }) => state))].sort((a, b) => Number(a === EVERY) - Number(b === EVERY));
  const draw = (format: Format, name: string) => {
    const across = PANELS_A_ROW[format];
    const down = Math.ceil(shown.length / across);
    const place = ({ panel }: { panel: number }) => ({ fx: panel % across, fy: Math.floor(panel / across) });
    const placed = bars.map((bar) => ({ ...bar, ...place(bar) }));
    const titles = shown.map((variant, panel) => ({ ...place({ panel }), words: clip(variant.name, 33) }));
    const widest = Math.max(...states.map((state) => state.length));
    const most = format === "narrow" ? 16 : 14;
    return drawPlot(
      {
        height: down * (TITLE_PX + ROW_PX * states.length) + 52,
        marginLeft: 16 + 7.4 * Math.min(widest, most),
        marginRight: 22,
        marginTop: 8,
        marginBottom: 42,
        fx: { domain: Array.from({ length: across }, (_, index) => index), axis: null, padding: 0.1 },
        fy: { domain: Array.from({ length: down }, (_, index) => index), axis: null, padding: 0.1 },
        x: {
          domain: [0, 100],
          label: "units on target, %",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 5 : 3,
        },
        // The first place is the title's.
        y: { domain: ["", ...states], label: null, tickFormat: (state: string) => clip(state, most), tickSize: 0 },
        marks: [
          Plot.barX(placed, {
            fx: "fx",
            fy: "fy",
            x1: 0,
            x2: "value",
            y: "state",
            fill: "var(--bar)",
            insetTop: 3,
            insetBottom: 3,
          }),
          Plot.barX(
            placed.filter(({ state }) => state === EVERY),
            {
              fx: "fx",
              fy: "fy",
              x1: 0,
              x2: "value",
              y: "state",
              fill: "var(--bar-edge)",
              insetTop: 3,
              insetBottom: 3,
            },
          ),
          Plot.ruleY(placed, {
            fx: "fx",
            fy: "fy",
            x1: "low",
            x2: "high",
            y: "state",
            stroke: "var(--ink)",
            strokeWidth: 1.5,
          }),
          Plot.tickX(
            placed.filter(({ base }) => Number.isFinite(base)),
            { fx: "fx", fy: "fy", x: "base", y: "state", stroke: "var(--line-low)", strokeWidth: 2.5 },
          ),
          Plot.ruleX([0], { stroke: "var(--ink)" }),
          Plot.text(titles, {
            fx: "fx",
            fy: "fy",
            frameAnchor: "top-left",
            text: "words",
            fontWeight: 650,
            dx: 2,
            dy: 4,
          }),
        ],
      },
      format,
      name,
    );
  };
  return figure({
    title: "Every variant, state by state",
    draw,
    sentence: `Good in every state: ${listing(shown.map(({ name, shares }) => `${name} ${percent(shares.good.ratio)}`))}.`,
    caption: `${count(shown.length)} of ${count(variants.length)} variants, the scenario as it stands first; the axis is the same in every panel, and all are judged on the same units. The dark line is the 95 % interval.`,
    legend: [
      { sample: swatch({ fill: "var(--bar)", ink: "", hatch: null }), words: "on target in a state" },
      { sample: swatch({ fill: "var(--bar-edge)", ink: "", hatch: null }), words: "good in every state" },
      { sample: lineSwatch("var(--line-low)", "none"), words: "as it stands" },
    ],
  });
}

function barsOf(variant: ComparedVariant, panel: number, base: ComparedVariant): Bar[] {
  const rows = ({ states, shares }: ComparedVariant) => [
    ...states.map(({ state, good }) => ({ state, good })),
    { state: EVERY, good: shares.good },
  ];
  const ofBase = new Map(rows(base).map(({ state, good }) => [state, good.ratio]));
  return rows(variant).map(({ state, good }) => ({
    panel,
    state,
    value: 100 * good.ratio,
    low: 100 * good.lowRatio,
    high: 100 * good.highRatio,
    base: variant === base ? Number.NaN : 100 * (ofBase.get(state) ?? Number.NaN),
  }));
}
