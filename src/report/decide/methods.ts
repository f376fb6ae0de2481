import * as Plot from "@observablehq/plot";
import type { Finding } from "../../studies/decide/compare.ts";
import type { MethodsResult } from "../../studies/decide/result.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import { LOOKS, swatch } from "../palette.ts";
import { count, decimal, interval, listing, NOTHING, percent, significant, tidyPercent } from "../words.ts";
import { namedRows } from "./named-rows.ts";
import type { DecisionView } from "./view.ts";
import { differenceCell, differenceWords, reaches, signOf, withInterval } from "./words.ts";

type Methods = Finding<MethodsResult>;

function money(amount: number, currency: string): string {
  return `${decimal(amount, 2)}${currency === "" ? "" : ` ${currency}`}`;
}

export function methodsVerdict(result: Methods): string[] {
  const { methods, lead, requiredYieldRatio, batchSize, currency } = result;
  const find = (name: string) => methods.find((method) => method.name === name)!;
  const best = find(lead.best);
  const [base] = methods;
  const ahead =
    signOf(lead.difference) > 0
      ? `ahead of ${lead.second} by ${differenceWords(lead.difference)}`
      : `not to be told apart from ${lead.second} (${differenceWords(lead.difference)})`;
  const first =
    best === base
      ? `Nothing beats the spacings as machined: ${withInterval(base.shares.good)} good in every state.`
      : `Most units are good in every state with “${best.name}”: ${withInterval(best.shares.good)}, ${differenceWords(best.difference!)} against as machined (${percent(base.shares.good.ratio)}); it is ${ahead}.`;
  const reaching =
    requiredYieldRatio === null
      ? []
      : methods.filter(({ shares }) => reaches(shares.good, requiredYieldRatio) === "yes").map(({ name }) => name);
  const required =
    requiredYieldRatio === null
      ? ""
      : reaching.length === 0
        ? `None surely reaches the required ${tidyPercent(requiredYieldRatio)}.`
        : reaching.length === methods.length
          ? `All of them reach the required ${tidyPercent(requiredYieldRatio)}.`
          : `The required ${tidyPercent(requiredYieldRatio)} can be had by ${listing(reaching.map((name) => `“${name}”`))}.`;
  const priced = methods.filter(({ costPerGoodUnit }) => costPerGoodUnit !== null);
  const cheapest =
    priced.length === 0 ? null : priced.reduce((a, b) => (b.costPerGoodUnit! < a.costPerGoodUnit! ? b : a));
  const cost =
    cheapest === null
      ? 'Without prices the methods are compared by their units alone: give costs in the scenario and --price "spring=2.40".'
      : `Cheapest for a good unit is “${cheapest.name}”: ${money(cheapest.costPerGoodUnit!, currency)} for the method and its failures, ${money(base.costPerGoodUnit!, currency)} as machined.`;
  return [
    first,
    `Of ${count(batchSize)} units, ${count(batchSize * best.shares.bench.ratio)} are then bad at the bench (${count(batchSize * base.shares.bench.ratio)} as machined) and ${count(batchSize * best.shares.service.ratio)} fail in service (${count(batchSize * base.shares.service.ratio)}).`,
    required,
    cost,
    "Springs, adjusters and shims here are stand-ins of usual quality (see the table of how each was set): write your own into the scenario and compare.",
  ].filter((paragraph) => paragraph !== "");
}

export function methodsView(result: MethodsResult): DecisionView {
  const { methods, lead, currency } = result;
  const best = methods.find(({ name }) => name === lead.best)!;
  const [base] = methods;
  const hasCost = methods.some(({ costPerGoodUnit }) => costPerGoodUnit !== null);
  const measured = methods.filter(({ extended }) => extended !== null);
  return {
    heading: `${count(methods.length)} ways of setting the preload on the same units`,
    cells: [
      {
        label: `Most good units: ${best.name}`,
        value: percent(best.shares.good.ratio),
        note: `95 %: ${interval(best.shares.good)}`,
        kind: "main",
      },
      {
        label: "As machined",
        value: percent(base.shares.good.ratio),
        note: `95 %: ${interval(base.shares.good)}`,
        kind: "main",
      },
      { label: "Lead", value: differenceWords(lead.difference), note: `over ${lead.second}` },
    ],
    figures: [methodsFigure(result)],
    tables: [
      {
        title: "Methods",
        isMain: true,
        table: {
          head: [
            "method",
            "good",
            "95 %",
            "difference, points",
            "bench",
            "service",
            ...(hasCost ? [`${currency === "" ? "cost" : currency} a good unit`] : []),
          ],
          rows: methods.map(({ name, shares, difference, costPerGoodUnit }) => [
            name,
            percent(shares.good.ratio),
            interval(shares.good),
            difference === null ? "" : differenceCell(difference),
            percent(shares.bench.ratio),
            percent(shares.service.ratio),
            ...(hasCost ? [costPerGoodUnit === null ? NOTHING : decimal(costPerGoodUnit, 2)] : []),
          ]),
        },
        remark: "Differences are against as machined, on the same units.",
      },
      ...(measured.length === 0
        ? []
        : [
            {
              title: `Stiffness and life in state ${measured[0].extended!.state}`,
              isMain: true,
              table: {
                head: ["method", "axial stiffness, N/µm: median", "5 %", "basic life, h: median", "5 %"],
                rows: measured.map(({ name, extended }) => [
                  name,
                  significant(extended!.axialStiffnessNPerMm.median / 1000),
                  significant(extended!.axialStiffnessNPerMm.low / 1000),
                  significant(extended!.basicLifeH.median),
                  significant(extended!.basicLifeH.low),
                ]),
              },
              remark: `Over the first ${count(measured[0].extended!.samples)} units.`,
            },
          ]),
      {
        title: "How each was set",
        table: { head: ["method", "how"], rows: methods.map(({ name, how }) => [name, how]), numeric: [] },
      },
    ],
    method: [
      "As machined, the best nominal and sorted bearings are read from each unit's acceptance window; shims, adjuster and spring go through the whole model. Sorting takes both bearings of a unit from one of k equally large groups by free clearance and gives every group the spacing that suits it best. Aims and spacings are those with the most good units.",
    ],
  };
}

function methodsFigure(result: MethodsResult): Markup {
  const rows = result.methods.flatMap(({ name, shares }, place) => {
    const key = String(place);
    const { good, bench, service } = shares;
    return [
      { key, name, kind: "target" as const, from: 0, to: good.ratio },
      { key, name, kind: "service" as const, from: good.ratio, to: good.ratio + service.ratio },
      {
        key,
        name,
        kind: "scrap" as const,
        from: good.ratio + service.ratio,
        to: good.ratio + service.ratio + bench.ratio,
      },
    ];
  });
  const names = result.methods.map((method) => method.name);
  const draw = (format: Format, name: string) => {
    const marks = (["target", "service", "scrap"] as const).flatMap((kind) => {
      const bars = rows.filter((row) => row.kind === kind);
      const shape = {
        x1: (row: (typeof bars)[number]) => 100 * row.from,
        x2: (row: (typeof bars)[number]) => 100 * row.to,
        y: "key",
        insetTop: 3,
        insetBottom: 3,
      };
      const look = LOOKS[kind];
      return [
        Plot.barX(bars, { ...shape, fill: look.fill }),
        ...(look.hatch === null ? [] : [Plot.barX(bars, { ...shape, fill: look.hatch })]),
      ];
    });
    return drawPlot(
      {
        ...namedRows(names, format, { narrow: 15, wide: 32 }, 28),
        x: {
          domain: [0, 100],
          label: "per cent of the units",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 3 : 6,
        },
        marks,
      },
      format,
      name,
    );
  };
  return figure({
    title: "What becomes of the units",
    draw,
    sentence: `${listing(result.methods.slice(0, 12).map(({ name, shares }) => `${name} ${percent(shares.good.ratio)} good`))}.`,
    caption: `${count(result.basis.samples)} units, the same for every method.`,
    legend: [
      { sample: swatch(LOOKS.target), words: "good in every state" },
      { sample: swatch(LOOKS.service), words: "passes at the bench, fails in service" },
      { sample: swatch(LOOKS.scrap), words: "fails at the bench" },
    ],
  });
}
