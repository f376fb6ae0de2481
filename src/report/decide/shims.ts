import * as Plot from "@observablehq/plot";
import type { Finding } from "../../studies/decide/compare.ts";
import type { ShimRow, ShimsResult } from "../../studies/decide/result.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { count, decimal, interval, listing, micrometres, percent, tidyPercent } from "../words.ts";
import { lengthWords } from "./centre.ts";
import type { DecisionView } from "./view.ts";
import { reaches, signedMicrometres, withInterval } from "./words.ts";

type Shims = Finding<ShimsResult>;

/** Shares below this are kept out of sentences. */
const RARE_RATIO = 0.001;

const MEASURES: Readonly<Record<ShimRow["measure"], string>> = {
  dimensions: "the measured dimensions",
  play: "the measured play",
};

export function shimsVerdict(result: Shims): string[] {
  const { chosen, before, check, stock, rows, error, requiredYieldRatio, member, shimBatchSize, byError } = result;
  const usual = stock.filter(({ share }) => share.ratio >= RARE_RATIO);
  const lead = `Choose the shim of each unit by ${MEASURES[chosen.measure]}, from a stock in steps of ${micrometres(chosen.stepMm)}, aiming at ${chosen.measure === "play" ? `${micrometres(chosen.aimMm)} past the onset of the preload` : `a machined offset of ${micrometres(chosen.aimMm)}`}: ${withInterval(chosen.good)} of the units are then good in every state, ${percent(before.ratio)} without shims.`;
  const kept = stock.filter((shim) => shim.stock > 0);
  const total = kept.reduce((sum, shim) => sum + shim.stock, 0);
  const first = usual[0] ?? stock[0];
  const last = usual.at(-1) ?? stock.at(-1)!;
  const plan = `For ${count(shimBatchSize)} units keep ${count(total)} of ${count(kept.length)} thicknesses, ${lengthWords(first.thicknessMm, 0.001)} to ${lengthWords(last.thicknessMm, 0.001)} of the ${member.name} for all but about ${percent(1 - usual.reduce((sum, { share }) => sum + share.ratio, 0))} of the units: with a chance of ${percent(result.coverRatio)} none runs out.`;
  const finer = rows.filter((row) => row.measure === chosen.measure && row.stepMm < chosen.stepMm);
  const coarser = rows.filter((row) => row.measure === chosen.measure && row.stepMm > chosen.stepMm);
  const steps = [
    finer.length === 0
      ? ""
      : `a finer step of ${micrometres(finer.at(-1)!.stepMm)} gives ${percent(finer.at(-1)!.good.ratio)}`,
    coarser.length === 0
      ? ""
      : `a coarser ${finer.length === 0 ? "step" : "one"} of ${micrometres(coarser[0].stepMm)} ${finer.length === 0 ? "gives " : ""}${percent(coarser[0].good.ratio)}`,
  ].filter((part) => part !== "");
  const other = rows
    .filter((row) => row.measure !== chosen.measure)
    .reduce<ShimRow | null>((a, b) => (a === null || b.good.ratio > a.good.ratio ? b : a), null);
  const negative = stock.filter(({ thicknessMm, share }) => thicknessMm <= 0 && share.ratio >= RARE_RATIO);
  return [
    lead,
    plan,
    negative.length > 0
      ? `Some units would need a ${member.name} of less than nothing: make the spacings so that the usual shim is thicker by ${micrometres(-Math.min(...negative.map(({ thicknessMm }) => thicknessMm)) + chosen.stepMm)} or more.`
      : "",
    [
      steps.length === 0 ? "" : `${listing(steps)}`.replace(/^./, (letter) => letter.toUpperCase()),
      other === null ? "" : `by ${MEASURES[other.measure]} it would be at best ${percent(other.good.ratio)}`,
    ]
      .filter((part) => part !== "")
      .join("; ")
      .replace(/$/, "."),
    `The measurement (${error.words}${error.isAssumed ? ", assumed" : ""}) costs ${percent(Math.max(0, byError[0].good.ratio - byError[1].good.ratio))}; with twice the error the yield is ${percent(byError[2].good.ratio)}. What is left between aim and result has a standard deviation of ${micrometres(chosen.residualSdMm)}.`,
    requiredYieldRatio === null
      ? ""
      : `Required are ${tidyPercent(requiredYieldRatio)}: ${{ yes: "reached", no: "not reached by shims alone", "cannot tell": "cannot be told yet" }[reaches(chosen.good, requiredYieldRatio)]}.`,
    `Through the whole model, ${count(check.samples)} other units give ${withInterval(check)}.`,
  ].filter((paragraph) => paragraph !== "" && paragraph !== ".");
}

export function shimsView(result: ShimsResult): DecisionView {
  const { chosen, before, stock, rows, member, shimBatchSize, serviceRatio } = result;
  const shown = stock.filter(({ share, stock: kept }) => kept > 0 || share.ratio >= 1e-4);
  return {
    heading: `shim plan for ${count(shimBatchSize)} units`,
    cells: [
      {
        label: "With shims",
        value: percent(chosen.good.ratio),
        note: `95 %: ${interval(chosen.good)}`,
        kind: "main",
      },
      { label: "As machined", value: percent(before.ratio), note: `95 %: ${interval(before)}`, kind: "main" },
      { label: "Step", value: micrometres(chosen.stepMm), note: `chosen by ${MEASURES[chosen.measure]}` },
      {
        label: "Thicknesses",
        value: count(shown.length),
        note: `${count(shown.reduce((sum, shim) => sum + shim.stock, 0))} shims for ${count(shimBatchSize)} units`,
      },
      { label: "None runs out", value: percent(result.coverRatio), note: `asked for: ${tidyPercent(serviceRatio)}` },
    ],
    figures: [stockFigure(result)],
    tables: [
      {
        title: "Stock for the batch",
        isMain: true,
        table: {
          head: [member.name, "changes the offset by", "share of units", "95 %", "expected", "keep"],
          rows: shown.map(({ thicknessMm, correctionMm, share, expected, stock: kept }) => [
            lengthWords(thicknessMm, 0.001),
            correctionMm === 0 ? "0" : signedMicrometres(correctionMm),
            percent(share.ratio),
            interval(share),
            decimal(expected, 1),
            count(kept),
          ]),
        },
        remark: "Thicknesses that hardly any unit takes are left out; the joint chance counts every one.",
      },
      {
        title: "Steps and ways of measuring",
        isMain: true,
        table: {
          head: ["by", "step", "good", "95 %", "left (sd)", "thicknesses", "range of corrections"],
          rows: rows.map((row) => [
            row.measure,
            micrometres(row.stepMm),
            percent(row.good.ratio),
            interval(row.good),
            micrometres(row.residualSdMm),
            count(row.thicknesses),
            `${signedMicrometres(row.lowMm)} to ${signedMicrometres(row.highMm)}`,
          ]),
        },
      },
    ],
    method: [
      "Every drawn unit, as machined, has its acceptance window and its onset on the bench. A shim moves it by whole steps, chosen from the measurement with its drawn error; a unit is good when the moved offset lies in its window. The aim is the one that leaves most units good. The stock is the smallest equal quantile of each thickness's demand with which the joint chance of a multinomial demand (Levin, 1981) is reached; the easier measurement and the coarser step are taken where they cost less than 0.3 points.",
    ],
  };
}

function stockFigure(result: ShimsResult): Markup {
  const { stock, member, shimBatchSize } = result;
  const shown = stock.filter(({ stock: kept }) => kept > 0);
  const bars = shown.map(({ thicknessMm, expected, stock: kept }) => ({
    key: thicknessMm.toFixed(4),
    expected,
    kept,
  }));
  const draw = (format: Format, name: string) => {
    const step = Math.ceil(bars.length / (format === "narrow" ? 4 : 9));
    return drawPlot(
      {
        height: format === "narrow" ? 230 : 260,
        marginLeft: 46,
        marginRight: 12,
        marginBottom: 42,
        x: {
          domain: bars.map(({ key }) => key),
          tickFormat: (key: string, index: number) => (index % step === 0 ? Number(key).toFixed(3) : ""),
          tickSize: 0,
          label: `thickness of the ${member.name}, mm`,
          labelArrow: "none",
          labelAnchor: "center",
        },
        y: { label: "shims", labelArrow: "none", ticks: 5, grid: true },
        marks: [
          Plot.barY(bars, { x: "key", y: "kept", fill: "var(--band)", stroke: "var(--bar-edge)" }),
          Plot.barY(bars, { x: "key", y: "expected", fill: "var(--bar-edge)", insetLeft: 4, insetRight: 4 }),
          Plot.ruleY([0], { stroke: "var(--ink)" }),
        ],
      },
      format,
      name,
    );
  };
  return figure({
    title: `Shims for ${count(shimBatchSize)} units`,
    draw,
    sentence: `${count(shown.length)} thicknesses; narrow dark bars are what is expected to be used, wide pale ones what to keep.`,
    caption: `All thicknesses with a stock are drawn.`,
  });
}
