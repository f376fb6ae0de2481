import { distributionWords } from "../../scenario/words.ts";
import type { FitResult } from "../../studies/fit/result.ts";
import { dataTable } from "../figures/figure.ts";
import { html, type Markup } from "../html.ts";
import { keyCells } from "../key-cells.ts";
import { page } from "../page.ts";
import { count, decimal, percent, significant } from "../words.ts";
import { runFigure, shapeFigure } from "./figures.ts";
import { FAMILY_NAMES, valueText, widthText } from "./words.ts";

/** The page of a study of measured parts. `read` are the readings, `values` the parts (the same without a gauge's spread). */
export function fitPage(result: FitResult, read: Float64Array, values: Float64Array): string {
  const { provenance, values: summary } = result;
  const { unit } = summary;
  return page({
    title: `Measured parts: ${provenance.column}`,
    description: `${provenance.file}, ${count(summary.count)} values`,
    maker: `${provenance.program} ${provenance.version} · measured parts`,
    verdict: result.verdict,
    body: [
      keyCells([
        { label: "Draw as", value: FAMILY_NAMES[result.choice], note: `${count(summary.count)} parts`, kind: "main" },
        {
          label: "Cpk",
          value: result.capability === null ? "no limits given" : decimal(result.capability.Cpk.valueRatio, 2),
          note:
            result.capability === null
              ? ""
              : `at least ${decimal(result.capability.CpkLowerBoundRatio, 2)} with 95 % confidence`,
          kind: "main",
        },
        {
          label: "Mean",
          value: valueText(summary.mean, unit),
          note: `95 %: ${valueText(result.meanInterval.low, unit)} to ${valueText(result.meanInterval.high, unit)}`,
        },
        {
          label: "Standard deviation",
          value: widthText(summary.sd, unit),
          note: `95 %: ${widthText(result.sdInterval.low, unit)} to ${widthText(result.sdInterval.high, unit)}`,
        },
        {
          label: "Steady",
          value: result.control === null ? "too few to tell" : result.control.signals.length === 0 ? "yes" : "no",
          note: "",
        },
        {
          label: "To paste into a scenario",
          value: html`<code>${result.paste.fitted ?? result.paste.empirical}</code>`,
          note: "",
          kind: "callout",
        },
      ]),
      html`<section class="figures"><h2>What was measured</h2>
${shapeFigure(result, values)}${runFigure(result, read)}</section>
`,
      candidateTable(result),
      capabilityTable(result),
      gaugeTable(result),
      skippedTable(result),
      methodSection(result),
    ],
    foot: `${provenance.file} · column ${provenance.column} · ${count(summary.count)} values · ${provenance.program} ${provenance.version}, ${provenance.platform} · table ${provenance.tableHash}`,
  }).text;
}

function candidateTable({ candidates, normality, mixture, values }: FitResult): Markup | null {
  if (candidates.length === 0) return null;
  return html`<section><h2>What fits</h2>
${dataTable(
  {
    head: ["distribution", "as drawn", "A²", "BIC", ""],
    rows: candidates.map(({ family, distribution, andersonDarlingRatio, bic, isChosen }) => [
      FAMILY_NAMES[family],
      distributionWords(distribution, values.unit),
      decimal(andersonDarlingRatio, 3),
      decimal(bic, 1),
      isChosen ? "chosen" : "",
    ]),
    numeric: [2, 3],
  },
  "Fitted distributions",
)}
<p>${normality === null ? "" : `Normal: Anderson–Darling A* = ${decimal(normality.adjustedRatio, 3)}, p = ${significant(normality.pRatio, 2)} (mean and sd estimated). `}${mixture === null ? "" : `Two normal populations against one: BIC ${decimal(mixture.twoPopulationsBic, 1)} against ${decimal(mixture.onePopulationBic, 1)}. `}A smaller A² and BIC fit better. The shape beyond the measured parts is the fit's, not the parts'.</p>
</section>
`;
}

function capabilityTable({ capability }: FitResult): Markup | null {
  if (capability === null) return null;
  const row = (
    name: string,
    { valueRatio, lowRatio, highRatio }: { valueRatio: number; lowRatio: number; highRatio: number },
  ) => [name, decimal(valueRatio, 3), `${decimal(lowRatio, 3)} to ${decimal(highRatio, 3)}`];
  const { outsideRatio } = capability;
  return html`<section><h2>Capability</h2>
${dataTable(
  {
    head: ["index", "value", "95 % interval"],
    rows: [
      row("Cp", capability.Cp),
      row("Cpk", capability.Cpk),
      ["Cpk, lower bound (95 %, one-sided, exact)", decimal(capability.CpkLowerBoundRatio, 3), ""],
      [
        "below the lower limit (normal process)",
        percent(outsideRatio.below),
        `${count(capability.counted.below)} measured`,
      ],
      [
        "above the upper limit (normal process)",
        percent(outsideRatio.above),
        `${count(capability.counted.above)} measured`,
      ],
    ],
  },
  "Capability",
)}</section>
`;
}

function gaugeTable({ gaugeStudy }: FitResult): Markup | null {
  if (gaugeStudy === null) return null;
  return html`<section><h2>Gauge study</h2>
${dataTable(
  {
    head: ["source", "sum of squares", "degrees of freedom", "mean square"],
    rows: gaugeStudy.rows.map(({ source, squares, degreesOfFreedom, meanSquare }) => [
      source,
      significant(squares, 5),
      count(degreesOfFreedom),
      significant(meanSquare, 5),
    ]),
  },
  "Analysis of variance of the gauge study",
)}
<p>The gauge makes ${percent(gaugeStudy.contributionRatio)} of the variance in the study and ${percent(gaugeStudy.studyRatio)} of its spread; it tells about ${count(Math.floor(gaugeStudy.distinctCategories))} classes of parts apart.</p>
</section>
`;
}

function skippedTable({ rows }: FitResult): Markup | null {
  if (rows.skipped.length === 0) return null;
  return html`<section><h2>Rows left out</h2>
${dataTable({ head: ["line", "why"], rows: rows.skipped.map(({ line, why }) => [count(line), why]), numeric: [0] }, "Rows left out")}</section>
`;
}

function methodSection({ provenance, tolerance }: FitResult): Markup {
  return html`<section><h2>Method</h2>
<p>The normal has the sample's mean and standard deviation; truncated normal and skewed are the likeliest on the given limits; the lognormal has the sample's mean, standard deviation and skewness. Another family replaces the normal when its BIC is better by 6. Anderson–Darling after Stephens (1986); Cp interval by chi-square, Cpk after Bissell (1990), its lower bound by the noncentral t; tolerance factor ${decimal(tolerance.factor, 4)} (ISO 16269-6); extremes after Wilks (1941); run rules of ISO 7870-2.</p>
<p>${provenance.program} ${provenance.version}, ${provenance.platform}.</p>
</section>
`;
}
