import * as Plot from "@observablehq/plot";
import type { AuditResult } from "../../studies/audit/result.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { LOOKS, lineSwatch, OUTCOME_ORDER, swatch } from "../palette.ts";
import { clip, micrometres, OUTCOME_NAMES, percent, tick, tidyPercent } from "../words.ts";

type Finding = Omit<AuditResult, "verdict">;

/** Chance of being good over a change of a spacing. Null where a device sets the preload. */
export function changeFigure(result: Finding): Markup | null {
  const { change, decideRatio } = result;
  if (change === null) return null;
  const curve = change.curve.map(({ changeMm, goodRatio }) => ({ x: changeMm * 1000, y: goodRatio * 100 }));
  const low = Math.min(...curve.map(({ x }) => x), -5);
  const high = Math.max(...curve.map(({ x }) => x), 5);
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        height: format === "narrow" ? 240 : 280,
        marginLeft: 46,
        marginRight: 16,
        marginBottom: 42,
        x: {
          domain: [low, high],
          label: "change of the offset, µm",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 5 : 9,
          tickFormat: tick,
        },
        y: { domain: [0, 100], label: "chance of being good, %", labelArrow: "none", ticks: 5 },
        marks: [
          Plot.areaY(curve, { x: "x", y: "y", fill: "var(--band)" }),
          Plot.line(curve, { x: "x", y: "y", stroke: "var(--target)", strokeWidth: 2 }),
          Plot.ruleY([decideRatio * 100], { stroke: "var(--accent)", strokeDasharray: "6 3", strokeWidth: 1.5 }),
          Plot.ruleX([0], { stroke: "var(--ink)", strokeWidth: 1.5 }),
          Plot.dot([{ x: change.best.changeMm * 1000, y: change.best.goodRatio * 100 }], {
            x: "x",
            y: "y",
            r: 6,
            fill: "var(--target)",
            stroke: "var(--paper)",
          }),
          Plot.ruleY([0], { stroke: "var(--ink)" }),
        ],
      },
      format,
      name,
    );
  return figure({
    title: "What a shim would do",
    draw,
    sentence: `Unchanged, the chance of being good in every state is ${percent(change.now.goodRatio)}; the best change in steps of ${micrometres(change.stepMm)} is ${micrometres(change.best.changeMm)} with ${percent(change.best.goodRatio)}.`,
    caption:
      "Positive is more offset: a longer housing spacing or a shorter shaft spacing back to back, the reverse face to face. Every draw of this unit is asked whether the changed offset lies in its own window.",
    legend: [
      { sample: swatch({ fill: "var(--band)", ink: "", hatch: null }), words: "chance of being good" },
      { sample: lineSwatch("var(--accent)", "6 3"), words: `go from ${tidyPercent(decideRatio)}` },
      { sample: lineSwatch("var(--ink)", "none"), words: "as it is; the dot is the best shim" },
    ],
    table: {
      head: ["change of the offset", "chance of being good"],
      rows: change.curve
        .filter(({ changeMm }) => Math.abs(Math.round(changeMm * 1000) % 5) === 0)
        .map(({ changeMm, goodRatio }) => [micrometres(changeMm), percent(goodRatio)]),
    },
  });
}

/** Chances of every outcome in every state as bars. */
export function stateFigure(result: Finding): Markup {
  const seen = OUTCOME_ORDER.filter((outcome) =>
    result.states.some(({ outcomes }) => outcomes[outcome].shareRatio >= 5e-4),
  );
  const segments = result.states.flatMap(({ label, outcomes }) => {
    let from = 0;
    return seen.map((outcome) => {
      const x1 = from;
      from += outcomes[outcome].shareRatio * 100;
      return { label, outcome, x1, x2: from };
    });
  });
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        height: result.states.length * 44 + 48,
        marginLeft: format === "narrow" ? 110 : 190,
        marginRight: 20,
        marginBottom: 40,
        x: { domain: [0, 100], label: "chance, %", labelArrow: "none", labelAnchor: "center", ticks: 5 },
        y: {
          domain: result.states.map(({ label }) => label),
          label: null,
          tickSize: 0,
          tickFormat: (label: string) => clip(label, format === "narrow" ? 16 : 28),
          padding: 0.25,
        },
        marks: [
          Plot.barX(segments, {
            x1: "x1",
            x2: "x2",
            y: "label",
            fill: ({ outcome }: (typeof segments)[number]) => LOOKS[outcome].fill,
          }),
          ...seen.flatMap((outcome) => {
            const { hatch } = LOOKS[outcome];
            return hatch === null
              ? []
              : [
                  Plot.barX(
                    segments.filter((segment) => segment.outcome === outcome),
                    { x1: "x1", x2: "x2", y: "label", fill: hatch },
                  ),
                ];
          }),
        ],
      },
      format,
      name,
    );
  return figure({
    title: "What this unit is in each state",
    draw,
    sentence: result.states
      .map(({ label, outcomes }) => `${label}: ${percent(outcomes.target.shareRatio)} in the window`)
      .join("; ")
      .concat("."),
    caption: "Chances for this one unit, given its measurements; temperatures vary as the states say.",
    legend: seen.map((outcome) => ({ sample: swatch(LOOKS[outcome]), words: OUTCOME_NAMES[outcome] })),
    table: {
      head: ["state", ...seen.map((outcome) => OUTCOME_NAMES[outcome])],
      rows: result.states.map(({ label, outcomes }) => [
        label,
        ...seen.map((outcome) => percent(outcomes[outcome].shareRatio)),
      ]),
    },
  });
}
