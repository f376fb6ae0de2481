import * as Plot from "@observablehq/plot";
import type { Outcome } from "../../model/outcome.ts";
import type { RunResult, Share } from "../../studies/result.ts";
import type { Markup } from "../html.ts";
import { LOOKS, type Look, OUTCOME_ORDER, swatch } from "../palette.ts";
import { capital, clip, listing, OUTCOME_NAMES, percent, shareText, units } from "../words.ts";
import { figure } from "./figure.ts";
import { drawPlot, type Format } from "./plot.ts";

type Result = Omit<RunResult, "verdict">;

interface Segment {
  readonly row: string;
  readonly from: number;
  readonly to: number;
  readonly look: Look;
}

const EVERY_STATE = "whole life";

/** Stacked bars: what becomes of the units in each state, and of a unit over its whole life. */
export function outcomesFigure(result: Result): Markup {
  const seen = OUTCOME_ORDER.filter((outcome) => result.states.some((state) => state.outcomes[outcome].count > 0));
  const sentence = `${result.states
    .map((state) => `${capital(state.label)}: ${listing(named(state.outcomes, seen))}`)
    .join(". ")}.`;
  return figure({
    title: "What becomes of the units in each state",
    draw: (format, name) => draw(result, format, name),
    sentence,
    caption: `${capital(units(result.provenance.samples))} drawn, none outside the axis.${result.states.length > 1 ? " The last bar counts a unit once: it fails where it fails first, at the bench (scrap or rework) or later, in service." : ""}`,
    legend: [
      ...seen.map((outcome) => ({ sample: swatch(LOOKS[outcome]), words: OUTCOME_NAMES[outcome] })),
      ...(result.states.length > 1
        ? [
            {
              sample: swatch(LOOKS.scrap),
              words: `${EVERY_STATE}: ${result.requirements.length > 0 ? "fails" : "outside the window"} at the bench`,
            },
            { sample: swatch(LOOKS.service), words: `${EVERY_STATE}: fails in service` },
          ]
        : []),
    ],
    table: {
      head: ["state", ...OUTCOME_ORDER.map((outcome) => OUTCOME_NAMES[outcome])],
      rows: result.states.map((state) => [
        state.label,
        ...OUTCOME_ORDER.map((outcome) => shareText(state.outcomes[outcome])),
      ]),
    },
  });
}

function named(outcomes: Readonly<Record<Outcome, Share>>, seen: readonly Outcome[]): string[] {
  return seen
    .filter((outcome) => outcomes[outcome].count > 0)
    .sort((a, b) => outcomes[b].shareRatio - outcomes[a].shareRatio)
    .map((outcome) => `${percent(outcomes[outcome].shareRatio)} ${OUTCOME_NAMES[outcome]}`);
}

function segments(result: Result): Segment[] {
  const list: Segment[] = [];
  const add = (row: string, parts: readonly { readonly share: Share; readonly look: Look }[]) => {
    let from = 0;
    for (const { share, look } of parts) {
      const to = from + share.shareRatio;
      if (share.shareRatio > 0) list.push({ row, from, to, look });
      from = to;
    }
  };
  for (const state of result.states) {
    add(
      state.label,
      OUTCOME_ORDER.map((outcome) => ({ share: state.outcomes[outcome], look: LOOKS[outcome] })),
    );
  }
  if (result.states.length > 1) {
    add(EVERY_STATE, [
      { share: result.overall.failsAtBench, look: LOOKS.scrap },
      { share: result.overall.goodInEveryState, look: LOOKS.target },
      { share: result.overall.failsInService, look: LOOKS.service },
    ]);
  }
  return list;
}

function draw(result: Result, format: Format, name: string): Markup {
  const list = segments(result);
  const rows = [...result.states.map((state) => state.label), ...(result.states.length > 1 ? [EVERY_STATE] : [])];
  const narrow = format === "narrow";
  const bars = (fill: (segment: Segment) => string, some: readonly Segment[]) =>
    Plot.barX(some, {
      x1: "from",
      x2: "to",
      y: "row",
      fill,
      insetTop: narrow ? 20 : 0,
      insetLeft: 0.5,
      insetRight: 0.5,
    });
  return drawPlot(
    {
      height: rows.length * (narrow ? 58 : 46) + 50,
      marginLeft: narrow ? 8 : 190,
      marginRight: narrow ? 22 : 28,
      marginTop: 6,
      marginBottom: 38,
      x: {
        domain: [0, 1],
        ticks: narrow ? 3 : 5,
        tickFormat: (ratio: number) => `${Math.round(ratio * 100)} %`,
        label: "share of units",
        labelArrow: "none",
        labelAnchor: "center",
      },
      y: { domain: rows, label: null, padding: narrow ? 0.12 : 0.28, axis: null },
      color: { type: "identity" },
      marks: [
        bars((segment) => segment.look.fill, list),
        bars(
          (segment) => segment.look.hatch ?? "none",
          list.filter((segment) => segment.look.hatch !== null),
        ),
        Plot.text(
          list.filter((segment) => segment.to - segment.from >= (narrow ? 0.16 : 0.08)),
          {
            x: (segment: Segment) => (segment.from + segment.to) / 2,
            y: "row",
            dy: narrow ? 10 : 0,
            text: (segment: Segment) => percent(segment.to - segment.from),
            fill: (segment: Segment) => segment.look.ink,
            stroke: (segment: Segment) => segment.look.fill,
            strokeWidth: 4,
            fontWeight: 600,
          },
        ),
        ...(narrow
          ? [
              Plot.text(rows, {
                x: 0,
                y: (row: string) => row,
                dy: -17,
                text: (row: string) => clip(row, 42),
                textAnchor: "start",
                fontWeight: 600,
              }),
            ]
          : [Plot.axisY({ tickFormat: (row: string) => clip(row, 27), tickSize: 0, label: null })]),
      ],
    },
    format,
    name,
  );
}
