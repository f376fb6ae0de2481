import type { BatchStudyResult, CountDistribution } from "../../studies/batch/result.ts";
import { dataTable } from "../figures/figure.ts";
import { footOf } from "../foot.ts";
import { html, type Markup } from "../html.ts";
import { keyCells } from "../key-cells.ts";
import { page } from "../page.ts";
import { cautions } from "../sections/method.ts";
import { provenanceTable } from "../sections/provenance.ts";
import { count, decimal, NOTHING, percent, shareInterval, shareText, tidyPercent } from "../words.ts";
import { countFigure, samplingFigure } from "./figures.ts";
import { GAUGE_NAMES, gaugeText, moneyText, quantileOf } from "./words.ts";

/** The page of a study of a batch. */
export function batchPage(result: BatchStudyResult): string {
  const { provenance, size, reachesYield, requiredYieldRatio, costs } = result;
  const range = (distribution: CountDistribution) =>
    `90 %: ${count(quantileOf(distribution, 0.05))} to ${count(quantileOf(distribution, 0.95))}`;
  return page({
    title: result.title,
    description: `What a batch of ${count(size)} may bring`,
    maker: `${provenance.program} ${provenance.version} · batch of ${count(size)}`,
    verdict: result.verdict,
    body: [
      keyCells([
        {
          label: "Good in every state",
          value: `about ${count(result.good.expected)} of ${count(size)}`,
          note: range(result.good),
          kind: "main",
        },
        {
          label: "Batches that reach the required yield",
          value: reachesYield === null ? "no yield required" : shareText(reachesYield),
          note:
            reachesYield === null || requiredYieldRatio === null
              ? ""
              : `${tidyPercent(requiredYieldRatio)} required; 95 %: ${shareInterval(reachesYield)}`,
          kind: "main",
        },
        { label: "Fail at the bench", value: count(result.benchFailures.expected), note: range(result.benchFailures) },
        {
          label: "Fail in service",
          value: count(result.serviceFailures.expected),
          note: range(result.serviceFailures),
        },
        {
          label: "Fail under warranty",
          value: count(result.warrantyFailures.expected),
          note: range(result.warrantyFailures),
        },
        ...(costs === null
          ? []
          : [
              {
                label: "Failures cost a batch",
                value: moneyText(costs.loss.expected, costs),
                note: `${moneyText(costs.lossPerUnit, costs)} a unit`,
              },
            ]),
      ]),
      html`<section class="figures"><h2>From batch to batch</h2>
${countFigure("Good units in a batch", result.good, result, true)}${countFigure("Failures at the bench in a batch", result.benchFailures, result, false)}${result.serviceFailures.expected > 0 ? countFigure("Failures in service in a batch", result.serviceFailures, result, false) : null}${samplingFigure(result)}</section>
`,
      countTable(result),
      costTable(result),
      samplingTable(result),
      checkTable(result),
      methodSection(result),
      cautions(),
    ],
    foot: footOf(provenance, `${count(result.batches)} batches`),
  }).text;
}

function countTable(result: BatchStudyResult): Markup {
  const row = (label: string, distribution: CountDistribution) => [
    label,
    decimal(distribution.expected, 1),
    ...distribution.quantiles.map(({ count: k }) => count(k)),
    decimal(distribution.betweenSd, 1),
    decimal(distribution.withinSd, 1),
    decimal(distribution.fit.correlationRatio, 4),
  ];
  return html`<section><h2>Counts in a batch</h2>
${dataTable(
  {
    head: [
      "units",
      "expected",
      ...result.good.quantiles.map(({ probabilityRatio }) => `${decimal(probabilityRatio * 100, 0)} %`),
      "sd between batches",
      "sd within",
      "correlation",
    ],
    rows: [
      row("Good in every state", result.good),
      row("Fail at the bench", result.benchFailures),
      row("Fail in service", result.serviceFailures),
      row("Fail under warranty", result.warrantyFailures),
    ],
  },
  "Counts in a batch",
)}</section>
`;
}

function costTable({ costs }: BatchStudyResult): Markup | null {
  if (costs === null) return null;
  const rows = [
    ["rework", costs.rework],
    ["scrap", costs.scrap],
    ["warranty", costs.warranty],
    ["together", costs.loss],
  ] as const;
  return html`<section><h2>What failures cost</h2>
${dataTable(
  {
    head: [
      "a batch",
      "expected",
      ...costs.loss.quantiles.map(({ probabilityRatio }) => `${decimal(probabilityRatio * 100, 0)} %`),
    ],
    rows: rows.map(([label, { expected, quantiles }]) => [
      label,
      moneyText(expected, costs),
      ...quantiles.map(({ amount }) => moneyText(amount, costs)),
    ]),
  },
  "What failures cost",
)}
<p>A good unit comes to ${moneyText(costs.perGoodUnit, costs)}, its share of all failures included.</p>
</section>
`;
}

function samplingTable({ sampling }: BatchStudyResult): Markup | null {
  if (sampling.length === 0) return null;
  return html`<section><h2>Acceptance sampling at the bench</h2>
${dataTable(
  {
    head: [
      "plan",
      "batches accepted",
      "accepts 95 % at",
      "accepts 10 % at",
      "failing in accepted batches",
      "failing in all",
      "bad accepted",
      "good rejected",
    ],
    rows: sampling.map((plan) => [
      `${count(plan.sample)} units, ${plan.accept === 0 ? "none" : `up to ${count(plan.accept)}`} failing${plan.isUsual ? " (usual sample)" : ""}`,
      percent(plan.acceptedRatio),
      percent(plan.producerPointRatio),
      percent(plan.consumerPointRatio),
      percent(plan.acceptedFailingRatio),
      percent(plan.allFailingRatio),
      plan.badAcceptedRatio === null ? NOTHING : percent(plan.badAcceptedRatio),
      plan.goodRejectedRatio === null ? NOTHING : percent(plan.goodRejectedRatio),
    ]),
  },
  "Sampling plans",
)}
<p>“Bad” is a batch of which more fail at the bench than the required yield allows. Failures in service cannot be found by sampling at the bench.</p>
</section>
`;
}

function checkTable({ check }: BatchStudyResult): Markup | null {
  if (check === null) return null;
  return html`<section><h2>A check of every unit: ${GAUGE_NAMES[check.settings.gauge]}</h2>
${dataTable(
  {
    head: [
      "guard band",
      "accepted",
      "escapes",
      "fail later in service",
      "rejected, good in every state",
      "rejected, good at the bench",
    ],
    rows: check.guards.map((risk) => [
      risk.guard === 0 ? "none, limits as given" : gaugeText(risk.guard, check),
      percent(risk.acceptedRatio),
      percent(risk.escapesRatio),
      percent(risk.laterRatio),
      percent(risk.falseRejectsRatio),
      percent(risk.rejectsAtBenchRatio),
    ]),
    numeric: [1, 2, 3, 4, 5],
  },
  "Bench check",
)}
<p>Shares of all units. A guard band draws both limits inwards by so much; a negative one draws them outwards.</p>
</section>
`;
}

function methodSection({ batches, unitsDrawn, isShared, provenance, size }: BatchStudyResult): Markup {
  return html`<section><h2>Method</h2>
<p>${count(batches)} batches of ${count(unitsDrawn)} units were drawn${unitsDrawn < size ? `, counts scaled to ${count(size)}` : ""}, each with what its units share drawn once. ${isShared ? "Quantiles and chances are counts over those batches; the correlation is that of a beta-binomial with the same mean and variance." : "Nothing is shared: quantiles are those of the beta-binomial predictive distribution over all units drawn (Jeffreys’ prior)."} Sampling: hypergeometric within a batch, without error of the gauge (ISO 2859-1 for the usual sample). The check integrates the gauge’s error over every unit drawn (JCGM 106:2012, 9.5). Under warranty a unit fails when it sees a state that it cannot stand: with a share q of units a year seeing it, 1 − (1 − q)^years of them do.</p>
${provenanceTable(provenance, [
  ["batches", count(batches)],
  ["units drawn of each", count(unitsDrawn)],
])}
<p>The same scenario and seed give the same figures.</p>
</section>
`;
}
