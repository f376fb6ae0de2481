import pc from "picocolors";
import type { Outcome } from "../model/outcome.ts";
import type { RunResult } from "../studies/result.ts";
import { OUTCOME_ORDER } from "./palette.ts";
import { plainText, wrapLines } from "./plain-table.ts";
import { goodWords, requirement } from "./verdict/fate.ts";
import {
  capital,
  clip,
  count,
  isNothing,
  NOTHING,
  OUTCOME_NAMES,
  percent,
  points,
  shareInterval,
  shareValue,
  tidyPercent,
} from "./words.ts";

export interface SummaryOptions {
  readonly color: boolean;
  /** Columns of the terminal. */
  readonly width: number;
}

type Colors = ReturnType<typeof pc.createColors>;

const HEADS: Readonly<Record<Outcome, string>> = {
  reversed: "wrong way",
  play: "no preload",
  light: "light",
  target: "in window",
  heavy: "heavy",
  bind: "bind",
};

/** The answer for a terminal: what happens to the batch, state by state, and what costs the yield. */
export function summaryText(result: RunResult, options: SummaryOptions): string {
  const width = Math.max(24, Math.min(options.width, 100));
  const colors = pc.createColors(options.color);
  const blocks = [
    wrapLines(result.title, width).map(colors.bold),
    wrapLines(result.verdict[0] ?? "", width),
    totals(result, width, colors),
    width >= 78 ? stateTable(result, width, colors) : stateLists(result, width, colors),
    causes(result, width, colors),
  ];
  return `${blocks
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n")}\n`;
}

function totals(result: RunResult, width: number, colors: Colors): string[] {
  const { overall, batch } = result;
  const several = result.states.length > 1;
  const kind = requirement(result);
  const word = { none: "", reached: "reached", "not reached": "not reached", "cannot tell": "cannot be told yet" }[
    kind
  ];
  const paint = kind === "reached" ? colors.green : kind === "not reached" ? colors.red : colors.yellow;
  const rows: [string, string, string, (text: string) => string][] = [
    [
      goodWords(result).replace(/^in the window in every state$/, "good in every state"),
      shareValue(overall.goodInEveryState),
      `95 %: ${shareInterval(overall.goodInEveryState)}`,
      colors.bold,
    ],
    ...(result.requiredYieldRatio === null
      ? []
      : ([["required", tidyPercent(result.requiredYieldRatio), word, paint]] as [
          string,
          string,
          string,
          (text: string) => string,
        ][])),
    [
      "fails at the bench",
      shareValue(overall.failsAtBench),
      `scrap, about ${count(batch.benchFailures.expected)} of ${count(batch.size)}`,
      String,
    ],
  ];
  if (several) {
    rows.push(
      [
        "fails in service",
        shareValue(overall.failsInService),
        `warranty, about ${count(batch.serviceFailures.expected)} of ${count(batch.size)}`,
        String,
      ],
      ["averaged over states", percent(overall.averagedOverStates.shareRatio), "not the yield of a unit", colors.dim],
    );
  }
  const first = Math.max(...rows.map(([label]) => label.length));
  const second = Math.max(...rows.map(([, value]) => value.length));
  if (first + second + 4 + 24 > width) {
    return rows.flatMap(([label, value, note, dye]) =>
      wrapLines(`${label}: ${value} (${note})`, width).map((line) => dye(line)),
    );
  }
  return rows.map(([label, value, note, dye]) =>
    dye(plainText(`${label.padEnd(first)}  ${value.padStart(second)}  ${note}`).slice(0, width)),
  );
}

function seenOutcomes(result: RunResult): Outcome[] {
  return OUTCOME_ORDER.filter(
    (outcome) => outcome === "target" || result.states.some((state) => !isNothing(state.outcomes[outcome])),
  );
}

function stateTable(result: RunResult, width: number, colors: Colors): string[] {
  const seen = seenOutcomes(result);
  const columns = seen.map((outcome) => Math.max(10, HEADS[outcome].length));
  const room = width - columns.reduce((sum, column) => sum + column + 1, 0);
  const labels = result.states.map((state) => clip(plainText(state.label), room));
  const first = Math.max(5, ...labels.map((label) => label.length));
  const line = (label: string, cells: readonly string[]) =>
    `${label.padEnd(first)}${cells.map((cell, index) => ` ${plainText(cell).padStart(columns[index] ?? 0)}`).join("")}`;
  return [
    colors.dim(
      line(
        "state",
        seen.map((outcome) => HEADS[outcome]),
      ),
    ),
    ...result.states.map((state, index) =>
      line(
        labels[index] ?? "",
        seen.map((outcome) => {
          const share = state.outcomes[outcome];
          if (!isNothing(share)) return percent(share.shareRatio);
          return Number.isFinite(share.highRatio) ? `<${percent(share.highRatio)}` : NOTHING;
        }),
      ),
    ),
  ];
}

function stateLists(result: RunResult, width: number, colors: Colors): string[] {
  return result.states.flatMap((state) => {
    const parts = seenOutcomes(result)
      .filter((outcome) => !isNothing(state.outcomes[outcome]))
      .map((outcome) => `${percent(state.outcomes[outcome].shareRatio)} ${OUTCOME_NAMES[outcome]}`);
    return [
      ...wrapLines(state.label, width).map(colors.bold),
      ...wrapLines(parts.join(", "), width - 2).map((line) => `  ${line}`),
    ];
  });
}

function causes(result: RunResult, width: number, colors: Colors): string[] {
  const rows = result.contributors.yieldGain.filter(({ gainRatio }) => gainRatio >= 0.0005).slice(0, 4);
  if (rows.length === 0) return [];
  return [
    ...wrapLines("what costs yield (gain were it at its median in every unit)", width).map(colors.dim),
    ...rows.flatMap((row) => {
      const gain = plainText(`+${points(row.gainRatio)}`);
      const mark = row.origin === "assumption" ? " (assumed)" : "";
      const label = plainText(capital(row.groupLabel.replace(/^the /, "")));
      if (width < 48) return wrapLines(`${gain}: ${label}${mark}`, width);
      return [`${gain.padStart(11)}  ${clip(label, width - 13 - mark.length)}${mark}`];
    }),
  ];
}
