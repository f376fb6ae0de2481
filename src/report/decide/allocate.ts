import * as Plot from "@observablehq/plot";
import type { Finding } from "../../studies/decide/compare.ts";
import type { AllocatedMember, AllocateResult, Remedy } from "../../studies/decide/result.ts";
import { figure } from "../figures/figure.ts";
import { drawPlot, type Format } from "../figures/plot.ts";
import type { Markup } from "../html.ts";
import {
  count,
  decimal,
  interval,
  listing,
  micrometres,
  NOTHING,
  percent,
  significant,
  tidyPercent,
} from "../words.ts";
import { lengthWords } from "./centre.ts";
import type { DecisionView } from "./view.ts";
import { signedPoints, withInterval } from "./words.ts";

type Allocation = Finding<AllocateResult>;

function toleranceWords(mm: number): string {
  return `±${micrometres(mm)}`;
}

function money(amount: number, { currency, hasPrices }: Pick<AllocateResult, "currency" | "hasPrices">): string {
  if (!Number.isFinite(amount)) return NOTHING;
  return `${decimal(amount, hasPrices ? 2 : 2)}${currency === "" ? "" : ` ${currency}`}`;
}

export function allocateVerdict(result: Allocation): string[] {
  const { chosen } = result;
  if (chosen === null) return unreachable(result);
  const { members, targetRatio, current, member, check } = result;
  const set = members.map(
    ({ name, toMm, fromMm, step }) =>
      `${name} ${toleranceWords(toMm!)}${step === "" ? "" : ` (${step})`}${toMm === fromMm ? " as drawn" : ` instead of ${toleranceWords(fromMm)}`}`,
  );
  const isMoved = Math.abs(member.toMm - member.fromMm) > 1e-9;
  const lead = `For ${tidyPercent(targetRatio)} good in every state draw ${listing(set)}${isMoved ? `, with the ${member.name} at ${lengthWords(member.toMm, 0.001)} instead of ${lengthWords(member.fromMm, 0.001)}` : ""}: ${withInterval(chosen.good)}; as drawn it is ${percent(current.good.ratio)}.`;
  const saving = current.cost - chosen.cost;
  const price = result.hasPrices
    ? `These tolerances cost ${money(chosen.cost, result)} a unit${Number.isFinite(current.cost) ? `, ${money(Math.abs(saving), result)} ${saving >= 0 ? "less" : "more"} than those drawn (${money(current.cost, result)})` : ""}.`
    : `No prices were given: a price in proportion to 1/t is assumed, alike for all as drawn; by it they cost ${decimal((100 * chosen.cost) / current.cost, 0)} % of those drawn. Give toleranceCosts in the scenario for your own.`;
  return [
    lead,
    price + (result.isProven ? "" : " The search for the cheapest set was cut short: a cheaper one may exist."),
    nextWords(members, result),
    `The whole chain then varies by ±${micrometres(chosen.worstCaseMm)} at worst and ±${micrometres(chosen.rootSumSquareMm)} by root sum square (±${micrometres(current.worstCaseMm)} and ±${micrometres(current.rootSumSquareMm)} as drawn).`,
    check === null
      ? ""
      : `Drawn plainly with the recommended drawing, ${count(check.samples)} other units give ${withInterval(check)}.`,
  ].filter((paragraph) => paragraph !== "");
}

function nextWords(members: readonly AllocatedMember[], result: Allocation): string {
  const ranked = members
    .filter((member) => member.gainPerMoney !== null && member.gainPerMoney > 0)
    .sort((a, b) => b.gainPerMoney! - a.gainPerMoney!);
  if (ranked.length === 0) return "";
  const [first] = ranked;
  const unit = result.currency === "" ? "unit of cost" : result.currency;
  const alike = ranked.length > 1 && ranked.at(-1)!.gainPerMoney! > 0.8 * first.gainPerMoney!;
  const gain = `${signedPoints(first.gainPerMoney! * (result.hasPrices ? 1 : 0.1))} points a ${result.hasPrices ? unit : "tenth of a price as drawn"}`;
  return alike
    ? `More money would buy about as much at each of them (${gain}).`
    : `The next to tighten would be the ${first.name}: ${gain}.`;
}

function unreachable(result: Allocation): string[] {
  const { targetRatio, bestReachable, current, remedies } = result;
  const lead = `No tolerances of the spacings reach ${tidyPercent(targetRatio)}: even with hardly any, and the best nominal, ${withInterval(bestReachable.good)} of the units are good in every state (${percent(current.good.ratio)} as drawn). The rest is lost to bearings, fits and heat.`;
  const words = ({ name, good, tightest }: Remedy) =>
    `${name}: ${percent(good.ratio)}${tightest === null ? "" : `, ${percent(tightest.ratio)} with tight spacings`}`;
  const enough = remedies.filter(({ reaches }) => reaches);
  const others = remedies.filter(({ reaches }) => !reaches);
  return [
    lead,
    enough.length > 0 ? `Enough would be ${enough.slice(0, 4).map(words).join("; ")}.` : "",
    others.length > 0
      ? `${enough.length > 0 ? "Not enough" : "Not enough either, but of help"}: ${others.slice(0, 5).map(words).join("; ")}.`
      : "",
  ].filter((paragraph) => paragraph !== "");
}

export function allocateView(result: AllocateResult): DecisionView {
  const { chosen, current, members, targetRatio } = result;
  return {
    heading: `tolerances for ${tidyPercent(targetRatio)} good in every state`,
    cells: [
      {
        label: chosen === null ? "Best that tolerances can give" : "Good in every state",
        value: percent(chosen?.good.ratio ?? result.bestReachable.good.ratio),
        note: `95 %: ${interval(chosen?.good ?? result.bestReachable.good)}`,
        kind: "main",
      },
      {
        label: "As drawn",
        value: percent(current.good.ratio),
        note: `95 %: ${interval(current.good)}`,
        kind: "main",
      },
      ...(chosen === null
        ? []
        : [
            ...members.map(({ name, toMm, fromMm, step }) => ({
              label: name,
              value: `${toleranceWords(toMm!)}${step === "" ? "" : ` ${step}`}`,
              note: `${toleranceWords(fromMm)} as drawn`,
            })),
            {
              label: "Price a unit",
              value: money(chosen.cost, result),
              note: `${money(current.cost, result)} as drawn`,
            },
          ]),
    ],
    figures: result.front.length > 1 ? [frontFigure(result)] : [],
    tables: [
      {
        title: "Tolerances",
        isMain: true,
        table: {
          head: ["dimension", "as drawn", "recommended", "", "price as drawn", "price", "yield for more money"],
          rows: members.map((member) => [
            member.name,
            toleranceWords(member.fromMm),
            member.toMm === null ? NOTHING : toleranceWords(member.toMm),
            member.step,
            money(member.priceFrom, result),
            member.priceTo === null ? NOTHING : money(member.priceTo, result),
            member.gainPerMoney === null ? NOTHING : `${signedPoints(member.gainPerMoney)} points`,
          ]),
        },
        remark:
          result.fixed.length === 0
            ? undefined
            : `Without a price, and so as drawn: ${listing(result.fixed.map(({ name, toleranceMm }) => `${name} ${toleranceWords(toleranceMm)}`))}.`,
      },
      ...(result.remedies.length === 0
        ? []
        : [
            {
              title: "What else would help",
              isMain: true,
              table: {
                head: ["change", "tolerances as drawn", "hardly any tolerance", "reaches the target"],
                rows: result.remedies.map(({ name, good, tightest, reaches }) => [
                  name,
                  percent(good.ratio),
                  tightest === null ? NOTHING : percent(tightest.ratio),
                  reaches ? "yes" : "no",
                ]),
              },
              remark: "Each with the nominal offset that suits it best.",
            },
          ]),
      {
        title: "Price of a yield",
        table: {
          head: ["yield", "95 %", "price a unit", "spread of the chain", ...members.map(({ name }) => name)],
          rows: result.front.map(({ good, cost, spreadRatio, tolerancesMm }) => [
            percent(good.ratio),
            interval(good),
            money(cost, result),
            `× ${decimal(spreadRatio, 2)}`,
            ...tolerancesMm.map(toleranceWords),
          ]),
          numeric: [0, 1, 2, 3, ...members.map((_, place) => place + 4)],
        },
        remark: "Cheapest sets, not rounded to the drawing.",
      },
    ],
    method: [
      "The widest spread of the chain whose yield reaches the target (lower end of its interval) is read from the acceptance windows, the nominal moved along where that is allowed; Lagrange's conditions share it out over the dimensions at least cost, and branch and bound takes it to processes, grades (ISO 286-1) or the drawing's step. The set is then judged by the exact law of its own offset, and tightened until that reaches the target; the last word has plain sampling of other units.",
    ],
  };
}

function frontFigure(result: AllocateResult): Markup {
  const { front, current, chosen, targetRatio, currency, hasPrices } = result;
  const line = front.map(({ cost, good }) => ({ x: cost, y: 100 * good.ratio }));
  const marks = [
    { x: current.cost, y: 100 * current.good.ratio, words: "as drawn" },
    ...(chosen === null ? [] : [{ x: chosen.cost, y: 100 * chosen.good.ratio, words: "recommended" }]),
  ].filter(({ x }) => Number.isFinite(x));
  const least = Math.min(100 * targetRatio, ...line.map(({ y }) => y), ...marks.map(({ y }) => y));
  const floor = Math.max(0, Math.floor(least - 0.4 * (100 - least)));
  const draw = (format: Format, name: string) =>
    drawPlot(
      {
        height: format === "narrow" ? 240 : 280,
        marginLeft: 54,
        marginRight: 30,
        marginBottom: 40,
        x: {
          type: "log",
          label: hasPrices
            ? `price of the tolerances a unit${currency === "" ? "" : `, ${currency}`}`
            : "price of the tolerances, 1 a dimension as drawn",
          labelArrow: "none",
          labelAnchor: "center",
          ticks: format === "narrow" ? 3 : 6,
          tickFormat: (value: number) => significant(value, 2),
        },
        y: { domain: [floor, 100], ticks: 5, tickFormat: (value: number) => `${value} %`, label: null, grid: true },
        marks: [
          Plot.ruleY([100 * targetRatio], { stroke: "var(--ink)", strokeDasharray: "1 3" }),
          Plot.line(line, { x: "x", y: "y", stroke: "var(--target)", strokeWidth: 2.2 }),
          Plot.dot(line, { x: "x", y: "y", fill: "var(--target)", r: 2.5 }),
          Plot.dot(marks, {
            x: "x",
            y: "y",
            r: 5,
            symbol: "diamond",
            fill: "var(--bind)",
            stroke: "var(--paper)",
          }),
          Plot.text(marks, {
            x: "x",
            y: "y",
            text: "words",
            dy: 14,
            fontWeight: 600,
            fill: "var(--ink)",
            stroke: "var(--paper)",
            strokeWidth: 4,
          }),
        ],
      },
      format,
      name,
    );
  return figure({
    title: "What a yield costs",
    draw,
    sentence: `From ${percent(Math.min(...front.map(({ good }) => good.ratio)))} to ${percent(Math.max(...front.map(({ good }) => good.ratio)))} of good units, the cheapest tolerances for each; the dotted line is the target.`,
    caption: `${count(front.length)} cheapest sets, not rounded to the drawing.`,
  });
}
