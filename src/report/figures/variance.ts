import * as Plot from "@observablehq/plot";
import type { RunResult } from "../../studies/result.ts";
import type { Markup } from "../html.ts";
import { capital, clip, count, decimal, NOTHING, stateLabel, units } from "../words.ts";
import { figure } from "./figure.ts";
import { drawPlot, type Format } from "./plot.ts";

type Result = Omit<RunResult, "verdict">;

const MOST_ROWS = 7;

/** What spreads the preload, state by state. Null without contributors. */
export function varianceFigure(result: Result): Markup | null {
  const states = result.contributors.preloadVariance;
  const weights = new Map<string, number>();
  for (const { rows } of states) {
    for (const { groupLabel, firstOrderRatio } of rows) {
      if (Number.isFinite(firstOrderRatio))
        weights.set(groupLabel, Math.max(weights.get(groupLabel) ?? 0, firstOrderRatio));
    }
  }
  const causes = [...weights.entries()].sort((a, b) => b[1] - a[1]).map(([label]) => label);
  if (causes.length === 0) return null;
  const drawn = causes.slice(0, MOST_ROWS);
  const shareOf = (state: (typeof states)[number], cause: string) =>
    state.rows.find(({ groupLabel }) => groupLabel === cause)?.firstOrderRatio ?? Number.NaN;
  const labels = states.map(({ state }) => stateLabel(result.states, state));
  const bars = states.flatMap((state, index) =>
    drawn
      .map((cause) => ({ state: labels[index]!, cause, share: shareOf(state, cause) }))
      .filter(({ share }) => Number.isFinite(share)),
  );
  return figure({
    title: "What spreads the preload",
    draw: (format, name) => draw(bars, labels, drawn, format, name),
    sentence: states
      .map((state, index) => {
        const [first] = state.rows;
        return first === undefined
          ? ""
          : `${capital(labels[index]!)}: ${first.groupLabel} makes ${partWords(first.firstOrderRatio)} of the variance.`;
      })
      .join(" "),
    caption: `Share of the variance of the preload that each cause explains alone (first-order index), from ${units(result.contributors.samples)}. ${causes.length > drawn.length ? `${count(causes.length - drawn.length)} smaller causes are not drawn. ` : ""}What is missing to 100 % acts only together with other causes, above all where some units have no preload.`,
    table: {
      head: ["cause", ...labels],
      rows: causes.map((cause) => [cause, ...states.map((state) => partWords(shareOf(state, cause)))]),
    },
  });
}

/** An estimate of a small share may come out below zero; it is known to about a per cent. */
function partWords(shareRatio: number): string {
  if (!Number.isFinite(shareRatio)) return NOTHING;
  return shareRatio < 0.01 ? "< 1\u00a0%" : `${decimal(shareRatio * 100, 0)}\u00a0%`;
}

interface Bar {
  readonly state: string;
  readonly cause: string;
  readonly share: number;
}

function draw(
  bars: readonly Bar[],
  states: readonly string[],
  causes: readonly string[],
  format: Format,
  name: string,
): Markup {
  const narrow = format === "narrow";
  const most = Math.max(...bars.map(({ share }) => share), 0.05);
  const stacked = narrow || states.length > 3;
  const facet = stacked ? ({ fy: "state" } as const) : ({ fx: "state" } as const);
  const scale = { domain: states, label: null, padding: stacked ? 0.18 : 0.08 };
  return drawPlot(
    {
      height: stacked ? states.length * (causes.length * 26 + 40) + 60 : causes.length * 30 + 76,
      marginLeft: narrow ? 172 : 272,
      marginRight: narrow ? 14 : 10,
      marginTop: stacked ? 22 : 30,
      marginBottom: 40,
      x: {
        domain: [0, most * 1.32],
        ticks: narrow ? 3 : !stacked && states.length > 2 ? 2 : 4,
        tickFormat: (ratio: number) => `${Math.round(ratio * 100)} %`,
        label: "share of the variance",
        labelArrow: "none",
        labelAnchor: "center",
      },
      y: { domain: causes, label: null, padding: 0.25, axis: null },
      ...(stacked
        ? { fy: { ...scale, axis: null } }
        : { fx: { ...scale, axis: "top", tickFormat: (state: string) => clip(state, 24) } }),
      marks: [
        Plot.axisY({
          tickFormat: (cause: string) => clip(cause.replace(/^the /, ""), narrow ? 23 : 36),
          tickSize: 0,
          label: null,
        }),
        Plot.barX(bars, { x: "share", y: "cause", ...facet, fill: "var(--bar-edge)", insetTop: 0 }),
        Plot.ruleX([0], { stroke: "var(--ink)" }),
        Plot.text(bars, {
          x: (bar: Bar) => Math.max(bar.share, 0),
          y: "cause",
          ...facet,
          dx: 5,
          textAnchor: "start",
          text: (bar: Bar) => partWords(bar.share),
          fontSize: 12,
        }),
        ...(stacked
          ? [
              Plot.text(states, {
                fy: (state: string) => state,
                frameAnchor: "top-right",
                dy: -16,
                text: (state: string) => clip(state, 42),
                fontWeight: 700,
              }),
            ]
          : []),
      ],
    },
    format,
    name,
  );
}
